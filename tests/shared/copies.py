"""Copies made by hypothesis: whatever passes check, also what no phone of ours would write."""

from hypothesis import strategies as st

from calc.shared.merge import empty
from calc.shared.seen import SIZE, of

WRITERS = ("a", "b", "Z-9_")
# Every writer's first changes, three numbers of each, and the edges of what there may be.
NUMBERS = [k * SIZE + i for k in (1, 2, 3) for i in (0, 1, SIZE - 1)]
LENGTHS = ["96 in", '96"', 2438.4, "8'", "1925 mm", None, "", 0, "no reading", 10**9]
PATHS = {
    "/title": ["", "Hall", "é", "\U0001f600", None, 7],
    "/unit": ["in", "mm", "cubits"],
    "/board/stock/1": [0, 1, 999999999],
    "/board/stock/1/price": [7, "7", "7,50", None],
    "/walls/1": [0, 1, 2],
    "/walls/b.2": [0, 1, 2],
    "/walls/1/height_left": LENGTHS,
    "/walls/1/studs/found": [[], ["16"], [406.4, "32 in"], None, "16"],
    "/walls/1/openings/a~1~0b": [0, 3],
    "/walls/1/openings/a~1~0b/left": LENGTHS,
    "/walls/b.2/openings/1/kind": ["door", "window"],
}


@st.composite
def copies(draw):
    """A copy that passes check."""
    copy = empty()
    dots = draw(st.sets(st.tuples(st.sampled_from(WRITERS), st.sampled_from(NUMBERS)), max_size=9))
    whole = draw(st.sets(st.tuples(st.sampled_from(WRITERS), st.sampled_from((1, 2, 3)))))
    runs = [(w, n, n) for w, n in dots] + [(w, k * SIZE, k * SIZE + SIZE - 1) for w, k in whole]
    copy["seen"] = of(sorted(runs))
    seen = sorted(dots | {(w, k * SIZE + i) for w, k in whole for i in (0, 1, SIZE - 1)})
    for path in draw(st.sets(st.sampled_from(sorted(PATHS)))) if seen else ():
        held = {}
        for writer, number in draw(st.lists(st.sampled_from(seen), min_size=1, max_size=4)):
            tail = draw(st.sampled_from([[], *([v] for v in PATHS[path])]))
            held.setdefault((number // SIZE, writer, number), [[writer, number, *tail]])
        copy["fields"][path] = [w for key in sorted(held) for w in held[key]]
    return copy
