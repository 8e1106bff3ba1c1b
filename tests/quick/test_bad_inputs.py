"""Bad inputs: each is named with its value and a fix, and nothing is answered."""

import json

import pytest

from calc.bridge import call
from calc.lengths import UNITS
from calc.quick import every
from calc.quick.declare import declaration

BOX = {"bottom": "3", "top": "6 3/4", "left": "20", "right": "22 1/4", "face": "5 1/8"}
BOX["edge"] = "square"
METRIC = {"face": 130, "edge": "square"}
LAPPED = {**BOX, "edge": "lapped"}
MOIST = {"width": "5", "moisture": "8"}
SQUARE = {"width": "36", "height": "48"}
WALL = {"width": "150", "height": "96", "face": "5 1/8", "board": "144"}
ROW = {"length": "48", "pieces": "12"}
JAMB = {"top_left": "0", "top_right": "0", "bottom_left": "0", "bottom_right": "0"}

# calculator, values, field, what the message says, what the fix says
BAD = [
    ("remaining-run", {"run": "twelve"}, "run", 'Run, corner to corner: "twelve"', "Use in, ft"),
    ("remaining-run", {"run": "0"}, "run", 'Run, corner to corner: "0"', 'Give more than 0"'),
    ("remaining-run", {"run": "75 2/3"}, "run", "a tape has no 2/3", "nearest is 43/64"),
    ("remaining-run", {"run": "1/4"}, "run", 'Run: 1/4" is no longer than', "smaller end gap"),
    ("remaining-run", {"run": "90", "up": "50;40"}, "up", 'which is 1/4" more', 'cut 1/4" off'),
    ("remaining-run", {"run": "90", "up": "50;0"}, "up", 'board 2 is 0" long', "take it out"),
    ("remaining-run", {"run": "90", "up": "50;x"}, "up", 'Boards already up: "x"', "Use in"),
    (
        "remaining-run",
        {"run": "90", "stock": "12"},
        "shortest",
        '16" is longer than a board, 12"',
        "under the board length",
    ),
    ("remaining-run", {"run": "90", "run_top": "91"}, "face", "nothing is given", "height"),
    (
        "remaining-run",
        {"run": "90", "run_top": "1/4", "face": "5"},
        "run_top",
        '1/4" is no longer than',
        "longer run",
    ),
    ("remaining-run", {"run": "90", "rum": "1"}, "rum", 'no field "rum"', "Its fields are"),
    ("box-notch", {**BOX, "top": "3"}, "top", '3" is not beyond the lower edge', "same place"),
    ("box-notch", {**BOX, "right": "46"}, "right", "which is no device box", '24" is the most'),
    ("box-notch", LAPPED, "overall", "nothing is given", "with its lap"),
    ("box-notch", {**LAPPED, "overall": "5"}, "overall", "does not go with", "plus the lap"),
    ("box-notch", {**BOX, "end": "30"}, "end", "past the box", "same corner"),
    ("box-notch", {**BOX, "piece": "15"}, "piece", "ends before the box", "meets the box"),
    ("box-notch", {**BOX, "gangs": "7"}, "gangs", '"7" is out of range', "Give 1 to 6"),
    ("box-notch", {**BOX, "gangs": "two"}, "gangs", "not a whole number", "like 2"),
    ("box-notch", {**BOX, "standard": "x"}, "standard", "not one of the choices", "Choose us"),
    ("box-notch", {**BOX, "sideways": "up"}, "sideways", "neither yes nor no", "yes or no"),
    ("box-notch", {**BOX, "face": "1/2"}, "face", '"1/2" is out of range', 'Give 3/4" to 39-3/8"'),
    ("stud-marks", {"width": "90", "first": "-3"}, "first", "less than nothing", "0 or more"),
    ("stud-marks", {"width": "90", "first": "90"}, "first", 'not on a wall of 90"', "under"),
    ("stud-marks", {"width": "90", "first": "9", "found": "91"}, "found", '91" is not', "between"),
    (
        "stud-marks",
        {"width": "20", "first": "16", "missing": "16"},
        "missing",
        "none is left",
        "by probing",
    ),
    (
        "stud-marks",
        {"width": "90", "first": "9", "spacing": "other"},
        "other",
        "nothing is given",
        "20 in",
    ),
    (
        "stud-marks",
        {"width": "90", "first": "9", "spacing": "other", "other": "2"},
        "other",
        "out of range",
        'Give 3-15/16" to',
    ),
    (
        "stud-marks",
        {"width": "90", "first": "9", "board": "48", "begin": "9"},
        "begin",
        "there is no mark 9",
        "1 to 6",
    ),
    ("stud-marks", {"width": "90", "first": "9", "ceiling": "8"}, "height", "needs it", "clear"),
    ("jamb-extension", {**JAMB, "top_left": True}, "top_left", "is not a length", "tape reading"),
    ("jamb-extension", {**JAMB, "reveal": "3/16 heavy light"}, "reveal", "leans twice", "once"),
    ("jamb-extension", {**JAMB, "width": "0"}, "width", '"0" is out of range', 'more than 0"'),
    ("wood-movement", {"width": "1/4", "moisture": "8"}, "width", "out of range", 'Give 3/8"'),
    ("wood-movement", {"width": "5", "moisture": "wet"}, "moisture", "no number", "like 12 %"),
    ("wood-movement", {"width": "5", "moisture": "61"}, "moisture", "out of range", "1 % to 60 %"),
    ("wood-movement", {**MOIST, "species": "teak"}, "species", "not one of", "Choose unknown"),
    ("wood-movement", {**MOIST, "grain": "end"}, "grain", "not one of", "flat or vertical"),
    ("wood-movement", {**MOIST, "lap": "6"}, "lap", "more than the face", "less the face"),
    ("wood-movement", {**MOIST, "driest": "11"}, "dampest", "10 % is drier", "at least 11 %"),
    ("wood-movement", {**MOIST, "dampest": "40"}, "dampest", "out of range", "1 % to 30 %"),
    ("wood-movement", {**MOIST, "length": "6"}, "length", "out of range", "Give 11-13/16"),
    ("room-moisture", {"temperature": "20 K"}, "temperature", "not known here", "or in"),
    ("room-moisture", {"temperature": "29"}, "temperature", "out of range", "30 °F to 130 °F"),
    ("room-moisture", {"humidity": "100"}, "humidity", "out of range", "0 % to 99 %"),
    ("room-moisture", {"other": "-1"}, "other", "out of range", "0 % to 99 %"),
    ("room-moisture", {"moisture": "0.5"}, "moisture", "out of range", "1 % to 60 %"),
    ("casing", {"width": "34", "height": "0"}, "height", '"0" is out of range', 'Give 3/8"'),
    ("casing", {"width": "34", "height": "50", "foot": "sill"}, "foot", "choices", "Choose stool"),
    ("casing", {"width": "34", "height": "50", "space": "-1"}, "space", "less than", "0 or more"),
    ("level-taper", {"run": "96"}, "off", "nothing is given", "digital level"),
    ("level-taper", {"run": "96", "off": "1", "angle": "1"}, "angle", "too", "one of them out"),
    ("level-taper", {"run": "96", "off": "6", "level": "6"}, "off", "as much as", "Give the gap"),
    ("level-taper", {"run": "96", "angle": "45"}, "angle", "out of range", "Give 0 ° to 30 °"),
    ("level-taper", {"run": "96", "angle": "one"}, "angle", '"one" is no number', "like 12"),
    ("square-check", {**SQUARE, "one": "90"}, "one", "no triangle", 'square corner it is 60"'),
    (
        "square-check",
        {**SQUARE, "one": "60", "two": "12"},
        "two",
        "no triangle",
        "Measure it again",
    ),
    ("mitre", {"corner": "180"}, "corner", "out of range", "Give 20 ° to 179 °"),
    ("mitre", {"corner": "90", "run": "0"}, "run", "out of range", "more than"),
    ("rake", {"face": "5", "rise": "0"}, "rise", "out of range", "more than"),
    ("rake", {"face": "5/0", "rise": "4"}, "face", "divides by nothing", "3/4"),
    (
        "board-estimate",
        {**WALL, "face": "wide"},
        "face",
        '"wide" in "wide" is not a unit',
        "Use in",
    ),
    ("board-estimate", {**WALL, "board": "8"}, "board", '"8" is out of range', 'Give 12" to'),
    ("board-estimate", {**WALL, "openings": "30"}, "openings", '30" has no height', "one after"),
    (
        "board-estimate",
        {**WALL, "openings": "100;96;60;96"},
        "openings",
        "106.7 sq ft is no less than the wall, 100 sq ft",
        "read the wall again",
    ),
    ("board-estimate", {**WALL, "less": "12 stones"}, "less", '"stones" is not known', "sq ft"),
    ("board-estimate", {**WALL, "over": "101 %"}, "over", "out of range", "Give 0 % to 100 %"),
    ("paint", {"height": "96"}, "widths", "nothing is given to coat", "Give a width"),
    (
        "paint",
        {"height": "96", "widths": "60", "openings": "40"},
        "openings",
        "40 sq ft is no less than what there is to coat, 40 sq ft",
        "Give the openings' area",
    ),
    ("paint", {"height": "96", "widths": "60", "rate": "0"}, "rate", "out of range", "Give 20.4"),
    ("paint", {"height": "96", "widths": "60", "can": "tin"}, "can", '"tin" is no number', "gal"),
    ("paint", {"height": "96", "widths": "60", "loss": "95"}, "loss", "out of range", "to 90 %"),
    ("paint", {"height": "96", "widths": "60", "film": "-1"}, "film", "out of range", "mil"),
    ("paint", {"height": "96", "widths": "60", "coats": "0"}, "coats", "out of range", "1 to 6"),
    ("tape-error", {**ROW, "length": "0"}, "length", "out of range", "more than"),
    ("tape-error", {**ROW, "pieces": "0"}, "pieces", '"0" is out of range', "Give 1 to 60"),
    ("tape-error", {**ROW, "grade": "IV"}, "grade", "not one of the choices", "I or II or III"),
    ("tape-error", {**ROW, "mark": "0"}, "mark", "out of range", "more than"),
    ("finish-hours", {"boards": "0"}, "boards", "out of range", "Give 1 to 2000"),
    ("finish-hours", {"boards": "9", "dry": "soon"}, "dry", '"soon" is no number', "12 h"),
    ("finish-hours", {"boards": "9", "pace": "0"}, "pace", "out of range", "Give 0.2 to 60"),
    ("nails", {"thickness": "0"}, "thickness", '"0" is out of range', 'more than 0"'),
    ("nails", {"thickness": "3/4", "gauge": "14"}, "gauge", "not one of the choices", "15 or 16"),
    ("nails", {"thickness": "3/4", "length": "8"}, "length", '"8" is out of range', "Give 3/8"),
    ("nails", {"thickness": "3/4", "made": "oak"}, "made", "not one of the choices", "wood or mdf"),
    ("nail-hold", {"depth": "deep"}, "depth", 'Length in the stud: "deep"', "Use in, ft"),
    ("nail-hold", {"depth": "1", "nails": "0"}, "nails", '"0" is out of range', "Give 1 to 1000"),
    (
        "nail-hold",
        {"depth": "1", "gauge": "other", "diameter": "1"},
        "diameter",
        '"1" is out of range',
        "Give 0.0197 in to 0.3937 in",
    ),
    ("nail-hold", {"depth": "1", "gauge": "other"}, "diameter", "nothing is given", "a gauge"),
    ("box-extension", {"thickness": "3/4", "by": "1"}, "by", "the box is flush", "or give 0"),
    ("box-extension", {"thickness": "3/4", "gangs": "0"}, "gangs", "out of range", "Give 1 to 6"),
    ("box-extension", {"thickness": "3/4", "width": "0"}, "width", "out of range", "Give 3/8"),
]


