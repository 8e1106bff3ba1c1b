"""calc as it travels: two files of bytecode, what a quick answer needs and the rest."""

import json
import os
import re
import shutil
import subprocess
import sys

import pytest

from calc.bridge import QUICK, VERBS
from server.app import ROOT
from server.compiled import bytecode, in_two
from server.division import of_quick


def unpacked(client, url):
    """(the mark, name -> bytecode) of one of calc's two files."""
    head, _, code = client.get(url).data.partition(b"\n")
    told = json.loads(head)
    files = {}
    rest = sum(size for _, size, _ in told["files"])
    names = code[:rest]
    for name, first, second in told["files"]:
        files[name] = names[:first] + code[rest : rest + second]
        names, rest = names[first:], rest + second
    assert (names, rest) == (b"", len(code))
    return told["calc"], files


def test_calc_travels_whole_in_two_files_of_one_mark(client, job):
    mark, quick = unpacked(client, "/quick.bin")
    same, rest = unpacked(client, "/job.bin")
    assert mark == same == client.post("/api/plan", json={"job": job}).get_json()["calc"]
    assert re.fullmatch("[0-9a-f]{32}", mark)
    assert not quick.keys() & rest.keys()
    sources = {p.relative_to(ROOT).as_posix(): p for p in ROOT.glob("calc/**/*.py")}
    assert quick | rest == bytecode(sources)
    for one in (quick | rest).values():
        # MicroPython's documentation, ".mpy files": the letter M, then the version, 6 since 1.19.
        assert one[:2] == b"M\x06"


def test_the_mark_is_of_both_files(tmp_path):
    files = {"calc/__init__.py": "", "calc/bridge.py": "", "calc/job.py": "x = 1\n"}
    sources = {name: tmp_path / name for name in files}
    (tmp_path / "calc").mkdir()
    marks = set()
    for name in ("calc/job.py", "calc/bridge.py"):
        for path in sources.values():
            path.write_text(files[path.relative_to(tmp_path).as_posix()])
        marks.add(in_two(sources)[2])
        sources[name].write_text("y = 2\n")
        marks.add(in_two(sources)[2])
    assert len(marks) == 3


def test_the_quick_part_answers_every_quick_verb_and_no_other(tmp_path):
    """Run apart, where the rest of calc is not there to be imported."""
    sources = {p.relative_to(ROOT).as_posix(): p for p in ROOT.glob("calc/**/*.py")}
    for name in of_quick(sources):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(sources[name], tmp_path / name)
    done = subprocess.run(
        [sys.executable, "-P", "-c", ASK_EVERY_VERB],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    told = json.loads(done.stdout)
    assert told == {verb: [verb not in QUICK, verb not in QUICK] for verb in VERBS}
    assert len(VERBS) > len(QUICK) > 0


# Verb -> [whether bridge says that it is of a job, whether it wants what is not there].
ASK_EVERY_VERB = """
import json
from calc.bridge import VERBS, call, of_job
from calc.quick import NAMES
def lacks(**asked):
    try:
        call(json.dumps(asked))
    except ImportError:
        return True
    return False
for name in NAMES:
    assert not lacks(do="quick", name=name, values={})
print(json.dumps({verb: [of_job(verb), lacks(do=verb)] for verb in VERBS}))
"""


def test_bytecode_follows_its_source(tmp_path):
    source = tmp_path / "a.py"
    source.write_text("x = 1\n")
    one = bytecode({"calc/a.py": source})
    source.write_text("x = 2\n")
    two = bytecode({"calc/a.py": source})
    assert list(one) == list(two) == ["calc/a.mpy"]
    assert one != two
    source.write_text("match x:\n")
    with pytest.raises(SyntaxError, match=r"calc/a\.py"):
        bytecode({"calc/a.py": source})
