"""Asking calc through its one door, for the API and the command line."""

import json
from typing import Any

from calc.bridge import call
from calc.problems import InputError, Problem, shown


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


def planned(job: Any) -> dict[str, Any]:
    """The "plan", "view" and "needs" of that job; needs are of walls that are not planned yet.

    Raises InputError where no wall can be planned, with what is wrong or needed.
    """
    answer = ask("plan", job=job)
    return answer if answer["plan"] else whole(answer)


def elevation(answer: dict[str, Any], wall: str, paper: str | None) -> str:
    """The SVG of one wall of what planned() answered.

    wall: its number in the job or its name; paper: A4 (also where it is None)
    or Letter. Raises InputError.
    """
    walls = answer["plan"]["walls"]
    numbers = [str(w["number"]) for w in walls]
    names = [w["name"] for w in walls]  # each stands once, as calc.job sees to
    if wall not in numbers + names:
        said = f"wall: there is no wall {shown(wall)} in the plan."
        fix = f"Give its number: {', '.join(numbers)}."
        if answer["needs"]:
            fix += f" Not planned yet: {' '.join(n['message'] for n in answer['needs'])}"
        raise InputError([Problem("wall", shown(wall) or "nothing", said, fix)])
    drawn = ask(
        "elevation",
        plan=answer["plan"],
        wall=(numbers.index(wall) if wall in numbers else names.index(wall)) + 1,
        paper="A4" if paper is None else paper,
    )
    return str(drawn["svg"])
