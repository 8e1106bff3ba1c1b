"""Tape error: from one datum never worse than each from the last, likely never worse than worst."""

import pytest

from tests.quick.gen import Gen, ask


@pytest.mark.parametrize("seed", range(60))
def test_a_chain_is_never_better_than_a_datum(seed):
    g = Gen(seed)
    unit = ("in", "ft", "mm", "cm", "m")[seed % 5]
    answer = ask(
        "tape-error", unit, length=g.whole(320, 12 * 97536), pieces=str(g.whole(2, 60)),
        mark=g.whole(32, 2032), grade=("I", "II", "III")[g.whole(0, 2)],
    )["answer"]  # fmt: skip
    v = answer["values"]
    assert 0 < v["datum"] < v["chained"]
    assert 0 < v["likely"] <= v["chained"]
    assert len(answer["warnings"]) == 1 and "from one datum" in answer["warnings"][0]


def test_one_piece_has_one_figure():
    answer = ask("tape-error", "mm", length="900", pieces="1")["answer"]
    assert [f["label"] for f in answer["figures"]] == ["Out, from one datum"]
    assert answer["figures"][0]["say"] == "one millimetre"
