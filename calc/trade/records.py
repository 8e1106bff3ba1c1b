"""What a job holds beside its layout, as records with defaults filled in."""

from collections import namedtuple

from ..fieldkinds import Field
from ..tradefields import COST, FINISH, GLUE, NAILS, SITE, TRIM

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# Each in the order of its table in tradefields.py, whose comments say what the fields are.
# Lengths are jots, money hundredths, measures floats in their base unit; None: not given.
Site = namedtuple(
    "Site",
    "wallboard built moisture climate temperature humidity_low humidity_high driest dampest",
)
Nails = namedtuple("Nails", "length gauge framing penetration per_stud per_end spare box price")
Glue = namedtuple("Glue", "used bead cartridge price")
# casing_stock, jamb_stock: lists of TrimStock, maybe empty.
Trim = namedtuple(
    "Trim",
    "joint foot width thickness reveal horn jamb through casing_stock jamb_stock",
)
TrimStock = namedtuple("TrimStock", "length price")
Finish = namedtuple(
    "Finish",
    "primer_coats paint_before paint_after back primer_rate primer_solids primer_film primer_can "
    "primer_price paint_rate paint_solids paint_film paint_can paint_price loss recoat dry filler "
    "caulk free pace filler_tub filler_price caulk_cartridge caulk_price",
)
Cost = namedtuple("Cost", "tax")
# bought: list of Bought: what was ticked off, and how much there was to buy then.
Trade = namedtuple("Trade", "site nails glue trim finish cost bought")
Bought = namedtuple("Bought", "item count")


def read_trade(values: "dict[str, Any]", metric: bool) -> Trade:
    """The records of the values read (by table, then field); defaults as the unit has them."""
    return Trade(
        Site(*_filled(SITE, values.get("site") or {}, metric)),
        Nails(*_filled(NAILS, values.get("nails") or {}, metric)),
        Glue(*_filled(GLUE, values.get("glue") or {}, metric)),
        Trim(*_filled(TRIM, values.get("trim") or {}, metric)),
        Finish(*_filled(FINISH, values.get("finish") or {}, metric)),
        Cost(*_filled(COST, values.get("cost") or {}, metric)),
        [
            Bought(r.get("item", ""), r.get("count", 0))
            for r in (values.get("done") or {}).get("bought") or []
        ],
    )


def _filled(fields: list[Field], held: "dict[str, Any]", metric: bool) -> list[Any]:
    out: list[Any] = []
    for f in fields:
        if f.kind == "objects":
            rows = [TrimStock(r.get("length"), r.get("price")) for r in held.get(f.key) or []]
            out.append([r for r in rows if r.length is not None])
        else:
            out.append(held.get(f.key, f.metric if metric else f.default))
    return out
