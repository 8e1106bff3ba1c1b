"""QR codes: level Q or better, a margin of four modules (ISO/IEC 18004 asks for four)."""

import io

import segno

_MARGIN = 4
_DARK = "#14344f"
_LIGHT = "#fdfcf8"


def _code(text: str) -> segno.QRCode:
    return segno.make_qr(text, error="q")


def svg(text: str) -> str:
    """The QR of `text` as an SVG document without a size of its own."""
    out = io.BytesIO()
    _code(text).save(
        out, kind="svg", border=_MARGIN, dark=_DARK, light=_LIGHT,
        xmldecl=False, svgclass=None, lineclass=None, omitsize=True, nl=False,
    )  # fmt: skip
    return out.getvalue().decode("utf-8")


def terminal(text: str) -> str:
    """The QR of `text` in half blocks, for a terminal with light letters on dark."""
    out = io.StringIO()
    _code(text).terminal(out, border=_MARGIN, compact=True)
    return out.getvalue()
