"""`lapwright plan`: a cut list from a job file; every bad file is told in one line."""

import io
import json
from pathlib import Path, PureWindowsPath
from xml.etree import ElementTree

import pytest

from calc import cutcsv
from calc.cutlist import text
from server import serve
from server.cli import main
from server.folders import data_folder


@pytest.fixture
def file(tmp_path, job):
    path = tmp_path / "job.json"
    path.write_text(json.dumps(job), encoding="utf-8")
    return path


def test_it_prints_the_cut_list(file, capsys):
    assert main(["plan", str(file)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert main(["plan", "--json", str(file)]) == 0
    plan = json.loads(capsys.readouterr().out)
    assert plan["format"] == "lapwright-plan"
    assert out == text(plan)
    for piece in plan["pieces"]:
        assert piece["id"] in out


@pytest.fixture
def some(tmp_path, partial):
    path = tmp_path / "some.json"
    path.write_text(json.dumps(partial), encoding="utf-8")
    return str(path)


NOT_YET = "lapwright: Not planned yet: Give the width of Later at the floor.\n"


def test_walls_that_are_not_planned_yet_are_told_and_the_others_planned(some, capsys):
    assert main(["plan", some]) == 0
    out, err = capsys.readouterr()
    assert "\nNOT PLANNED YET\n  - Give the width of Later at the floor.\n" in out
    assert "HANG East" in out
    assert err == ""
    assert main(["plan", some, "--json"]) == 0
    out, err = capsys.readouterr()
    assert [w["number"] for w in json.loads(out)["walls"]] == [1, 3]
    assert err.startswith(NOT_YET)


def test_it_prints_csv(some, capsys):
    assert main(["plan", some, "--json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    assert main(["plan", some, "--csv"]) == 0
    out, err = capsys.readouterr()
    assert out == cutcsv.text(plan)
    assert err.startswith(NOT_YET)


def test_it_prints_the_take_off(some, capsys):
    assert main(["plan", some, "--take-off"]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("SHOPPING LIST") and "NAILS" in out and "CASING" in out
    assert "boards of" in out and err.startswith(NOT_YET)


def test_csv_is_utf_8_with_its_own_line_ends_wherever_it_goes(tmp_path, partial, monkeypatch):
    """RFC 4180, section 2.1: CRLF; a terminal's own letters and line ends don't matter."""
    partial["title"] = "Süd"
    path = tmp_path / "job.json"
    path.write_text(json.dumps(partial), encoding="utf-8")
    raw = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(raw, "ascii", newline="\r\n"))
    assert main(["plan", str(path), "--csv"]) == 0
    written = raw.getvalue().decode("utf-8")
    assert "Süd" in written
    assert written.count("\r\n") == written.count("\n") > 20
    assert "\r\r" not in written


@pytest.mark.parametrize("wall", ["3", "East"])
@pytest.mark.parametrize(("paper", "width"), [(None, "297mm"), ("Letter", "279.40mm")])
def test_it_draws_a_wall(some, capsys, wall, paper, width):
    assert main(["plan", some, "--svg", wall, *(["--paper", paper] if paper else [])]) == 0
    out, err = capsys.readouterr()
    root = ElementTree.fromstring(out)
    assert root.get("width") == width
    assert "East" in "".join(root.itertext())
    assert err.startswith(NOT_YET)


@pytest.mark.parametrize(
    ("options", "code", "says"),
    [
        (["--svg", "2"], 2, "wall: there is no wall 2 in the plan. Give its number: 1, 3."),
        (["--svg", ""], 2, "there is no wall"),
        (["--paper", "A4"], 1, "--paper goes with --svg. Name the wall to draw: --svg 1."),
    ],
)
def test_a_wall_that_can_not_be_drawn_is_named(some, capsys, options, code, says):
    assert main(["plan", some, *options]) == code
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("lapwright: ") and says in err


@pytest.mark.parametrize(
    "options", [["--json", "--csv"], ["--csv", "--svg", "1"], ["--svg", "1", "--paper", "A3"]]
)
def test_options_that_do_not_go_together_are_told(some, capsys, options):
    with pytest.raises(SystemExit) as e:
        main(["plan", some, *options])
    assert e.value.code == 2
    assert "lapwright plan: error: argument --" in capsys.readouterr().err


@pytest.mark.parametrize("form", [[], ["--json"], ["--csv"], ["--svg", "1"]])
def test_every_form_names_every_problem_of_the_job(tmp_path, capsys, partial, form):
    partial["rules"] = {"kerf": "thin", "colour": "blue"}
    partial["walls"][2]["openings"][0]["width"] = "-3"
    path = tmp_path / "job.json"
    path.write_text(json.dumps(partial))
    assert main(["plan", str(path), *form]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert len(lines) == 3
    for field, value in (
        ("rules.kerf", "thin"),
        ("rules.colour", "is not a field"),
        ("walls[2].openings[0].width", "-3"),
    ):
        (line,) = [line for line in lines if field in line]
        assert value in line and line.endswith(".")


def test_it_reads_standard_input_and_a_byte_order_mark(file, capsys, monkeypatch):
    assert main(["plan", str(file)]) == 0
    expected = capsys.readouterr().out
    stdin = io.TextIOWrapper(io.BytesIO(b"\xef\xbb\xbf" + file.read_bytes()))
    monkeypatch.setattr("sys.stdin", stdin)
    assert main(["plan", "-"]) == 0
    assert capsys.readouterr().out == expected


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "There is no JSON here. Give a JSON object."),
        (b"{", "The text is not JSON: line 1, column 2, at the end of the text."),
        (b"\x89PNG\r\n\x1a\n", "The text is not UTF-8. Save it as UTF-8."),
        (b"[]", "The job is a list, not an object. Send an object."),
        (b"{}", "format: this is not a lapwright-job file."),
        (b'{"format": "lapwright-plan", "version": 1}', "this is not a lapwright-job file."),
        (b'{"format": "lapwright-job", "version": 9}', "Open it with a newer Lapwright."),
        (b'{"format": "lapwright-job", "version": 1}', "board.face is not given."),
        (b'{"format": "lapwright-job", "version": 1, "unit": "yd"}', "yd"),
        (b'{"format": "lapwright-job", "version": 1, "version": 1}', '"version" is given twice.'),
    ],
)
def test_a_bad_file_is_told(tmp_path, capsys, content, says):
    path = tmp_path / "job.json"
    path.write_bytes(content)
    assert main(["plan", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err
    assert all(line.startswith("lapwright: ") for line in err.splitlines())


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("none.json", "there is no such file. Check the name and the folder."),
        (".", "that is a folder. Name the job file in it."),
        ("a\0b", "it can't be read. Name a job file."),
        ("x" * 5000, "it can't be read. Name a job file."),
    ],
)
def test_what_is_no_file_is_told(tmp_path, monkeypatch, capsys, name, says):
    monkeypatch.chdir(tmp_path)
    assert main(["plan", name]) == 2
    assert says in capsys.readouterr().err


def test_each_problem_has_a_line_with_field_value_and_fix(tmp_path, capsys, job):
    job["board"]["face"] = "wide"
    job["walls"][0]["height_left"] = "7 ells"
    path = tmp_path / "job.json"
    path.write_text(json.dumps(job))
    assert main(["plan", str(path)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 2
    assert "board.face" in lines[0]
    assert "wide" in lines[0]
    assert "walls[0].height_left" in lines[1]
    assert "7 ells" in lines[1]


def test_a_wrong_option_is_no_traceback(capsys):
    with pytest.raises(SystemExit) as e:
        main(["plan"])
    assert e.value.code == 2
    assert "JOB.json" in capsys.readouterr().err


def test_the_usual_port_taken_gives_the_next(app, monkeypatch):
    asked = []

    def check(host, port, option):
        asked.append(port)
        if port < 8130:
            raise serve.CannotListen("taken", taken=True)
        raise serve.CannotListen("enough")

    monkeypatch.setattr(serve, "_check_free", check)
    with pytest.raises(serve.CannotListen, match="enough"):
        serve._listening(app, "127.0.0.1", None, 8128, "--port")
    assert asked == [8128, 8129, 8130]


def test_the_data_folder_of_each_system():
    """XDG Base Directory specification: a relative XDG_DATA_HOME is ignored."""
    home = Path("/home/someone")
    assert data_folder("linux", {}, home) == home / ".local/share/lapwright"
    assert data_folder("linux", {"XDG_DATA_HOME": "/data"}, home) == Path("/data/lapwright")
    assert data_folder("linux", {"XDG_DATA_HOME": "d"}, home) == home / ".local/share/lapwright"
    mac = data_folder("darwin", {}, home)
    assert mac == home / "Library/Application Support/Lapwright"
    windows = data_folder("win32", {"LOCALAPPDATA": r"C:\Users\x\AppData\Local"}, home)
    assert PureWindowsPath(str(windows)).name.endswith("Lapwright")
    assert data_folder("win32", {}, home) == home / "AppData/Local/Lapwright"
