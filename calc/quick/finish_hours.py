"""Finish hours: when boards that are coated first may hang, and when the room is free."""

from ..draft import Answer, Draft
from ..trade.schedule import (
    COATED,
    FILLED,
    SANDED,
    Task,
    days,
    free_at,
    in_order,
    write_hour,
    write_steps,
)
from .declare import Calculator, count, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

# A board whose size nobody asks for: two thirds of a square metre of face and edges (12 ft by 6 in,
# four minutes a coat), 30 nails. Common practice, no source.
AREA, NAILS = 2.0 / 3.0, 30.0
COAT_A_BOARD = AREA / COATED
FILL_A_BOARD = NAILS / FILLED
SAND_A_BOARD = NAILS / SANDED

FIELDS = [
    count("boards", "Boards", "to coat and hang", "", 1, hi=2000),
    count("coats", "Coats before hanging", "face, edges and lap", "2", 0, hi=6),
    count("after", "Coats on the wall", "", "1", 0, hi=6),
    measure("hours", "recoat", "Between coats", "by the label", "4 h", lo=0.0, hi=240.0),
    measure("hours", "dry", "Dry before hanging", "over night", "24 h", lo=0.0, hi=480.0),
    measure("hours", "filler", "Filler before sanding", "", "3 h", lo=0.0, hi=240.0),
    measure("hours", "free", "Last coat to room in use", "", "4 h", lo=0.0, hi=480.0),
    measure("number", "pace", "Boards hung an hour", "", "6", lo=0.2, hi=60.0),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS). Raises no error."""
    d = Draft(unit)
    n = v["boards"]
    tasks = []
    last: list[str] = []
    for i in range(v["coats"]):
        key = "coat %d" % (i + 1)
        waits = v["dry"] if i == v["coats"] - 1 else v["recoat"]
        tasks.append(Task(key, "Coat %d" % (i + 1), last, n * COAT_A_BOARD, waits, n, []))
        last = [key]
    tasks.append(Task("hang", "Hang", last, n / v["pace"], 0.0, n, ["nailer", "hidden-lines"]))
    tasks.append(Task("fill", "Fill", ["hang"], n * FILL_A_BOARD, v["filler"], 1, []))
    tasks.append(Task("sand", "Sand", ["fill"], n * SAND_A_BOARD, 0.0, 1, ["sanding-dust"]))
    last = ["sand"]
    for i in range(v["after"]):
        key = "wall %d" % (i + 1)
        waits = v["free"] if i == v["after"] - 1 else v["recoat"]
        title = "Coat %d" % (v["coats"] + i + 1)
        tasks.append(Task(key, title, last, n * COAT_A_BOARD, waits, 1, []))
        last = [key]
    steps = in_order(tasks)
    hang = next(s for s in steps if s.key == "hang")
    write_hour(d, "free", "Room free after", free_at(steps))
    write_hour(d, "hang", "Boards may hang after", hang.starts)
    d.row("Room free", days(free_at(steps)))
    write_steps(d, steps)
    for s in steps:
        for key in s.cautions:
            d.caution(key)
    d.row("Not counted", "nights and pauses; trim and caulk; boards coming to the room's moisture")
    d.caution("acclimatise")
    if not v["coats"]:
        d.warn(
            "With no coat before hanging a bare line shows at each edge when the boards shrink: "
            "coat face, edges and lap before they hang."
        )
    if not v["after"]:
        d.warn("With no coat on the wall filled nails stay bare: touch each one up with the paint.")
    return d.done()


CALCULATOR = Calculator(
    "finish-hours",
    "Finish hours",
    "When may coated boards hang, and when is the room free?",
    FIELDS,
    answer,
    [
        "Earliest start of each step, by one pair of hands: arithmetic",
        "4 min a coat, 2 min to fill, 2 min to sand for each board: common practice, no source",
    ],
)
