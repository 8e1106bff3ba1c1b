"""Wood moisture: what boards come to in a room's air, and whether they may hang yet.

Moisture contents are floats in percent of the ovendry weight, temperatures in °C, relative
humidities in percent.
"""

from collections import namedtuple

from ..measures import decimal, fixed, show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

EQUATION = "Wood Handbook (FPL-GTR-190), equation 4-5"
INTERIORS = "Wood Handbook (FPL-GTR-190), fig. 13-1"
AT_INSTALLATION = "Wood Handbook (FPL-GTR-190), Table 13-2, from memory"

# The range of the Wood Handbook's Table 4-2, 30 to 130 °F; as measures.read makes °C of °F.
COLDEST = 30 * (5.0 / 9.0) - 160.0 / 9.0
WARMEST = 130 * (5.0 / 9.0) - 160.0 / 9.0
MOST_HUMID = 99.0
# Where nobody has read the room's temperature: 70 °F. Common practice, no source.
USUAL_ROOM = 70 * (5.0 / 9.0) - 160.0 / 9.0
# Pieces may lie so far about the room's own moisture, as in Table 13-2: 6 to 10 about 8 %.
ABOUT = 2.0
# Boards wetter than that, or air that makes them so, ask for the cause. Common practice.
DAMP = 14.0

# usual: interior moisture content over the year (fig. 13-1); low, high: single pieces when they
# are hung (Table 13-2, from memory).
Climate = namedtuple("Climate", "key label usual low high")
CLIMATES = (
    Climate("most", "in most climates", 8.0, 6.0, 10.0),
    Climate("dry", "in a dry climate", 6.0, 4.0, 9.0),
    Climate("damp", "on a warm damp coast", 11.0, 8.0, 13.0),
)


def climate(key: str) -> Climate:
    """The Climate of that key. Raises KeyError for a key that is not ours."""
    for c in CLIMATES:
        if c.key == key:
            return c
    raise KeyError(key)


def emc(celsius: float, humidity: float) -> float:
    """Equilibrium moisture content of wood, percent.

    celsius: COLDEST to WARMEST (30 to 130 °F); humidity: 0 to 99 %. Raises ValueError outside
    (nothing is clamped: a room beyond the table is more likely a misread one; see within).
    Source: Wood Handbook (FPL-GTR-190), equation 4-5, its form for °C.
    """
    if not (COLDEST <= celsius <= WARMEST and 0 <= humidity <= MOST_HUMID):
        raise ValueError("outside of 30 to 130 °F, 0 to 99 %")
    w, k, k1, k2 = _factors(celsius)
    h = humidity / 100
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
    return 1800 / w * (kh / (1 - kh) + bound)


def within(celsius: float) -> float:
    """The nearest temperature that emc takes. Errors: none."""
    return min(max(celsius, COLDEST), WARMEST)


def percent(value: float) -> str:
    """A moisture content or humidity as text, to a tenth: "9.3 %". Errors: none."""
    return decimal(value, 1) + " %"


def write_factors(d: "Draft", celsius: float) -> None:
    """The working of what equation 4-5 makes of the temperature alone; before write_emc."""
    t = show(celsius, "temperature", d.unit)
    if d.unit in ("in", "ft"):
        t += " (%s °C)" % decimal(celsius, 1)
    w, k, k1, k2 = _factors(celsius)
    d.step(
        "W, K, K1, K2",
        "349 + 1.29 T + 0.0135 T²; 0.805 + 0.000736 T - 0.00000273 T²; "
        "6.27 - 0.00938 T - 0.000303 T²; 1.91 + 0.0407 T - 0.000293 T²",
        "T = " + t,
        "%s; %s; %s; %s" % (fixed(w, 2), fixed(k, 5), fixed(k1, 4), fixed(k2, 4)),
        EQUATION,
    )


def write_emc(d: "Draft", what: str, celsius: float, humidity: float) -> float:
    """emc, with its working in the draft. what: what it is of, for the working."""
    value = emc(celsius, humidity)
    d.step(
        what,
        "1800 / W x (K h / (1 - K h) + (K1 K h + 2 K1 K2 K² h²) / (1 + K1 K h + K1 K2 K² h²))",
        "h = %s / 100" % decimal(humidity, 2),
        decimal(value, 2) + " %",
        EQUATION,
    )
    return value


def write_damp_air(d: "Draft", high: float) -> None:
    """Warn of air that makes boards damp. high: what they come to in it, percent."""
    if high > DAMP:
        d.caution("damp-wall")
        d.warn(
            "In such air boards come to %s, over %s: find where the damp is from, air or dry the "
            "room, and only then bring the boards in." % (percent(high), percent(DAMP))
        )


def write_wait(
    d: "Draft", moisture: float, low: float, high: float, where: str, so: str = ""
) -> bool:
    """Warn of boards that are out of the range they should hang in, and say which way.

    moisture: of the boards now; low, high: the range, all in percent; where: whose range it
    is; so: a sentence of what comes of hanging them now, or "". Returns whether they may hang.
    """
    d.caution("acclimatise")
    fits = low <= moisture <= high and moisture <= DAMP
    d.step(
        "Hang now",
        "the boards' moisture lies within the range of %s, and is no more than %s"
        % (where, percent(DAMP)),
        "%s within %s to %s" % (percent(moisture), percent(low), percent(high)),
        "yes" if fits else "no",
        "Wood Handbook (FPL-GTR-190), ch. 13",
    )
    d.row("Hang now", "yes" if fits else "no, wait")
    if not low <= moisture <= high:
        wet = moisture > high
        wait = (
            "Boards too %s: they read %s, and %s wants %s to %s. Wait: stack them on stickers in "
            "the room until they read %s or %s.%s"
            % (
                "wet" if wet else "dry",
                percent(moisture),
                where,
                percent(low),
                percent(high),
                percent(high if wet else low),
                "less" if wet else "more",
                " " + so if so else "",
            )
        )
        d.warnings.insert(0, wait)  # before all that comes of hanging them
    if moisture > DAMP:
        d.caution("damp-wall")
        d.warn(
            "Boards at %s are damp, over %s: look for a wet wall, fresh plaster or a leak, and "
            "mend that before anything hangs." % (percent(moisture), percent(DAMP))
        )
    return fits


def _factors(t: float) -> tuple[float, float, float, float]:
    """W, K, K1, K2 of equation 4-5 at t °C."""
    return (
        349 + 1.29 * t + 0.0135 * t * t,
        0.805 + 0.000736 * t - 0.00000273 * t * t,
        6.27 - 0.00938 * t - 0.000303 * t * t,
        1.91 + 0.0407 * t - 0.000293 * t * t,
    )
