"""The envelopes of the API's writes, and how what is wrong with them is told."""

from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from calc.job import check_job
from calc.problems import InputError, Problem, shown

# 16 random bytes in base64url without padding.
KEY = r"\A[A-Za-z0-9_-]{22}\Z"

_WANTED = {
    "job": "Send the job document under job.",
    "key": "Send 22 characters of A-Z, a-z, 0-9, _ and -, or leave it out.",
    "base": "Send the revision that this replaces, a whole number of 1 or more.",
    "wall": "Send the wall's number in the job, or its name.",
    "paper": "Send A4 or Letter, or leave it out.",
    "values": "Send an object of the calculator's fields.",
}


class JobField(fields.Field[Any]):
    """A job document in which calc.job finds nothing wrong, complete or not."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        wrong = check_job(value)
        if wrong:
            raise ValidationError(wrong)
        return value


def _is_wall(value: Any) -> None:
    """A number or a name; which of them there are, the plan knows."""
    if isinstance(value, bool) or not isinstance(value, (int, str)):
        raise ValidationError("no wall")


class Envelope(Schema):
    """What every write is wrapped in; a field it does not know is an error."""

    class Meta:
        unknown = RAISE

    def read(self, given: Any) -> dict[str, Any]:
        """The envelope's values. Raises InputError naming every field that is wrong."""
        if not isinstance(given, dict):
            said = f"The request is {shown(given)}, not an object."
            raise InputError([Problem("", shown(given), said, "Send an object.")])
        try:
            return dict(self.load(given))
        except ValidationError as e:
            raise InputError(self._problems(e.messages_dict, given)) from e

    def _problems(self, wrong: dict[str, Any], given: dict[str, Any]) -> list[Problem]:
        out: list[Problem] = []
        for name in sorted(wrong):
            found = [p for p in wrong[name] if isinstance(p, Problem)]
            if found:
                out.extend(found)
            elif name not in self.fields:
                known = f"Leave it out; known here: {', '.join(self.fields)}."
                said = f'The request has no field "{shown(name)}".'
                out.append(Problem(shown(name), shown(given[name]), said, known))
            elif name not in given:
                out.append(Problem(name, "nothing", f"{name} is not given.", _WANTED[name]))
            else:
                value = shown(given[name])
                out.append(
                    Problem(name, value, f'{name}: "{value}" can\'t be used.', _WANTED[name])
                )
        return out


class NewJob(Envelope):
    """POST of a job."""

    job = JobField(required=True, allow_none=False)
    key = fields.String(validate=validate.Regexp(KEY))


class ChangedJob(Envelope):
    """PUT of a job; base is the revision it replaces."""

    job = JobField(required=True, allow_none=False)
    base = fields.Integer(required=True, strict=True, validate=validate.Range(min=1, max=2**31))


class PlanFor(Envelope):
    """A job to plan; calc.bridge reads it."""

    job = fields.Raw(required=True, allow_none=True)


class WallOf(PlanFor):
    """A job to plan, and which of its walls to draw on which paper."""

    wall = fields.Raw(required=True, validate=_is_wall)
    paper = fields.String(allow_none=True)


class Values(Envelope):
    """What a quick calculator's fields hold; calc.bridge reads them and the unit."""

    values = fields.Dict(required=True)
    unit = fields.Raw(allow_none=True)
