"""What the sections of jambs and casing have in common: marks, and what to buy."""

from collections import namedtuple

from ..draft import Table
from ..words import count_text, money
from .trimstock import buy

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft
    from ..job import Job
    from .records import TrimStock
    from .trimstock import ToBuy

# One piece of the trim list. mark: pencilled on it, "C3", "J3", "S1"; wall, opening: names;
# part: as it is called; length: jots, the longest; text: its length, width, saw and rip in words,
# in the order of the columns that its section prints.
Piece = namedtuple("Piece", "mark wall opening part length text")


def to_buy(pieces: list[Piece], stock: "list[TrimStock]", kerf: int) -> "ToBuy":
    """What to buy for the pieces, as trimstock.buy has it."""
    return buy([p.length for p in pieces], stock, kerf)


def tell_buy(d: "Draft", job: "Job", name: str, pieces: list[Piece], b: "ToBuy") -> None:
    """The rows, tables, working and warnings of what to buy. name: "Casing", "Jamb"."""
    key = name.lower()  # ASCII
    d.value(key + " total", b.total)
    d.step(
        key + " in all", "sum of the pieces, before kerfs", count_text(len(pieces), "piece"),
        d.show(b.total),
    )  # fmt: skip
    if not b.rows:
        d.row(
            name + " to buy, by length",
            "%s in all, before kerfs; longest piece %s" % (d.show(b.total), d.show(b.longest)),
        )
    else:
        rows = []
        for length, count, price in b.rows:
            each = "-" if price is None else money(price / 100)
            both = "-" if price is None else money(count * price / 100)
            rows.append([d.show(length), str(count), each, both])
        d.tables.append(Table(name + " to buy", ["Length", "Count", "Each", "Together"], rows))
        rows = [
            [d.show(x.length), ", ".join([pieces[k].mark for k in x.pieces]), d.show(x.left)]
            for x in b.boards
        ]
        d.tables.append(Table(name + ", cut from", ["Length", "Pieces", "Left over"], rows))
        bought = sum([length * count for length, count, _ in b.rows])
        d.value(key + " bought", bought)
        if b.cost is not None:
            d.row(name + " costs", money(b.cost / 100))
            d.value(key + " cost", b.cost)
        d.step(
            key + " to buy",
            "cheapest lengths that the pieces are cut from, kerf %s between them"
            % d.show(job.rules.kerf)
            if b.priced
            else "least length that the pieces are cut from, kerf %s between them"
            % d.show(job.rules.kerf),
            " + ".join(["%d x %s" % (count, d.show(length)) for length, count, _ in b.rows]),
            d.show(bought), "cut by the job's own search",
        )  # fmt: skip
    for k in b.over:
        p = pieces[k]
        d.warn(
            "%s, %s: %s (%s) is %s, longer than any %s stock: buy one length of that, or scarf two "
            "at a slant over framing." % (p.wall, p.opening, p.part, p.mark, d.show(p.length), key)
        )
