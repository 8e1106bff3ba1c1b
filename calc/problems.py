"""What is wrong with an input, in one shape: field, value, message and fix."""

from collections import namedtuple

# field   where it was given, for example "walls[0].studs.first" or "gap"
# value   what was given, as text
# message what is wrong with it, a sentence naming field and value
# fix     what to do instead, a sentence
Problem = namedtuple("Problem", "field value message fix")


class InputError(Exception):
    """Input that cannot be used; carries every Problem found, in order."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("; ".join([p.message + " " + p.fix for p in problems]))
        self.problems = problems


def wrong(field: str, value: str, message: str, fix: str) -> InputError:
    """The InputError of one Problem; its arguments as Problem's."""
    return InputError([Problem(field, value, message, fix)])


def to_dict(problem: Problem) -> dict[str, str]:
    """The problem as a JSON object with keys field, value, message, fix."""
    return {
        "field": problem.field,
        "value": problem.value,
        "message": problem.message,
        "fix": problem.fix,
    }


def shown(value: object) -> str:
    """A given value as short text for a message: at most 40 characters."""
    if value is None:
        text = "nothing"
    elif value is True or value is False:
        text = "true" if value else "false"
    elif isinstance(value, str):
        text = value
    elif isinstance(value, (int, float)):
        text = str(value)
    elif isinstance(value, list):
        text = "a list"
    else:
        text = "an object"
    return text if len(text) <= 40 else text[:37] + "..."
