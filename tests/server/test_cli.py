"""`lapwright plan`: a cut list from a job file; every bad file is told in one line."""

import io
import json
from pathlib import Path, PureWindowsPath

import pytest

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

    def check(host, port):
        asked.append(port)
        if port < 8130:
            raise serve.CannotListen("taken", taken=True)
        raise serve.CannotListen("enough")

    monkeypatch.setattr(serve, "_check_free", check)
    with pytest.raises(serve.CannotListen, match="enough"):
        serve._listening(app, "127.0.0.1", None)
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
