"""The one door from the page's worker into calc: JSON text in, JSON text out.

call('{"do": "quick", ...}') answers {"ok": true, ...} or
{"ok": false, "problems": [...]}, each problem with field, value, message, fix.
The verbs of a job import what they need when they are first called, all else is imported
as this file loads: a phone that only wants a quick answer has it sooner, and loads what
only a job needs later.
"""

import json

from . import quick
from .jsonparts import text
from .lengths import UNIT_NAMES, UNITS, LengthError, exact, jots_of, reading
from .problems import InputError, Problem, shown, to_dict, wrong
from .quick.declare import declaration, run

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def call(request: str) -> str:
    """Answer one request, a JSON object whose "do" names a verb of VERBS.

    Raises nothing for bad input: what is wrong comes back under "problems".
    """
    try:
        asked = json.loads(request)
    except ValueError:
        return _refuse(Problem("", shown(request), "The request is not JSON.", "Send an object."))
    verb = asked.get("do") if isinstance(asked, dict) else None
    if not isinstance(verb, str) or verb not in VERBS:
        return _refuse(
            Problem(
                "do",
                shown(verb),
                'do: "%s" is not a verb.' % shown(verb),
                "Use one of %s." % ", ".join(sorted(VERBS)),
            )
        )
    try:
        answer = VERBS[verb](asked)
    except InputError as e:
        return json.dumps({"ok": False, "problems": [to_dict(p) for p in e.problems]})
    answer["ok"] = True
    return text(answer)


def of_job(verb: object) -> bool:
    """Whether `verb` needs what only a job needs."""
    return isinstance(verb, str) and verb in VERBS and verb not in QUICK


def _refuse(problem: Problem) -> str:
    return json.dumps({"ok": False, "problems": [to_dict(problem)]})


def _unit(asked: dict[str, object], key: str = "unit", default: str = "in") -> str:
    unit = asked.get(key, default)
    if not isinstance(unit, str) or unit not in UNITS:
        raise wrong(
            key,
            shown(unit),
            '%s: "%s" is not known.' % (key, shown(unit)),
            "Use one of %s." % ", ".join(UNITS),
        )
    return unit


def _calculators(asked: dict[str, object]) -> dict[str, object]:
    unit = _unit(asked)
    declared = []
    for c in quick.every():
        one = declaration(c, unit)
        one["group"] = quick.group(c.name)
        declared.append(one)
    return {
        "calculators": declared,
        "units": [[key, UNIT_NAMES[key]] for key in UNITS],
    }


def _quick(asked: dict[str, object]) -> dict[str, object]:
    name = asked.get("name")
    calculator = quick.find(name) if isinstance(name, str) else None
    if calculator is None:
        raise wrong(
            "name",
            shown(name),
            'name: there is no calculator "%s".' % shown(name),
            "Use one of %s." % ", ".join(quick.NAMES),
        )
    values = asked.get("values", {})
    if not isinstance(values, dict):
        raise wrong("values", shown(values), "values is not an object.", "Send field: text.")
    return run(calculator, values, _unit(asked))


def _read(asked: dict[str, object]) -> dict[str, object]:
    """One typed length in "text": its jots, its exact text, and how it reads in "show"."""
    unit = _unit(asked)
    return _length("text", asked.get("text"), unit, unit, _unit(asked, "show", unit))


def _show(asked: dict[str, object]) -> dict[str, object]:
    """Every typed length in "texts", read in "unit" and said in "to": a switch of units.

    "lengths" has one object for each text: its jots, its exact text in "to",
    and how it reads there.
    """
    unit = _unit(asked)
    to = _unit(asked, "to", unit)
    texts = asked.get("texts")
    if not isinstance(texts, list):
        raise wrong("texts", shown(texts), "texts is not a list.", "Send a list of readings.")
    return {
        "lengths": [_length("texts[%d]" % i, texts[i], unit, to, to) for i in range(len(texts))]
    }


def _length(field: str, text: object, unit: str, kept: str, show: str) -> dict[str, object]:
    """A reading typed in `unit`: its exact text in the unit `kept`, its reading in `show`."""
    try:
        jots = jots_of(text, unit)
    except LengthError as e:
        raise wrong(field, shown(text), e.message, e.fix)
    if jots < 0:
        raise wrong(
            field,
            shown(text),
            "%s: %s is out of range." % (field, shown(text)),
            "Give a length of 0 or more.",
        )
    r = reading(jots, show)
    return {"jots": jots, "exact": exact(jots, kept), "text": r.text, "lean": r.lean, "say": r.say}


