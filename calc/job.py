"""The job file, lapwright-job version 1: what is wrong with it, what is missing, its records.

DEVELOPERS.md has the table of fields; jobfields.py is that table. A draft may
lack anything but its format and version; what is there must be right.
"""

from collections import namedtuple

from .jobfields import BOARD, JOB, MOST_COURSES, MOST_STUDS, MOST_WALLS, RULES, Field
from .jobread import Reader, given
from .lengths import UNITS
from .problems import InputError, Problem, shown
from .size import MOST_WORK, cutting_work, wall_work

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

FORMAT = "lapwright-job"
VERSION = 1

# Lengths in jots. unit is one of UNITS; walls is a list of Wall.
Job = namedtuple("Job", "title unit board rules walls")
# edge is "lapped", "tongue-and-groove" or "square"; stock is a list of Stock.
Board = namedtuple("Board", "face overall thickness edge stock")
# price is whole hundredths of the money used, or None; count the boards to be had, or None.
Stock = namedtuple("Stock", "length price count")
Rules = namedtuple(
    "Rules",
    "start courses kerf end_gap joint_gap floor_gap ceiling_gap shortest stagger least_rip",
)
Wall = namedtuple("Wall", "name height_left height_right width_floor width_top studs")
# first, spacing in jots; found and missing are lists of jots from the left corner.
Studs = namedtuple("Studs", "first spacing found missing")


def check_job(doc: object) -> list[Problem]:
    """Everything that is wrong with what the job document holds, in field order.

    doc: the parsed JSON. Missing fields are no problem (see needs), but for
    format and version. An empty list means it can be stored. Errors: none.
    """
    return _read_all(doc)[1]


def needs(doc: object) -> list[tuple[str, str]]:
    """What is still missing before the job can be planned: (path, message).

    doc: the parsed JSON. A field that is there but wrong is not missing; see
    check_job. Errors: none.
    """
    if not isinstance(doc, dict):
        return []
    out: list[tuple[str, str]] = []
    board = doc.get("board", {})
    _need(out, board, "face", "board.face", "Give the board's face: the height one course covers.")
    stock = board.get("stock", []) if isinstance(board, dict) else None
    if stock == []:
        out.append(("board.stock", "Give at least one stock length."))
    for i, line in _shown_ones(stock):
        say = "Give the length of stock %d." % (i + 1)
        _need(out, line, "length", "board.stock[%d].length" % i, say)
    walls = doc.get("walls", [])
    if walls == []:
        out.append(("walls", "Measure at least one wall."))
    for i, wall in _shown_ones(walls):
        if not isinstance(wall, dict):
            continue
        path, name = "walls[%d]." % i, shown(_wall_name(wall, i))
        _need(out, wall, "height_left", path + "height_left", "Give the height of %s." % name)
        say = "Give the width of %s at the floor." % name
        _need(out, wall, "width_floor", path + "width_floor", say)
        studs = wall.get("studs", {})
        say = "Give the first stud mark of %s." % name
        _need(out, studs, "first", path + "studs.first", say)
        say = "Give the stud spacing of %s." % name
        _need(out, studs, "spacing", path + "studs.spacing", say)
    return out


def _shown_ones(rows: object) -> list[tuple[int, object]]:
    """(index, row) of a list; none of what is no list, or has far too many to name each."""
    return list(enumerate(rows)) if isinstance(rows, list) and len(rows) <= MOST_WALLS else []


def _need(out: list[tuple[str, str]], doc: object, key: str, path: str, say: str) -> None:
    """Add the need for the field to `out`; what is no object is wrong, not missing."""
    if isinstance(doc, dict) and not given(doc, key):
        out.append((path, say))


def read_job(doc: object) -> Job:
    """The job's records in jots, defaults filled in.

    Raises InputError with every problem of check_job, or else with one
    problem per missing field of needs.
    """
    v, problems = _read_all(doc)
    if not problems:
        problems = [
            Problem(path, "nothing", "%s is not given." % path, message)
            for path, message in needs(doc)
        ]
    if problems:
        raise InputError(problems)
    unit = v.get("unit", "in")
    b, r = v["board"], v.get("rules") or {}
    metric = unit not in ("in", "ft")
    stock = [Stock(s["length"], s.get("price"), s.get("count")) for s in b["stock"]]
    board = Board(
        b["face"],
        b.get("overall", b["face"]),
        b.get("thickness", _default(BOARD, "thickness", metric)),
        b.get("edge", "lapped"),
        stock,
    )
    rules = Rules(*[r.get(f.key, _default(RULES, f.key, metric)) for f in RULES])
    walls = []
    for i in range(len(v["walls"])):
        w = v["walls"][i]
        s = w["studs"]
        walls.append(
            Wall(
                _wall_name(w, i),
                w["height_left"],
                w.get("height_right", w["height_left"]),
                w["width_floor"],
                w.get("width_top", w["width_floor"]),
                Studs(s["first"], s["spacing"], s.get("found", []), s.get("missing", [])),
            )
        )
    return Job(v.get("title", ""), unit, board, rules, walls)


