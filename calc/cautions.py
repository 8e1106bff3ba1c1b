"""The usual cautions, each shown where its step comes up.

They defer to the local code, the authority having jurisdiction and licensed
trades. Code figures are defaults to warn with; editions differ.
"""

from collections import namedtuple

# key names it, text is what is shown, asks: what to be sure of before the step, a question,
# source says where it stands.
Caution = namedtuple("Caution", "key text asks source")

_ALL = (
    Caution(
        "electricity",
        "Switch the circuit off at the breaker and prove it dead with a tester before a plate "
        "comes off or anything is cut near a box. Licensed electrician where required.",
        "Is the circuit off, and proved dead with a tester?",
        "common practice, no source",
    ),
    Caution(
        "box-extension",
        "In wood and MDF the box, or a listed extender, must come to the finished surface. "
        "Never bury a box. Local code decides.",
        "Does every box, or its extender, come to the boards' face?",
        "NFPA 70 (NEC) 314.20, 2008 to 2017 editions",
    ),
    Caution(
        "box-gap",
        "The 1/8 in (3 mm) gap at a flush box is written for non-combustible surfaces; on wood "
        "take it as a limit of workmanship. Local code decides.",
        "Is the gap at each box 1/8 in (3 mm) or less?",
        "NFPA 70 (NEC) 314.21",
    ),
    Caution(
        "hidden-lines",
        "Scan for cables and pipes before nailing; lines run up and down from boxes. A nail that "
        "goes more than 1-1/4 in (32 mm) into a stud may reach one, and staying under that is no "
        "guarantee.",
        "Is the wall scanned, and are the lines marked?",
        "NFPA 70 (NEC) 300.4; IRC P2603",
    ),
    Caution(
        "lead-asbestos",
        "In a house from before 1978, or of unknown age, test for lead paint and asbestos before "
        "cutting, sanding or pulling trim.",
        "Is the house from 1978 or later, or were paint and board tested?",
        "40 CFR 745 subpart E",
    ),
    Caution(
        "lead-rule",
        "In US housing from before 1978 the lead-safe rule holds once more than 6 sq ft "
        "(0.55 m²) of painted surface in a room is disturbed, and always where a window is "
        "replaced. That is an exemption, not a safe amount.",
        "Is less than 6 sq ft (0.55 m²) of old paint disturbed in the room, or is the work done "
        "lead-safe?",
        "40 CFR 745 subpart E",
    ),
    Caution(
        "saw-dust",
        "At the saw: eyes, ears, guards in place, dust extraction and a fitted respirator.",
        "Are eyes, ears and lungs covered, and the guards on?",
        "common practice, no source; 29 CFR 1910.1000 for wood dust (from memory)",
    ),
    Caution(
        "sanding-dust",
        "Sanding: extraction, a fitted respirator, eyes. Joint compound and masonry may hold "
        "silica: 50 micrograms a cubic metre is the limit over a shift, 25 the action level.",
        "Is the sander on extraction, and is your respirator fitted?",
        "29 CFR 1926.1153; common practice",
    ),
    Caution(
        "nailer",
        "Nailer: eyes and ears, no hand within reach of the nail's turn, air or battery off before "
        "a jam is cleared.",
        "Eyes and ears on, and the other hand clear of the line of the nail?",
        "common practice, no source",
    ),
    Caution(
        "ladder",
        "Ladder: one foot out for four up, on firm floor, three points of contact.",
        "Does the ladder stand firm, one out for four up?",
        "common practice, from memory",
    ),
    Caution(
        "clearances",
        "Never cover heaters, flues, vents, alarms or access panels; keep their clearances.",
        "Are heaters, flues, vents, alarms and panels left free?",
        "common practice, no source",
    ),
    Caution(
        "damp-wall",
        "A damp wall: find and mend the cause before anything covers it.",
        "Is the wall dry?",
        "common practice, no source",
    ),
    Caution(
        "acclimatise",
        "Let the boards come to the room's moisture before they are coated and hung.",
        "Have the boards come to the room's moisture?",
        "Wood Handbook (FPL-GTR-190), ch. 13; common practice",
    ),
    Caution(
        "flame-spread",
        "Interior finish on walls is commonly limited to a flame spread of 200 and a smoke index "
        "of 450; panelling under 1/4 in (6.4 mm) wants 3/8 in (9.5 mm) gypsum behind it. Local "
        "code decides.",
        "Do boards and coating meet the local rule for interior finish?",
        "IRC R302.9, R702.5",
    ),
)  # fmt: skip


def caution(key: str) -> Caution:
    """The caution of that key. Raises KeyError for a key that is not ours."""
    for c in _ALL:
        if c.key == key:
            return c
    raise KeyError(key)


def to_dict(key: str) -> dict[str, str]:
    """The caution as a JSON object with keys key, text, asks, source."""
    c = caution(key)
    return {"key": c.key, "text": c.text, "asks": c.asks, "source": c.source}
