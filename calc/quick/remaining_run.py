"""Remaining run: what is left of a course after the boards already up."""

from ..angles import degrees, hundredths, per_metre, slope
from ..bounds import (
    LONGEST_BOARD,
    MOST_END_GAP,
    MOST_FACE,
    MOST_JOINT_GAP,
    MOST_KERF,
    MOST_SHORTEST,
    WIDEST,
)
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_MM
from ..runs import Rest, rest_of, shift_for
from ..words import count_text
from .declare import Calculator, length, lengths

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_SHORTEST_BOARD = 100 * JOTS_PER_MM
_LEAST_SPACING = 100 * JOTS_PER_MM

FIELDS = [
    length("run", "Run, corner to corner", "along the board's lower edge", lo=1, hi=WIDEST),
    lengths("up", "Boards already up", "each board's length, in order", hi=LONGEST_BOARD, most=100),
    length(
        "stock",
        "Board length",
        "to count whole boards",
        lo=_SHORTEST_BOARD,
        hi=LONGEST_BOARD,
        needed=False,
    ),
    length("end_gap", "Gap at each end", "", "1/8 in", "3 mm", hi=MOST_END_GAP),
    length("joint_gap", "Gap at each joint", "", "0 in", "0 mm", hi=MOST_JOINT_GAP),
    length("shortest", "Shortest piece", "beside a joint", "16 in", "400 mm", hi=MOST_SHORTEST),
    length(
        "spacing",
        "Stud spacing",
        "keeps shifted joints on studs",
        lo=_LEAST_SPACING,
        hi=MOST_SHORTEST,
        needed=False,
    ),
    length("kerf", "Saw kerf", "", "1/8 in", "3 mm", hi=MOST_KERF),
    length(
        "run_top",
        "Run at the upper edge",
        "where the open end leans",
        lo=1,
        hi=WIDEST,
        needed=False,
    ),
    length("face", "Board height", "only with an upper run", lo=1, hi=MOST_FACE, needed=False),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises InputError."""
    d = Draft(unit)
    _check(d, v)
    rest = rest_of(v["run"], v["run_top"], v["up"], v["end_gap"], v["joint_gap"], unit)
    _left(d, v, rest)
    if v["run_top"] is not None:
        _lean(d, v)
    if rest.long > 0:
        d.caution("saw-dust")
        if v["stock"] is not None:
            _fill(d, v, rest)
        elif rest.pieces and rest.short < v["shortest"]:
            _too_short(d, v, rest, 0, rest.short, rest.long)
    return d.done()


def _check(d: Draft, v: "dict[str, Any]") -> None:
    if v["run_top"] is not None and v["face"] is None:
        raise refuse(
            "face",
            "nothing",
            "Board height: nothing is given, and a run at the upper edge needs it.",
            "Give the height between the two readings, or clear the upper run.",
        )
    stock = v["stock"]
    if stock is not None and v["shortest"] > stock:
        raise refuse(
            "shortest",
            d.show(v["shortest"]),
            "Shortest piece: %s is longer than a board, %s."
            % (d.show(v["shortest"]), d.show(stock)),
            "Give a shortest piece under the board length.",
        )
    for i in range(len(v["up"])):
        b = v["up"][i]
        if b == 0:
            raise refuse(
                "up",
                d.show(b),
                "Boards already up: board %d is %s long." % (i + 1, d.show(b)),
                "Give its length or take it out.",
            )
        if stock is not None and b > stock:
            d.warn(
                "Board %d up, %s, is %s longer than the board length: check the reading."
                % (i + 1, d.show(b), d.show(b - stock))
            )


def _left(d: Draft, v: "dict[str, Any]", rest: Rest) -> None:
    """Left to fill, and how it comes about."""
    n = rest.pieces
    joints = " + %s x %s" % (count_text(n, "joint"), d.show(v["joint_gap"])) if n else ""
    d.work("gaps: 2 ends x %s%s = %s" % (d.show(v["end_gap"]), joints, d.show(rest.gaps)))
    if n:
        total = " = " + d.show(sum(v["up"])) if n > 1 else ""
        d.work("up: %s%s" % (" + ".join([d.show(b) for b in v["up"]]), total))
    edges = [("left", "Left to fill", v["run"], rest.left)]
    if v["run_top"] is not None:
        edges = [
            ("left", "Left, lower edge", v["run"], rest.left),
            ("left_top", "Left, upper edge", v["run_top"], rest.left_top),
        ]
    for key, label, run, left in edges:
        d.length(key, label, max(left, 0))
        up = " - " + d.show(sum(v["up"])) if n else ""
        d.work("%s: %s%s - %s = %s" % (label, d.show(run), up, d.show(rest.gaps), d.show(left)))
    bare = rest.left + v["end_gap"] + (v["joint_gap"] if n else v["end_gap"])
    d.row("Tape, last board to corner" if n else "Tape, corner to corner", d.show(bare))
    d.value("open", bare)
    if rest.long <= 0:
        d.row("Run", "full")
        _spare(d, v, rest.long + v["joint_gap"], "The run is full")


def _spare(d: Draft, v: "dict[str, Any]", spare: int, when: str) -> None:
    if spare:
        d.warn(
            "%s but for %s, no more than a joint gap: cut nothing, let the end gap take it (%s)."
            % (when, d.show(spare), d.show(spare + v["end_gap"]))
        )


def _lean(d: Draft, v: "dict[str, Any]") -> None:
    """The angle of the open end over the board's height."""
    by, face = abs(v["run_top"] - v["run"]), v["face"]
    a = hundredths(by, face)
    d.value("angle", a)
    d.value("slope", per_metre(by, face))
    if by == 0:
        d.row("End cut", "square")
        return
    d.row("End cut", "%s off square" % degrees(a))
    d.row(
        "Long point",
        "%s edge, by %s" % ("upper" if v["run_top"] > v["run"] else "lower", d.show(by)),
    )
    d.row("Lean", slope(by, face, d.unit))
    d.work("end cut: arctan(%s / %s) = %s" % (d.show(by), d.show(face), degrees(a)))


def _fill(d: Draft, v: "dict[str, Any]", rest: Rest) -> None:
    """Whole boards that still fit at both edges, and the last piece."""
    stock, gap = v["stock"], v["joint_gap"]
    whole = (rest.short + gap) // (stock + gap)
    d.count("whole", "Whole boards still", whole, "board")
    d.work(
        "whole boards: (%s + %s) / (%s + %s), down to %d"
        % (d.show(rest.short), d.show(gap), d.show(stock), d.show(gap), whole)
    )
    taken = whole * (stock + gap)
    short, long = rest.short - taken, rest.long - taken
    if long <= 0:
        d.row("Last piece", "none")
        d.value("last", 0)
        _spare(d, v, long + gap, "%s fill it" % count_text(whole, "whole board"))
        return
    edges = [("last", "Last piece", rest.left)]
    if v["run_top"] is not None:
        edges = [
            ("last", "Last piece, lower edge", rest.left),
            ("last_top", "Last piece, upper edge", rest.left_top),
        ]
    for key, label, left in edges:
        d.length(key, label, max(left - taken, 0))
        if whole:
            d.work(
                "%s: %s - %d x (%s + %s) = %s"
                % (
                    label,
                    d.show(left),
                    whole,
                    d.show(stock),
                    d.show(gap),
                    d.show(left - taken),
                )
            )
    by = 0
    if rest.pieces + whole and short < v["shortest"]:
        by = _too_short(d, v, rest, whole, short, long)
    if long > stock:
        d.warn(
            "The last piece's long point, %s, is %s over the board length: fill the rest with two "
            "pieces." % (d.show(long), d.show(long - stock))
        )
        return
    # With the mend above the last piece is longer, and leaves that much less.
    offcut = stock - long - by - v["kerf"]
    if offcut >= 0:
        d.row("Offcut of its board" + (", so mended" if by else ""), d.show(offcut))
        d.value("offcut", offcut)


def _too_short(d: Draft, v: "dict[str, Any]", rest: Rest, whole: int, short: int, long: int) -> int:
    """Warn of a last piece under the shortest piece; jots by which the mend makes it longer."""
    shortest, stock, spacing = v["shortest"], v["stock"], v["spacing"]
    what = "The last piece, %s, is under the shortest piece, %s" % (
        d.show(max(short, 0)),
        d.show(shortest),
    )
    if long < v["kerf"]:
        what = "The last piece, %s, is less than the kerf, %s, and can't be cut" % (
            d.show(long),
            d.show(v["kerf"]),
        )
    donor = stock if whole else v["up"][-1]
    by = shift_for(short, long, donor, shortest, stock, spacing)
    if by:
        mend = "cut the next board to %s, %s shorter"
        if not whole:
            mend = "take the last board down and cut it to %s, %s shorter"
        elif not rest.pieces:
            mend = "start the course with a piece of %s, %s shorter than a board"
        mend = mend % (d.show(donor - by), d.show(by))
        mend += "; the last piece is then %s" % d.show(short + by)
        whole_spacings = ", up to whole spacings: %s" % d.show(by) if spacing is not None else ""
        d.value("shift", by)
        d.work(
            "shift: %s - %s = %s%s"
            % (d.show(shortest), d.show(short), d.show(shortest - short), whole_spacings)
        )
    elif spacing is not None and shift_for(short, long, donor, shortest, stock, None):
        mend = "no whole stud spacing mends it; shift by %s and back the joint with a block" % (
            d.show(shortest - short)
        )
    else:
        mend = "a board of %s can't give enough; take another board length" % d.show(donor)
    d.warn("%s: %s." % (what, mend))
    return by


CALCULATOR = Calculator(
    "remaining-run",
    "Remaining run",
    "What is left to fill after the boards already up?",
    FIELDS,
    answer,
    [
        "Lengths, gaps, angle: plane geometry in whole jots (1/320 mm)",
        "Shortest piece, joints on studs: common practice, no source",
    ],
)
