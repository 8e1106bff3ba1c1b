"""A job's wood moisture and movement: may the boards hang, and what gap do they want?"""

from ..draft import Draft, Table
from ..job import Job
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM, from_mm
from ..measures import show
from ..words import count_text
from .moisture import (
    AT_INSTALLATION,
    INTERIORS,
    USUAL_ROOM,
    climate,
    percent,
    within,
    write_damp_air,
    write_emc,
    write_factors,
    write_wait,
)
from .movement import (
    FORMULA,
    PANELS,
    fine,
    if_hung_now,
    mdf_most,
    write_mdf,
    write_moves,
)
from .spacers import spacer_text
from .species import MDF

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .movement import Moves
    from .records import Site
else:
    Any = object

# Boards hung tight may push so much more than the gaps at floor and ceiling take: 1/8 in, 3 mm.
# Common practice, no source.
_GIVES = (JOTS_PER_INCH // 8, 3 * JOTS_PER_MM)


def write(d: Draft, job: Job, plan: "dict[str, Any] | None") -> None:
    """Fill the draft for the job. plan: its lapwright-plan file, or None. Errors: none."""
    site, board = job.trade.site, job.board
    low, high, where = _range(d, site)
    hung = site.moisture
    if hung is None:
        usual = climate(site.climate).usual
        hung = usual if low <= usual <= high else (low + high) / 2
        d.row(
            "Boards' moisture",
            "not read: reckoned as hung at %s. Read them by a meter before they hang"
            % percent(hung),
        )
        d.caution("acclimatise")
    if board.species == MDF:
        lengths = sorted({s.length for s in board.stock if s.kind == "new"})
        write_mdf(d, board.face, lengths)
        _write_wait(d, site.moisture, low, high, where, "")
        _write_runs(d, job, plan)
    else:
        m = write_moves(d, board.face, board.overall, board.species, board.grain, hung, low, high)
        _write_wait(d, site.moisture, low, high, where, if_hung_now(m, d.unit))
        _write_walls(d, job, plan, m)
        if m.spacer:
            d.row(
                "With the spacer",
                "a course takes %s: give that as the face if it was read off boards held tight"
                % d.show(board.face + m.spacer),
            )
    if plan is None:
        d.row("Waits for the plan", "courses and runs are reckoned from heights and widths")
    write_damp_air(d, high)


def _write_wait(
    d: Draft, moisture: float | None, low: float, high: float, where: str, so: str
) -> None:
    """write_wait, where the boards were read."""
    if moisture is not None:
        write_wait(d, moisture, low, high, where, so)


def _range(d: Draft, site: "Site") -> tuple[float, float, str]:
    """(driest, dampest, whose range it is): what boards come to in the room over the year."""
    own = climate(site.climate)
    if site.humidity_low is not None or site.humidity_high is not None:
        at = _temperature(d, site)
    ends = []
    room = False
    for what, given, humidity, usual in (
        ("Driest", site.driest, site.humidity_low, own.low),
        ("Dampest", site.dampest, site.humidity_high, own.high),
    ):
        if given is not None:
            d.step(what + " boards", "as read", percent(given), percent(given), "the job's site")
            ends.append(given)
            room = True
        elif humidity is not None:
            ends.append(write_emc(d, what + " boards", at, humidity))
            room = True
        else:
            d.step(
                what + " boards",
                "pieces to be hung %s, about the usual %s" % (own.label, percent(own.usual)),
                "nothing read of the room",
                percent(usual),
                "%s; %s" % (AT_INSTALLATION, INTERIORS),
            )
            ends.append(usual)
    if ends[0] > ends[1]:
        d.warn(
            "Boards at their driest come to %s, above their dampest, %s: read both again, moisture "
            "or humidity. They are taken the other way round."
            % (percent(ends[0]), percent(ends[1]))
        )
        ends = [ends[1], ends[0]]
    where = "this room" if room else "a room " + own.label
    d.row("Boards over the year", "%s to %s, in %s" % (percent(ends[0]), percent(ends[1]), where))
    return ends[0], ends[1], where


def _temperature(d: Draft, site: "Site") -> float:
    """What the room's temperature is reckoned as, °C, within the equation's range."""
    if site.temperature is None:
        d.row("Temperature", "not read: reckoned at %s" % show(USUAL_ROOM, "temperature", d.unit))
        at = USUAL_ROOM
    else:
        at = within(site.temperature)
        if at != site.temperature:
            d.row(
                "Temperature",
                "reckoned at %s, where the equation ends" % show(at, "temperature", d.unit),
            )
    write_factors(d, at)
    return at


def _write_walls(d: Draft, job: Job, plan: "dict[str, Any] | None", m: "Moves") -> None:
    """What all courses of a wall come to together, and a warning where hung tight they push."""
    dry = m.seasons[1].line - m.spacer
    gaps = job.rules.floor_gap + job.rules.ceiling_gap
    gives = _GIVES[0 if d.unit in ("in", "ft") else 1]
    rows = []
    tight: list[tuple[int, str, int]] = []
    for name, n in _courses(job, plan):
        push = n * m.growth
        rows.append([name, str(n), fine(push, d.unit), fine(max(n * dry, 0), d.unit)])
        d.step(
            "All courses of " + name,
            "courses x change of a face, rips taken as whole ones",
            "%d x %s to the dampest, %d x %s to the driest"
            % (n, fine(m.growth, d.unit), n, fine(max(dry, 0), d.unit)),
            "%s, %s" % (fine(push, d.unit), fine(max(n * dry, 0), d.unit)),
            FORMULA,
        )
        if push > gaps + gives:
            tight.append((push, name, n))
    if tight:
        push, name, n = max(tight, key=lambda t: (t[0], t[2], t[1]))
        more = "" if len(tight) == 1 else " (%s too)" % count_text(len(tight) - 1, "other wall")
        d.warn(
            "%s: hung tight its %d courses push by %s by the dampest%s; the gaps at floor and "
            "ceiling take %s, so boards buckle or lift. Leave %s at each course."
            % (name, n, fine(push, d.unit), more, d.show(gaps), spacer_text(m.spacer, d.unit))
        )
    heads = ["Wall", "Courses", "Tight, they push", "Lines open, all"]
    d.tables.append(Table("Over the wall", heads, rows))


def _courses(job: Job, plan: "dict[str, Any] | None") -> list[tuple[str, int]]:
    """(name, courses) of each wall: of the plan, or by its height over the face."""
    if plan is not None:
        return [(w["name"], len(w["courses"])) for w in plan["walls"]]
    out = []
    for w in job.walls:
        heights = [h for h in (w.height_left, w.height_right) if h is not None]
        heights.extend([(s.down or 0) + (s.up or 0) for s in w.stations])
        out.append((w.name, -(-max(heights) // job.board.face)))
    return out


def _write_runs(d: Draft, job: Job, plan: "dict[str, Any] | None") -> None:
    """The longest run of MDF on each wall, and a warning where its gaps do not take the growth."""
    rows = []
    for name, run, joints in _longest(job, plan):
        most = mdf_most(run)
        takes = 2 * job.rules.end_gap + joints * job.rules.joint_gap
        rows.append([name, d.show(run), fine(most, d.unit), d.show(takes)])
        d.step(
            "Longest run of " + name,
            "length x 0.33 %",
            "%s x 0.0033" % d.show(run),
            fine(most, d.unit),
            PANELS,
        )
        d.step(
            "Its gaps",
            "two ends, and joints",
            "2 x %s + %d x %s" % (d.show(job.rules.end_gap), joints, d.show(job.rules.joint_gap)),
            d.show(takes),
            "plane geometry",
        )
        if most > takes:
            over = -(-(most - joints * job.rules.joint_gap) // 2)
            d.warn(
                "%s: its longest run of MDF, %s, may grow by %s, and the gaps take %s, so it "
                "buckles. Let the boards lie in the room first, and leave %s at each end (under "
                "the casing or corner), or gaps at the joints."
                % (name, d.show(run), fine(most, d.unit), d.show(takes), fine(over, d.unit))
            )
    heads = ["Wall", "Longest run", "Grows by at most", "Gaps take"]
    d.tables.append(Table("Runs, MDF", heads, rows))


def _longest(job: Job, plan: "dict[str, Any] | None") -> list[tuple[str, int, int]]:
    """(name, length, joints) of the longest run of each wall; without a plan by its width."""
    if plan is None:
        board = max([s.length for s in job.board.stock])
        return [(w.name, w.width_floor, -(-w.width_floor // board) - 1) for w in job.walls]
    out = []
    for w in plan["walls"]:
        runs = [
            (from_mm(r["right"] - r["left"]), len(r["joints"]))
            for c in w["courses"]
            for r in c["runs"]
        ]
        if runs:
            longest = max([n for n, _ in runs])
            out.append((w["name"], longest, min([j for n, j in runs if n == longest])))
    return out
