"""Plans that were made before a field was there, brought up to what a plan holds now."""

from .cautions import caution

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_PIECE = {"state": "to cut", "called": None, "sawn": None}
_BOARD = {"state": "whole", "kind": "new", "short": "", "of": None, "lost": 0, "line_id": ""}
_BUY = {"begun": 0, "rejected": 0}


def brought_up(plan: dict[str, Any]) -> dict[str, Any]:
    """The plan with what it lacks: as where nothing is cut yet. Errors: none."""
    for rows, fields in (
        (plan.get("pieces"), _PIECE),
        (plan.get("boards"), _BOARD),
        (plan.get("buy"), _BUY),
    ):
        if rows and [1 for key in fields if key not in rows[0]]:
            for row in rows:
                for key in fields:
                    row[key] = row.get(key, fields[key])
    for one in plan.get("cautions") or []:
        if "asks" not in one:
            one["asks"] = caution(one["key"]).asks
    for n, wall in enumerate(plan.get("walls") or []):
        wall["id"] = wall.get("id", str(wall.get("number", n + 1)))
    return plan
