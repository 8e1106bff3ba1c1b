"""Nothing is taken off a board's movement for its nails and neighbours.

Source: USDA Forest Products Laboratory research paper (Treesearch 64430): no restraint was found in
nailed tongue-and-groove boards.
"""

import pytest

from calc.trade.movement import moves
from calc.trade.species import SPECIES
from tests.quick.gen import Gen, ask

SOURCE = "Treesearch 64430"


@pytest.mark.parametrize("seed", range(40))
def test_boards_on_the_wall_move_as_the_formula_has_a_loose_board(seed):
    """dD = D x C x (MF - MI) itself (Wood Handbook, ch. 13), to the nearest jot."""
    g = Gen(seed)
    face = g.sixteenths(32, 160)
    overall = face + g.sixteenths(0, 16)
    c = SPECIES[g.whole(0, len(SPECIES) - 1)].tangential
    hung, low, high = g.whole(6, 14), g.whole(6, 9), g.whole(10, 14)
    m = moves(face, overall, c, hung, low, high, "in")
    assert abs(m.change - overall * c * (high - low) / 1e5) <= 0.5
    assert abs(m.growth - max(0, face * c * (high - hung) / 1e5)) <= 0.5
    for s in m.seasons:
        assert abs(m.spacer - s.line - face * c * (s.moisture - hung) / 1e5) <= 0.5


def test_the_working_says_so():
    working = ask("wood-movement", width="5", moisture="8")["answer"]["working"]
    (line,) = [w for w in working if SOURCE in w]
    assert "nothing is taken off for restraint" in line
