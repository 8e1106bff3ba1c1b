"""The job file, lapwright-job version 1: what is wrong with it, what is missing, its records.

DEVELOPERS.md has the table of fields; jobfields.py is that table. A draft may
lack anything but its format and version; what is there must be right.
"""

from collections import namedtuple

from .done import check_done, read_done
from .fieldkinds import Field
from .jobfields import BOARD, JOB, MOST_COURSES, MOST_STUDS, MOST_WALLS, RULES, id_of
from .jobneeds import job_needs, wall_name, walls_needs
from .jobread import Reader
from .jobwalls import Block, Box, Leaning, Opening, Station, Studs, Wall, check_wall, read_wall
from .lengths import UNITS
from .problems import InputError, Problem, shown
from .size import MOST_WORK, cutting_work, wall_work
from .trade.records import read_trade
from .trade.species import UNKNOWN

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

FORMAT = "lapwright-job"
VERSION = 1

# Lengths in jots. unit is one of UNITS; walls is a list of Wall (jobwalls.py): those
# that lack nothing, each with its index in the document.
# count: walls of the document, measured or not; ids: of each of them; done: what is cut and
# called, a Done (done.py), or None where nothing is marked.
# trade: what it holds beside the layout, a Trade (trade/records.py).
Job = namedtuple("Job", "title unit board rules walls count ids done trade")
# edge is "lapped", "tongue-and-groove" or "square"; stock is a list of Stock; ends is
# "plain" or "matched"; species a key of trade/species.py, "unknown" or "mdf"; grain "flat" or
# "vertical".
Board = namedtuple("Board", "face overall thickness edge stock ends species grain")
# price is whole hundredths of the money used, or None; count the boards to be had, or None;
# kind "new", or "offcut": it lies on site and costs nothing; id: what its marks name it by.
Stock = namedtuple("Stock", "length price count kind id")
# line and kept are None where they are not given, align "".
Rules = namedtuple(
    "Rules",
    "start courses kerf end_gap joint_gap floor_gap ceiling_gap shortest stagger least_rip "
    "line align opening_gap box_gap sliver trim reach spread allowance kept",
)
__all__ = [
    "Block", "Board", "Box", "Job", "Leaning", "Opening", "Rules", "Station", "Stock", "Studs",
    "Wall", "check_job", "complete_walls", "needs", "planned_as", "read_job", "ready", "unmarked",
]  # fmt: skip


def check_job(doc: object) -> list[Problem]:
    """Everything that is wrong with what the job document holds, in field order.

    doc: the parsed JSON. Missing fields are no problem (see needs), but for
    format and version. An empty list means it can be stored. Errors: none.
    """
    return _read_all(doc)[1]


def needs(doc: object) -> list[tuple[str, str]]:
    """What is still missing before every wall can be planned: (path, message).

    doc: the parsed JSON. What begins with the path of a wall, "walls[2].", keeps
    only that wall and those that continue it from being planned; see
    complete_walls. A field that is there but wrong is not missing; see
    check_job. Errors: none.
    """
    if not isinstance(doc, dict):
        return []
    out: list[tuple[str, str]] = []
    out = job_needs(doc)
    for own in walls_needs(doc, MOST_WALLS):
        out.extend(own)
    return out


def complete_walls(doc: object) -> list[int]:
    """Indexes of the walls that lack nothing, whatever the rest of the job lacks.

    doc: the parsed JSON. A wall that continues another needs that one complete.
    What is wrong is not looked at; see check_job. Errors: none.
    """
    if not isinstance(doc, dict):
        return []
    return _complete(walls_needs(doc, MOST_WALLS))


def _complete(per_wall: list[list[tuple[str, str]]]) -> list[int]:
    return [i for i in range(len(per_wall)) if not per_wall[i]]


def ready(doc: object) -> bool:
    """Whether some wall of the job lacks nothing, and the board neither. Errors: none."""
    return isinstance(doc, dict) and not job_needs(doc) and complete_walls(doc) != []


def read_job(doc: object) -> Job:
    """The job's records in jots, defaults filled in, of the walls that lack nothing.

    Raises InputError with every problem of check_job, or else, where no wall can
    be planned, with one problem per missing field of needs.
    """
    v, problems, per_wall = _read_all(doc)
    whole = _complete(per_wall)
    if not problems and isinstance(doc, dict) and (job_needs(doc) or not whole):
        problems = [
            Problem(path, "nothing", "%s is not given." % path, message)
            for path, message in needs(doc)
        ]
    if problems:
        raise InputError(problems)
    unit = v.get("unit", "in")
    b, r = v["board"], v.get("rules") or {}
    metric = unit not in ("in", "ft")
    stock = []
    for i, s in enumerate(b["stock"]):
        kind = s.get("kind", "new")
        count = s.get("count", 1 if kind == "offcut" else None)
        stock.append(Stock(s["length"], s.get("price"), count, kind, id_of(s, i)))
    board = Board(
        b["face"],
        b.get("overall", b["face"]),
        b.get("thickness", _default(BOARD, "thickness", metric)),
        b.get("edge", "lapped"),
        stock,
        b.get("ends", "plain"),
        b.get("species", UNKNOWN),
        b.get("grain", "flat"),
    )
    rules = Rules(*[r.get(f.key, _default(RULES, f.key, metric)) for f in RULES])
    rows = v["walls"]
    walls = [read_wall(rows[i], i, rows[i + 1] if i + 1 < len(rows) else {}) for i in whole]
    ids = [id_of(rows[i], i) for i in range(len(rows))]
    done = read_done(v.get("done") or {})
    trade = read_trade(v, metric)
    return Job(v.get("title", ""), unit, board, rules, walls, len(rows), ids, done, trade)


