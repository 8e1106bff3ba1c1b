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
    assert 0 < v["apart"] < v["likely"] <= v["chained"]
    assert len(answer["warnings"]) == 1 and "from one datum" in answer["warnings"][0]


def test_one_piece_has_one_figure():
    answer = ask("tape-error", "mm", length="900", pieces="1")["answer"]
    assert [f["label"] for f in answer["figures"]] == ["All from one end, at most"]
    assert answer["figures"][0]["say"] == "one millimetre"


def test_the_figure_of_one_tape_adds_its_error_up_whole():
    """Class II, 0.9 m: 0.5 mm, a mark 0.5: 12 x 0.5 + root 12 x 0.5 = 7.73; apart 2.45 mm."""
    answer = ask("tape-error", "mm", length="900", pieces="12")["answer"]
    assert [(f["label"], f["text"]) for f in answer["figures"]] == [
        ("All from one end, at most", "3 mm"),
        ("Each from the last, at most", "12 mm"),
        ("Each from the last, likely", "7.73 mm"),
    ]
    assert ["Each from the last, each by another tape, likely", "2.45 mm"] in answer["rows"]