def _fields(asked: dict[str, object]) -> dict[str, object]:
    """The form of the screen "of", in "unit", for the wall of index "wall" (0), with what "job"
    holds and needs; "of" is "survey", "take-off", "finish" or "all".
    """
    from .form import SCREENS, form

    job, wall = asked.get("job"), asked.get("wall", 0)
    walls = job.get("walls") if isinstance(job, dict) else None
    count = max(1, len(walls)) if isinstance(walls, list) else 1
    known = isinstance(wall, int) and wall is not True and wall is not False
    if not isinstance(wall, int) or not known or not 0 <= wall < count:
        raise wrong(
            "wall",
            shown(wall),
            "wall: there is no wall %s." % shown(wall),
            "Use 0 to %d." % (count - 1),
        )
    of = asked.get("of", "survey")
    if not isinstance(of, str) or of not in SCREENS + ("all",):
        raise wrong(
            "of",
            shown(of),
            'of: "%s" is no screen that asks for anything.' % shown(of),
            "Use one of %s or all." % ", ".join(SCREENS),
        )
    answer = form(_unit(asked), job, wall, of)
    answer["needs"] = _missing(job)
    return answer


def _switch(asked: dict[str, object]) -> dict[str, object]:
    """ "job" in the unit "to", every length the same to the jot."""
    from .switch import in_unit

    job = asked.get("job")
    if not isinstance(job, dict):
        raise wrong("job", shown(job), "job: %s is no job." % shown(job), "Send an object.")
    return {"job": in_unit(job, _unit(asked, "to"))}


def _missing(job: object) -> list[dict[str, str]]:
    from .job import needs

    return [{"field": path, "message": message} for path, message in needs(job)]


def _check(asked: dict[str, object]) -> dict[str, object]:
    """What is wrong with "job" and what it still needs; a draft is no error."""
    from .job import check_job, read_job, ready
    from .plan import trouble

    job = asked.get("job")
    problems = check_job(job)
    if not problems and ready(job):
        problems = trouble(read_job(job))
    return {"problems": [to_dict(p) for p in problems], "needs": _missing(job)}


def _plan(asked: dict[str, object]) -> dict[str, object]:
    """The plan of the walls of "job" that lack nothing, and its view; null where there is none."""
    from .job import ready
    from .plan import make
    from .view import view

    job = _right(asked)
    missing = _missing(job)
    if not ready(job):
        return {"plan": None, "view": None, "needs": missing}
    plan = make(job)
    return {"plan": plan, "view": view(plan), "needs": missing}


def _begin(asked: dict[str, object]) -> dict[str, object]:
    """As plan, but the first plan that is found, and the "id" to go on with: see begun.py."""
    from .begun import begin
    from .job import ready

    job = _right(asked)
    missing = _missing(job)
    if not ready(job):
        return {"plan": None, "view": None, "id": None, "progress": None, "needs": missing}
    answer = begin(job)
    answer["needs"] = missing
    return answer


def _more(asked: dict[str, object]) -> dict[str, object]:
    from .begun import more

    return more(asked.get("id"), asked.get("turns", 1))


def _take(asked: dict[str, object]) -> dict[str, object]:
    from .begun import take

    return take(asked.get("id"))


def _right(asked: dict[str, object]) -> object:
    """The document in "job", without anything wrong in it."""
    from .job import check_job

    problems = check_job(asked.get("job"))
    if problems:
        raise InputError(problems)
    return asked["job"]


def _keep(asked: dict[str, object]) -> dict[str, object]:
    """The plan "plan", kept to for "job" in which more is done: see kept.py."""
    from .kept import kept

    return kept(_right(asked), _drawn(asked))


def _compare(asked: dict[str, object]) -> dict[str, object]:
    """The ways to divide the walls of "job"."""
    from .job import read_job
    from .plan import trouble
    from .ways import choices, way

    job = read_job(_right(asked))
    problems = trouble(job)
    if problems:
        raise InputError(problems)
    return {"ways": [way(job, start, kind) for start, kind in choices(job)]}