def unmarked(job: Job) -> Job:
    """The job as if nothing were cut or called yet. Errors: none."""
    return planned_as(job, job.board, job.rules)


def planned_as(job: Job, board: Board, rules: Rules) -> Job:
    """The job with another board and other rules, as if nothing were cut. Errors: none."""
    return Job(job.title, job.unit, board, rules, job.walls, job.count, job.ids, None, job.trade)


def _default(fields: list[Field], key: str, metric: bool) -> Any:
    for f in fields:
        if f.key == key:
            return f.metric if metric else f.default
    raise KeyError(key)


def _read_all(
    doc: object,
) -> tuple[dict[str, Any], list[Problem], list[list[tuple[str, str]]]]:
    """(values read, by field, only those given and right; the problems; each wall's needs)."""
    if not isinstance(doc, dict):
        say = "The job is %s, not an object." % shown(doc)
        return {}, [Problem("", shown(doc), say, "Send an object.")], []
    unit = doc.get("unit")
    reader = Reader(unit if isinstance(unit, str) and unit in UNITS else "in")
    _check_format(doc, reader)
    values = reader.record("", "", doc, JOB)
    _check_board(values.get("board") or {}, reader)
    if (values.get("board") or {}).get("ends") == "matched" and values.get("rules", {}).get("trim"):
        reader.add_length(
            "rules.trim", values["rules"]["trim"], "Trim: %s takes the matched ends off.",
            "Give 0, or plain ends.", None,
        )  # fmt: skip
    per_wall = walls_needs(doc, MOST_WALLS)
    _check_walls(values, per_wall, reader)
    check_done(values.get("done") or {}, reader)
    return values, reader.problems, per_wall


def _check_format(doc: dict[str, Any], reader: Reader) -> None:
    if doc.get("format") != FORMAT:
        reader.add(
            "format", doc.get("format"), "format: this is not a %s file." % FORMAT,
            'Give "format": "%s".' % FORMAT,
        )  # fmt: skip
    version = doc.get("version")
    if version is True or version != VERSION:
        newer = isinstance(version, int) and version is not True and version > VERSION
        reader.add(
            "version", version, 'version: "%s" is not known here.' % shown(version),
            "Open it with a newer Lapwright." if newer else 'Give "version": %d.' % VERSION,
        )  # fmt: skip


def _check_board(b: dict[str, Any], reader: Reader) -> None:
    face, overall = b.get("face"), b.get("overall")
    if face is not None and overall is not None:
        if overall < face:
            reader.add_length(
                "board.overall", overall, "Overall width: %s is less than the face.",
                "Give %s or more; overall takes in the tongue or lap.", face,
            )  # fmt: skip
        elif overall > 2 * face:
            reader.add_length(
                "board.overall", overall, "Overall width: %s is more than twice the face.",
                "Give at most %s; check which is face and which overall.", 2 * face,
            )  # fmt: skip
        elif b.get("edge") == "square" and overall != face:
            reader.add_length(
                "board.overall", overall, "Overall width: %s differs from a square board's face.",
                "Give %s, or choose lapped or tongue-and-groove.", face,
            )  # fmt: skip
    stock = b.get("stock") or []
    seen = []
    for i in range(len(stock)):
        key = (stock[i].get("length"), stock[i].get("price"), stock[i].get("kind", "new"))
        if key[0] is not None and key in seen:
            reader.add_length(
                "board.stock[%d].length" % i, key[0], "Stock length %s is given twice.",
                "Give it once, with the count of both.", None,
            )  # fmt: skip
        seen.append(key)
    usable = [s for s in stock if s.get("count") != 0]
    if usable and not [s for s in usable if s.get("kind") != "offcut"]:
        reader.add(
            "board.stock", "offcuts", "Stock: there are offcuts alone, and no board to buy.",
            "Give the length of a board that can be bought.",
        )  # fmt: skip
    if stock and not usable:
        reader.add(
            "board.stock", 0, "Stock: every count is 0, so there is no board to cut.",
            "Give a count of 1 or more, or none for as many as wanted.",
        )  # fmt: skip


