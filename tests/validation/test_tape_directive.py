"""How far a tape may be out: Directive 2014/32/EU, annex X (MI-008), material measures of length.

The limit of error is a + b L, L in metres rounded up to a whole metre: class I 0.1 + 0.1 L, II
0.3 + 0.2 L, III 0.6 + 0.4 L, in mm.
"""

import pytest
from uncertainties import ufloat

from calc.trade.tape import chained, from_datum, likely, limit, metres, rounding, same_tape
from tests.quick.gen import ask

MM = 320
INCH = 8128


@pytest.mark.parametrize(
    ("grade", "limits"),
    [
        ("I", {1: 0.2, 3: 0.4, 5: 0.6, 8: 0.9, 10: 1.1}),
        ("II", {1: 0.5, 3: 0.9, 5: 1.3, 8: 1.9, 10: 2.3}),
        ("III", {1: 1.0, 3: 1.8, 5: 2.6, 8: 3.8, 10: 4.6}),
    ],
)
def test_limits_by_class(grade, limits):
    """MI-008: the table at 3, 5, 8 and 10 m; 1 m by its formula. Whole jots, so equal."""
    for length, mm in limits.items():
        assert limit(grade, length * 1000 * MM) == round(mm * MM)


def test_a_length_counts_as_the_next_whole_metre():
    """MI-008: 2.4 m counts as 3 m; a hair over 3 m as 4."""
    assert metres(2400 * MM) == metres(3000 * MM) == 3
    assert metres(3000 * MM + 1) == 4
    assert metres(1) == 1
    for grade in ("I", "II", "III"):
        assert limit(grade, 2400 * MM) == limit(grade, 3000 * MM) < limit(grade, 3001 * MM)


def test_eight_cuts_to_a_sixteenth_may_be_a_quarter_out():
    """Arithmetic: half of 1/16 is 1/32; eight of them 1/4 in, without the tape's own error."""
    assert rounding(INCH // 16) * 32 == INCH
    assert chained(8, 0, rounding(INCH // 16)) * 4 == INCH
    assert from_datum(0, rounding(INCH // 16)) * 32 == INCH


@pytest.mark.parametrize("grade", ["I", "II", "III"])
@pytest.mark.parametrize("mark", [INCH // 16, INCH // 32, MM])
def test_twelve_pieces_add_up_as_uncertainties_does(grade, mark):
    """The root sum square of a 12-piece course against the package `uncertainties`.

    Each piece has an error of its own by the tape and one by the reading; or the tape's is one
    error in all twelve. Tolerance: what doubles lose.
    """
    piece = 31 * INCH
    tape, read = limit(grade, piece), rounding(mark)
    apart = sum(ufloat(piece, tape) + ufloat(0, read) for _ in range(12))
    assert apart.n == 12 * piece
    assert likely(12, tape, read) == pytest.approx(apart.s, rel=1e-12)
    one = ufloat(0, tape)
    together = sum(piece + one for _ in range(12))
    assert together.s == pytest.approx(12 * tape)
    readings = sum(ufloat(0, read) for _ in range(12))
    assert same_tape(12, tape, read) == pytest.approx(together.s + readings.s, rel=1e-12)
    assert likely(12, tape, read) < same_tape(12, tape, read) < chained(12, tape, read)


def test_the_calculator_gives_the_same():
    """2014/32/EU MI-008, class II, 5 m in one length: 1.3 mm, and half a mark of 1 mm."""
    answer = ask("tape-error", "mm", length="5000", pieces="1")["answer"]
    assert answer["figures"][0]["text"] == "1.8 mm"
    assert any("2014/32/EU" in w and "5 x 0.2 mm" in w for w in answer["working"])
