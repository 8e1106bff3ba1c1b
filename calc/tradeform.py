"""What Take-off and Finish ask for, and what Survey asks for beside the layout."""

from .formbase import Form, rows_in

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_MOST_STOCK = 6


def site(f: Form) -> None:
    """The house and the boards' moisture: for cautions, and for what moves."""
    f.part("House and moisture", None, True)
    f.ask("board", "board.", ("species", "grain"))
    f.ask("site", "site.", ("built", "wallboard", "moisture"))
    f.ask("site", "site.", ("climate", "temperature", "humidity_low", "humidity_high"))
    f.ask("site", "site.", ("driest", "dampest"))


def take_off(f: Form, doc: object) -> None:
    """What is bought beside the boards, and its prices."""
    f.part("Nails", None, True)
    f.ask("nails", "nails.", ("length", "gauge", "penetration", "framing"))
    f.ask("nails", "nails.", ("per_stud", "per_end", "spare", "box", "price"))
    f.part("Adhesive", None, True)
    f.ask("glue", "glue.", ("used",))
    glue = doc.get("glue") if isinstance(doc, dict) else None
    if isinstance(glue, dict) and glue.get("used") == "studs":
        f.ask("glue", "glue.", ("bead", "cartridge", "price"))
    trim = doc.get("trim") if isinstance(doc, dict) else None
    _stock(f, trim, "casing_stock", "Casing stock", "Add a casing length")
    _stock(f, trim, "jamb_stock", "Jamb stock", "Add a jamb length")
    f.part("Primer", None, True)
    f.ask("finish", "finish.", ("primer_rate", "primer_solids", "primer_film"))
    f.ask("finish", "finish.", ("primer_can", "primer_price"))
    f.part("Paint", None, True)
    f.ask("finish", "finish.", ("paint_rate", "paint_solids", "paint_film", "paint_can"))
    f.ask("finish", "finish.", ("paint_price", "loss"))
    f.part("Filler and caulk", None, True)
    f.ask("finish", "finish.", ("filler_tub", "filler_price", "caulk_cartridge", "caulk_price"))
    f.part("Tax", None, True)
    f.ask("cost", "cost.", ("tax",))


def _stock(f: Form, trim: object, key: str, title: str, label: str) -> None:
    rows = rows_in(trim, key)
    for j in range(len(rows)):
        path = "trim.%s[%d]" % (key, j)
        f.part("%s %d" % (title, j + 1), path)
        f.ask("trim_stock", path + ".", ("length", "price"))
    if len(rows) < _MOST_STOCK:
        path = "trim.%s[%d]" % (key, len(rows))
        f.button(title, path, label, {"length": None})


def finish(f: Form) -> None:
    """How it is trimmed, coated and timed."""
    f.part("Casing", None, True)
    f.ask("trim", "trim.", ("joint", "foot", "width", "thickness", "reveal", "horn"))
    f.ask("trim", "trim.", ("jamb", "through"))
    f.part("Coats", None, True)
    keys = ("primer_coats", "paint_before", "paint_after", "back")
    f.ask("finish", "finish.", keys)
    f.part("Hours", None, True)
    f.ask("finish", "finish.", ("pace", "recoat", "dry", "filler", "caulk", "free"))