def _check_walls(
    values: dict[str, Any], per_wall: list[list[tuple[str, str]]], reader: Reader
) -> None:
    rules = values.get("rules") or {}
    names = []
    courses = 0
    heights: list[int] = []
    face = (values.get("board") or {}).get("face")
    for i, w in enumerate(values.get("walls") or []):
        path, label = "walls[%d]." % i, "Wall %d, " % (i + 1)
        name = wall_name(w, i)
        if name in names:
            reader.add(
                path + "name", name, '%sname: "%s" is taken.' % (label, name),
                "Give each wall a name of its own.",
            )  # fmt: skip
        names.append(name)
        least, height = check_wall(w, i, per_wall[i], reader)
        heights.append(height)
        widths = [w[k] for k in ("width_floor", "width_middle", "width_top") if k in w]
        if least > 0 and rules.get("floor_gap", 0) + rules.get("ceiling_gap", 0) >= least:
            reader.add_length(
                path + ("height_left" if "height_left" in w else "stations"), least,
                label + "height: %s is all gap.", "Give smaller gaps at floor and ceiling.", None,
            )  # fmt: skip
        if widths and 2 * rules.get("end_gap", 0) >= min(widths):
            reader.add_length(
                path + "width_floor", min(widths), label + "width: %s is all gap.",
                "Give a smaller end gap.", None,
            )  # fmt: skip
        if height and face:
            courses += height // face + 1
        if widths:
            _check_studs(w.get("studs") or {}, path + "studs.", label, widths[0], reader)
    if courses > MOST_COURSES:
        reader.add(
            "walls", courses, "The walls take %d courses." % courses,
            "Plan at most %d in one job; split it." % MOST_COURSES,
        )  # fmt: skip
    elif face:
        _check_size(values, heights, face, reader)


def _check_size(values: dict[str, Any], heights: list[int], face: int, reader: Reader) -> None:
    """Whether all walls that are measured so far can be planned at once."""
    longest = max([s.get("length", 0) for s in values["board"].get("stock") or [{}]])
    work = courses = pieces = most = 0
    for i, w in enumerate(values.get("walls") or []):
        widths = [w[k] for k in ("width_floor", "width_top") if k in w]
        studs = w.get("studs") or {}
        if not (longest and heights[i] and widths and "spacing" in studs):
            continue
        rows, width = -(-heights[i] // face), max(widths)
        grid = width // studs["spacing"]
        if grid > MOST_STUDS:
            continue  # told already
        marks = grid + len(studs.get("found") or [])
        work += wall_work(rows, width, marks + 2, longest)
        courses += rows
        pieces += rows * -(-width // longest)
        most = max(most, marks)
    if work + cutting_work(pieces) > MOST_WORK:
        size = "%d courses over %d studs" % (courses, most)
        reader.add(
            "walls", size, "The walls take %s, more than can be planned at once." % size,
            "Plan fewer walls in one job, or a part of the wall as a wall of its own.",
        )  # fmt: skip


def _check_studs(s: dict[str, Any], path: str, label: str, width: int, reader: Reader) -> None:
    if s.get("first") is not None and s["first"] >= width:
        reader.add_length(
            path + "first", s["first"], label + "first mark: %s is not inside the wall.",
            "Give less than %s, the wall's width.", width,
        )  # fmt: skip
    if s.get("spacing") is not None and width // s["spacing"] > MOST_STUDS:
        reader.add_length(
            path + "spacing", s["spacing"], label + "stud spacing: %s gives too many studs.",
            "Plan at most %d on one wall; split it." % MOST_STUDS, None,
        )  # fmt: skip
    rows = s.get("leaning") or []
    leaning = [("leaning[%d].at" % j, rows[j].get("at")) for j in range(len(rows))]
    marks = [(key, _listed(s, key)) for key in ("found", "missing", "doubled")]
    once = "Give it once, as found or as missing."
    _check_marks(marks[0][1] + marks[1][1], once, path, label, width, reader)
    _check_marks(marks[2][1], "Give it once.", path, label, width, reader)
    _check_marks(leaning, "Give it once.", path, label, width, reader)


def _listed(s: dict[str, Any], key: str) -> list[tuple[str, int | None]]:
    return [("%s[%d]" % (key, i), at) for i, at in enumerate(s.get(key) or [])]


def _check_marks(
    marks: list[tuple[str, int | None]],
    once: str,
    path: str,
    label: str,
    width: int,
    reader: Reader,
) -> None:
    """Tell of marks, (field, jots), that are beyond the wall or stand there twice."""
    seen = []
    for key, at in marks:
        if at is None:
            continue  # wrong, and told already
        what = label + key.split("[")[0] + " mark: "
        if at >= width:
            reader.add_length(
                path + key, at, what + "%s is not inside the wall.",
                "Give less than %s, the wall's width.", width,
            )  # fmt: skip
        if at in seen:
            reader.add_length(path + key, at, what + "%s is given twice.", once, None)
        seen.append(at)
