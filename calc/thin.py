"""Where a piece or a course gets so thin that it breaks or looks it: strips, tongues, feathers."""

from .outline import EDGES, STEP, block_at
from .region import uprights

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .outline import Block
    from .region import Trap
    from .strips import Strip

_FLAT = 6  # an edge that rises 1 in so many or less runs along the board; a steeper one ends it


def strips_left(
    traps: "list[Trap]", blocks: "list[Block]", least: int
) -> list[tuple[int, str, str]]:
    """What is left of a piece beside openings and boxes that is thinner than `least`.

    traps: the piece's slices; blocks: of its wall; least: jots. Each as (jots,
    where: "under", "over" or "beside", the Block's by), the thinnest of its
    kind. Errors: none. Source: plane geometry.
    """
    found: dict[tuple[str, str], int] = {}

    def add(size: int, where: str, by: str) -> None:
        found[(where, by)] = min(size, found.get((where, by), size))

    for t in traps:
        wide, heights = t.x1 - t.x0, (t.hi0 - t.lo0, t.hi1 - t.lo1)
        size, middle = min(heights), (t.x0 + t.x1) // 2
        if 0 < size < least <= wide and _along(t):
            for y, where in (
                ((t.hi0 + t.hi1) // 2 + STEP, "under"), ((t.lo0 + t.lo1) // 2 - STEP, "over"),
            ):  # fmt: skip
                block = block_at(blocks, middle, y)
                if block is not None and block.kind not in EDGES:
                    add(size, where, block.by)
        if wide < least < size and _stands_out(traps, t, least):
            for x in (t.x0 - STEP, t.x1 + STEP):
                block = block_at(blocks, x, (max(t.lo0, t.lo1) + min(t.hi0, t.hi1)) // 2)
                if block is not None and block.kind not in EDGES:
                    add(wide, "beside", block.by)
    return sorted([(found[key], key[0], key[1]) for key in sorted(found)])


def _along(t: "Trap") -> bool:
    """Whether the slice's edges run along the board rather than end it."""
    return bool(_FLAT * max(abs(t.lo1 - t.lo0), abs(t.hi1 - t.hi0)) <= t.x1 - t.x0)


def _stands_out(traps: "list[Trap]", t: "Trap", least: int) -> bool:
    """Whether the slice reaches past its neighbours on both sides by more than `least`."""
    for x, side in ((t.x0, -1), (t.x1, 1)):
        low, high = (t.lo0, t.hi0) if side < 0 else (t.lo1, t.hi1)
        held = sum([max(0, min(b, high) - max(a, low)) for a, b in uprights(traps, x, side)])
        if high - low - held <= least:
            return False
    return True


def narrowest(strip: "Strip", blocks: "list[Block]") -> int:
    """The least height that a run shows along its length, in jots.

    Not counted is what openings and boxes leave of it, and the point where a
    rake ends it. Errors: none.
    """
    out: int = max([max(t.hi0 - t.lo0, t.hi1 - t.lo1) for t in strip.shown])
    for t in strip.shown:
        if not _along(t):
            continue
        low, high = min(t.lo0, t.lo1), max(t.hi0, t.hi1)
        beside = [
            1
            for b in blocks
            if b.kind not in EDGES
            and b.left < t.x1
            and b.right > t.x0
            and b.bottom <= high + STEP
            and b.top >= low - STEP
        ]
        if not beside:
            out = min(out, t.hi0 - t.lo0, t.hi1 - t.lo1)
    return out