def _stock(asked: dict[str, object]) -> dict[str, object]:
    """Stock lengths side by side: the "choices", or what the job takes of those in "lines"."""
    from .job import read_job
    from .plan import trouble
    from .stockways import choices, label, way

    job = read_job(_right(asked))
    problems = trouble(job)
    if problems:
        raise InputError(problems)
    given = choices(job)
    lines = asked.get("lines")
    if lines is None:
        return {"choices": [{"lines": each, "label": label(job, each)} for each in given]}
    if lines not in given:
        raise wrong(
            "lines",
            shown(lines),
            "lines: %s is no choice of stock lengths of this job." % shown(lines),
            "Use one of the choices that this verb answers without lines.",
        )
    return {"way": way(job, lines)}


def _drawn(asked: dict[str, object]) -> Any:
    """The plan in "plan"; whoever asks made it with the verb plan."""
    plan = asked.get("plan")
    if not isinstance(plan, dict) or plan.get("format") != "lapwright-plan":
        raise wrong(
            "plan",
            shown(plan),
            "plan: %s is no plan." % shown(plan),
            "Send a lapwright-plan as the verb plan answers it.",
        )
    from .older import brought_up

    return brought_up(plan)


def _view(asked: dict[str, object]) -> dict[str, object]:
    """What the page shows of "plan", all of it: see view.py."""
    from .view import view

    return {"view": view(_drawn(asked))}


def _elevation(asked: dict[str, object]) -> dict[str, object]:
    """The drawing of one wall of "plan": see elevation.py."""
    from .elevation import asked_for

    return asked_for(_drawn(asked), asked)


def _card(asked: dict[str, object]) -> dict[str, object]:
    """All that the saw needs to know of the piece "piece" of "plan": see card.py."""
    from .card import asked_for

    return asked_for(_drawn(asked), asked)


def _trade(asked: dict[str, object]) -> dict[str, object]:
    """What to buy for "job", and the steps of its work, as "of" has it: see trade/asked.py.

    "plan" may be null; "of" is a list of "take-off" and "steps", by default both.
    """
    from .trade.asked import PARTS, answer

    job = _right(asked)
    of = asked.get("of", list(PARTS))
    if not isinstance(of, list) or [1 for part in of if part not in PARTS]:
        raise wrong(
            "of",
            shown(of),
            "of: %s is no list of what may be asked." % shown(of),
            "Send a list of %s." % " and ".join(PARTS),
        )
    plan = None if asked.get("plan") is None else _drawn(asked)
    out = answer(job, plan, tuple(of))
    out["needs"] = _missing(job)
    return out


def _callable(asked: dict[str, object]) -> dict[str, object]:
    """The ends of course "course" of wall "wall" of "plan" that may be called: see called.py."""
    from .called import ends_of

    return {"ends": ends_of(_drawn(asked), asked.get("wall"), asked.get("course"))}


def _called(asked: dict[str, object]) -> dict[str, object]:
    """What the length "text", called for "piece" of "plan", comes to: see called.py."""
    from .called import call_check

    return call_check(_drawn(asked), asked.get("piece"), asked.get("text"))


def _csv(asked: dict[str, object]) -> dict[str, object]:
    """The pieces of "plan", all of it, as CSV in "text": see cutcsv.py."""
    from .cutcsv import text

    plan = _drawn(asked)
    known = {p["id"] for p in plan.get("pieces", ())}
    lost = [key for board in plan.get("boards", ()) for key in board["cuts"] if key not in known]
    if lost or not known:
        raise wrong(
            "plan",
            lost[0] if lost else "nothing",
            "plan: piece %s is not in it." % lost[0] if lost else "plan: it has no pieces.",
            "Send the whole plan, as the verb plan answers it.",
        )
    return {"text": text(plan)}


QUICK = ("calculators", "quick", "read", "show")


def _copies(asked: dict[str, object]) -> Any:
    from .shared.asked import answer

    return answer(asked)


VERBS = {
    "calculators": _calculators,
    "quick": _quick,
    "read": _read,
    "show": _show,
    "fields": _fields,
    "unit": _switch,
    "check": _check,
    "plan": _plan,
    "begin": _begin,
    "more": _more,
    "take": _take,
    "keep": _keep,
    "compare": _compare,
    "stock": _stock,
    "view": _view,
    "elevation": _elevation,
    "card": _card,
    "trade": _trade,
    "callable": _callable,
    "called": _called,
    "csv": _csv,
    "adopt": _copies,
    "join": _copies,
    "write": _copies,
    "settle": _copies,
    "undo": _copies,
}
