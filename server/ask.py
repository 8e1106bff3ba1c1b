"""Asking calc through its one door, for the API and the command line."""

import json
from typing import Any

from calc.bridge import call
from calc.problems import InputError, Problem


def ask(verb: str, **arguments: Any) -> dict[str, Any]:
    """The bridge's answer to that verb. Raises InputError with its problems."""
    answer: dict[str, Any] = json.loads(call(json.dumps({"do": verb, **arguments})))
    if not answer.pop("ok"):
        raise InputError([Problem(**p) for p in answer["problems"]])
    return answer


def whole(answer: dict[str, Any]) -> dict[str, Any]:
    """The answer, where calc has answered; else InputError with what is wrong or still needed."""
    problems = [Problem(**p) for p in answer.pop("problems", [])]
    for need in answer.pop("needs", []):
        # quick answers name a field; the plan also says what to give
        field, fix = (
            (need, "Give it.") if isinstance(need, str) else (need["field"], need["message"])
        )
        problems.append(Problem(field, "nothing", f"{field} is not given.", fix))
    if problems:
        raise InputError(problems)
    return answer
