"""The envelopes of the API's writes, and how what is wrong with them is told."""

from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from calc.job import check_job
from calc.problems import InputError, Problem, shown
from calc.shared.merge import check

from .access import KINDS

MOST_WRITES = 1000
# 16 random bytes in base64url without padding.
KEY = r"\A[A-Za-z0-9_-]{22}\Z"

_WANTED = {
    "job": "Send the job document under job.",
    "key": "Send 22 characters of A-Z, a-z, 0-9, _ and -, or leave it out.",
    "writes": "Send a list of 1 to 1000 writes, each as the bridge's verb write gives it.",
    "have": "Send the revision that the phone has, a whole number, 0 for none.",
    "kind": "Send edit or saw.",
    "code": "Send the digits of the code.",
    "plan": "Send a lapwright-plan, an object.",
    "instead": "Send true where a person chose it in place of the plan in use.",
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


class WritesField(fields.Field[Any]):
    """Small copies of a job, each as calc.shared.merge checks it."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list) or not 1 <= len(value) <= MOST_WRITES:
            raise ValidationError("no list of writes")
        try:
            return [check(write) for write in value]
        except InputError as e:
            raise ValidationError(e.problems) from e


def _is_plan(value: dict[str, Any]) -> None:
    if value.get("format") != "lapwright-plan":
        raise ValidationError("no plan")


def _is_bool(value: Any) -> None:
    if value is not True and value is not False:
        raise ValidationError("no bool")


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


class NewCopy(Envelope):
    """POST of a job that a phone began, as its writes, under the phone's own key."""

    key = fields.String(required=True, validate=validate.Regexp(KEY))
    writes = WritesField(required=True)


class Writes(Envelope):
    """POST of a phone's writes; have is the revision it stands on."""

    writes = WritesField(required=True)
    have = fields.Integer(required=True, strict=True, validate=validate.Range(min=0, max=2**31))


class OfKind(Envelope):
    """Which of a job's links is meant."""

    kind = fields.String(required=True, validate=validate.OneOf(KINDS))


class Renewed(OfKind):
    """Which links are taken back, and the new key where the phone brings it."""

    key = fields.String(load_default=None, validate=validate.Regexp(KEY))


class Typed(Envelope):
    """A short code as somebody typed it."""

    code = fields.String(required=True, validate=validate.Length(max=40))


class PlanInUse(Envelope):
    """A plan that is worked by, and the job document it was made of."""

    job = JobField(required=True, allow_none=False)
    plan = fields.Dict(required=True, validate=_is_plan)
    instead = fields.Raw(load_default=False, validate=_is_bool)


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
