"""Kinds of wood: how much each moves with moisture, and how dense it is."""

from collections import namedtuple

# radial, tangential: dimensional change coefficients, in hundred-thousandths of the width for
# one percent of moisture content, for vertical and for flat grain. gravity: specific gravity in
# hundredths (ovendry weight, volume at 12 % moisture), 0 where none is known here. source: where
# the coefficients stand, as in SOURCES.
Species = namedtuple("Species", "key label radial tangential gravity source")

SOURCES = {
    "table": "Wood Handbook (FPL-GTR-190), Table 13-5",
    "memory": "Wood Handbook (FPL-GTR-190), Table 13-5, from memory",
    "shrinkage": "worked out of the shrinkage in the Wood Handbook, Table 4-3, from memory",
}

# Gravity: Wood Handbook, Table 5-3, from memory.
SPECIES = (
    Species("white-pine", "Eastern white pine", 71, 212, 35, "memory"),
    Species("ponderosa", "Ponderosa pine", 133, 216, 40, "memory"),
    Species("sugar-pine", "Sugar pine", 99, 194, 36, "memory"),
    Species("lodgepole", "Lodgepole pine", 148, 234, 41, "memory"),
    Species("western-white-pine", "Western white pine", 141, 259, 38, "memory"),
    Species("loblolly", "Loblolly pine", 165, 259, 51, "memory"),
    Species("radiata", "Radiata pine", 116, 234, 0, "shrinkage"),
    Species("engelmann-spruce", "Engelmann spruce", 130, 248, 35, "memory"),
    Species("sitka-spruce", "Sitka spruce", 148, 263, 40, "memory"),
    Species("spruce", "White or red spruce", 130, 274, 40, "memory"),
    Species("white-fir", "White fir", 112, 245, 39, "memory"),
    Species("balsam-fir", "Balsam fir", 99, 241, 35, "memory"),
    Species("douglas-fir", "Douglas-fir, coast", 165, 267, 48, "memory"),
    Species("redcedar", "Western redcedar", 111, 234, 32, "memory"),
    Species("white-cedar", "Northern white-cedar", 101, 229, 31, "memory"),
    Species("poplar", "Yellow-poplar", 158, 289, 42, "memory"),
    Species("aspen", "Quaking aspen", 119, 234, 38, "table"),
    Species("basswood", "American basswood", 230, 330, 37, "table"),
    Species("red-alder", "Red alder", 151, 256, 41, "table"),
    Species("red-maple", "Red maple", 137, 289, 54, "table"),
    Species("sugar-maple", "Sugar maple", 165, 353, 63, "table"),
    Species("red-oak", "Red oak", 158, 369, 63, "table"),
    Species("white-oak", "White oak", 180, 365, 68, "table"),
    Species("white-ash", "White ash", 169, 274, 60, "table"),
    Species("beech", "American beech", 190, 431, 64, "table"),
    Species("paper-birch", "Paper birch", 219, 304, 55, "table"),
    Species("cherry", "Black cherry", 126, 248, 50, "table"),
    Species("walnut", "Black walnut", 190, 274, 55, "table"),
)
KEYS = tuple([s.key for s in SPECIES])
# The first of them, which painted boards are mostly of.
SOFTWOODS = KEYS[: KEYS.index("white-cedar") + 1]
# What a board may be of, if no wood in the table.
UNKNOWN, MDF = "unknown", "mdf"


def species(key: str) -> Species:
    """The Species of that key. Raises KeyError for a key that is not ours."""
    for s in SPECIES:
        if s.key == key:
            return s
    raise KeyError(key)


def coefficient(s: Species, grain: str) -> int:
    """Its dimensional change coefficient, in hundred-thousandths; grain: "flat" or "vertical"."""
    c: int = s.tangential if grain == "flat" else s.radial
    return c


def cautious() -> Species:
    """What a board of a wood that nobody knows is reckoned as: the softwood that moves most."""
    most = SPECIES[0]
    for s in SPECIES:
        if s.key in SOFTWOODS and s.tangential > most.tangential:
            most = s
    return most