def _default(fields: list[Field], key: str, metric: bool) -> Any:
    for f in fields:
        if f.key == key:
            return f.metric if metric else f.default
    raise KeyError(key)


def _wall_name(wall: dict[str, Any], i: int) -> str:
    return str(wall.get("name") or "Wall %d" % (i + 1))


def _read_all(doc: object) -> tuple[dict[str, Any], list[Problem]]:
    """(values read, by field, only those given and right; the problems)."""
    if not isinstance(doc, dict):
        return {}, [
            Problem("", shown(doc), "The job is %s, not an object." % shown(doc), "Send an object.")
        ]
    unit = doc.get("unit")
    reader = Reader(unit if isinstance(unit, str) and unit in UNITS else "in")
    _check_format(doc, reader)
    values = reader.record("", "", doc, JOB)
    _check_board(values.get("board") or {}, reader)
    _check_walls(values, reader)
    return values, reader.problems


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
        key = (stock[i].get("length"), stock[i].get("price"))
        if key[0] is not None and key in seen:
            reader.add_length(
                "board.stock[%d].length" % i, key[0], "Stock length %s is given twice.",
                "Give it once, with the count of both.", None,
            )  # fmt: skip
        seen.append(key)
    if stock and not [s for s in stock if s.get("count") != 0]:
        reader.add(
            "board.stock", 0, "Stock: every count is 0, so there is no board to cut.",
            "Give a count of 1 or more, or none for as many as wanted.",
        )  # fmt: skip


def _check_walls(values: dict[str, Any], reader: Reader) -> None:
    rules = values.get("rules") or {}
    names = []
    courses = 0
    face = (values.get("board") or {}).get("face")
    for i, w in enumerate(values.get("walls") or []):
        path, label = "walls[%d]." % i, "Wall %d, " % (i + 1)
        name = _wall_name(w, i)
        if name in names:
            reader.add(
                path + "name", name, '%sname: "%s" is taken.' % (label, name),
                "Give each wall a name of its own.",
            )  # fmt: skip
        names.append(name)
        heights = [w[k] for k in ("height_left", "height_right") if k in w]
        widths = [w[k] for k in ("width_floor", "width_top") if k in w]
        if heights and rules.get("floor_gap", 0) + rules.get("ceiling_gap", 0) >= min(heights):
            reader.add_length(
                path + "height_left", min(heights), label + "height: %s is all gap.",
                "Give smaller gaps at floor and ceiling.", None,
            )  # fmt: skip
        if widths and 2 * rules.get("end_gap", 0) >= min(widths):
            reader.add_length(
                path + "width_floor", min(widths), label + "width: %s is all gap.",
                "Give a smaller end gap.", None,
            )  # fmt: skip
        if heights and face:
            courses += max(heights) // face + 1
        if widths:
            _check_studs(w.get("studs") or {}, path + "studs.", label, min(widths), reader)
    if courses > MOST_COURSES:
        reader.add(
            "walls", courses, "The walls take %d courses." % courses,
            "Plan at most %d in one job; split it." % MOST_COURSES,
        )  # fmt: skip
    elif face:
        _check_size(values, face, reader)


def _check_size(values: dict[str, Any], face: int, reader: Reader) -> None:
    """Whether all walls that are measured so far can be planned at once."""
    longest = max([s.get("length", 0) for s in values["board"].get("stock") or [{}]])
    work = courses = pieces = most = 0
    for w in values.get("walls") or []:
        heights = [w[k] for k in ("height_left", "height_right") if k in w]
        widths = [w[k] for k in ("width_floor", "width_top") if k in w]
        studs = w.get("studs") or {}
        if not (longest and heights and widths and "spacing" in studs):
            continue
        rows, width = -(-max(heights) // face), max(widths)
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
    seen = []
    for key in ("found", "missing"):
        for i, at in enumerate(s.get(key) or []):
            if at is None:
                continue  # wrong, and told already
            where = "%s%s[%d]" % (path, key, i)
            if at >= width:
                reader.add_length(
                    where, at, label + key + " mark: %s is not inside the wall.",
                    "Give less than %s, the wall's width.", width,
                )  # fmt: skip
            if at in seen:
                reader.add_length(
                    where, at, label + key + " mark: %s is given twice.",
                    "Give it once, as found or as missing.", None,
                )  # fmt: skip
            seen.append(at)