def _ask(name, values, unit="in"):
    return json.loads(
        call(json.dumps({"do": "quick", "name": name, "values": values, "unit": unit}))
    )


@pytest.mark.parametrize(("name", "values", "field", "message", "fix"), BAD)
def test_it_is_named_with_a_fix(name, values, field, message, fix):
    reply = _ask(name, values)
    assert reply["answer"] is None
    problem = next(p for p in reply["problems"] if p["field"] == field)
    assert message in problem["message"]
    assert fix in problem["fix"]
    assert problem["value"]


@pytest.mark.parametrize("calculator", every(), ids=[c.name for c in every()])
def test_every_length_and_list_has_an_end(calculator):
    for field in calculator.fields:
        if field.kind in ("length", "lengths"):
            assert 0 <= field.lo < field.hi <= 100000 * 320, field.key  # 100 m
            given = {field.key: "999999 m"}
            problem = next(
                p for p in _ask(calculator.name, given)["problems"] if p["field"] == field.key
            )
            assert "out of range" in problem["message"]
            assert " to " in problem["fix"]
        if field.kind == "lengths":
            assert 0 < field.most <= 400


@pytest.mark.parametrize(
    ("number", "jots"),
    # 1 mm = 320 jots (DEVELOPERS.md); 254 * 0.1 in doubles is 25.400000000000002
    [(254 * 0.1, 8128), (25.4, 8128), (1e-05, 0), (900, 288000), (0.1 + 0.2, 96)],
)
def test_a_number_is_millimetres_however_many_digits_it_has(number, jots):
    answer = _ask("jamb-extension", {**JAMB, "top_left": number, "thickness": 0})["answer"]
    assert ["top_left", jots] in answer["values"]


@pytest.mark.parametrize("number", [-1, -1e-3, 1e300, 1e9, 100001])
def test_a_number_that_is_no_length_is_out_of_range(number):
    (problem,) = _ask("remaining-run", {"run": number})["problems"]
    assert problem["field"] == "run"
    assert problem["value"].endswith(" mm")
    assert "out of range" in problem["message"]
    assert "Give" in problem["fix"]


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("calculator", every(), ids=[c.name for c in every()])
def test_labels_fit_a_narrow_phone_and_defaults_can_be_read(calculator, unit):
    for field in declaration(calculator, unit)["fields"]:
        assert 0 < len(field["label"]) <= 28
        assert len(field["hint"]) <= 40
    # Nothing typed: only what is needed is asked for, and no default is refused.
    reply = _ask(calculator.name, {}, unit)
    assert reply["problems"] == []
    needed = [f.key for f in calculator.fields if f.needed and not f.default]
    assert reply["needs"] == [k for k in needed if k not in ("found", "missing", "up")] != []


@pytest.mark.parametrize("unit", ["mm", "cm", "m"])
@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("remaining-run", {"run": 5000, "run_top": 5003, "face": 130, "up": [2400], "stock": 2400}),
        ("box-notch", {"bottom": 80, "top": 175, "left": 500, "right": 560} | METRIC),
        (
            "stud-marks",
            {"width": 3000, "first": 400, "ceiling": 440, "height": 2400, "board": 2400},
        ),
        ("jamb-extension", {"top_left": 0, "top_right": 5, "bottom_left": 0, "bottom_right": 0}),
        ("wood-movement", {"width": 130, "lap": 1, "moisture": 35, "driest": 4}),
        ("wood-movement", {"width": 130, "moisture": 3, "species": "mdf", "length": 2400}),
        ("room-moisture", {"temperature": 20, "humidity": 90, "other": 30, "moisture": 20}),
        ("casing", {"width": 900, "height": 1200, "space": 40}),
        ("level-taper", {"off": 9, "run": 2400}),
        ("level-taper", {"off": 30, "run": 4800, "way": "level"}),
        ("square-check", {"width": 900, "height": 1200, "one": 1503, "two": 1520}),
        ("mitre", {"corner": "92", "rise": 333}),
        ("rake", {"face": 130, "rise": 333, "width": 3000}),
        ("board-estimate", {"width": 4000, "height": 2410, "face": 120, "board": 3600}),
        ("paint", {"widths": [4000], "height": 2400, "solids": "40", "film": "40"}),
        ("tape-error", {"length": 900, "pieces": "12"}),
        ("finish-hours", {"boards": "40"}),
        ("nails", {"thickness": 3, "wallboard": 0, "length": 80, "made": "mdf"}),
        ("nails", {"thickness": 30, "wallboard": 20, "gauge": "18"}),
        ("nail-hold", {"depth": 25}),
        ("box-extension", {"thickness": 19, "stands": "back", "by": 10, "standard": "us"}),
    ],
)
def test_no_inches_are_left_in_a_metric_job(name, values, unit):
    answer = _ask(name, values, unit)["answer"]
    answer.pop("cautions")  # a code's own figures, given in both
    text = json.dumps(answer, ensure_ascii=False)
    assert '\\"' not in text
    assert " in per " not in text and " in 8 ft" not in text
    assert " inch" not in text
