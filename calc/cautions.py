"""The usual cautions, each shown where its step comes up.

They defer to the local code, the authority having jurisdiction and licensed
trades. Code figures are defaults to warn with; editions differ.
"""

from collections import namedtuple

# key names it, text is what is shown, source says where it stands.
Caution = namedtuple("Caution", "key text source")

_ALL = (
    Caution(
        "electricity",
        "Switch the circuit off at the breaker and prove it dead with a tester before a plate "
        "comes off or anything is cut near a box. Licensed electrician where required.",
        "common practice, no source",
    ),
    Caution(
        "box-extension",
        "In wood and MDF the box, or a listed extender, must come to the finished surface. "
        "Never bury a box. Local code decides.",
        "NFPA 70 (NEC) 314.20, 2008 to 2017 editions",
    ),
    Caution(
        "box-gap",
        "The 1/8 in gap at a flush box is written for non-combustible surfaces; on wood take it "
        "as a limit of workmanship. Local code decides.",
        "NFPA 70 (NEC) 314.21",
    ),
    Caution(
        "hidden-lines",
        "Scan for cables and pipes before nailing; lines run up and down from boxes. A nail that "
        "goes more than 1-1/4 in (32 mm) into a stud may reach one, and staying under that is no "
        "guarantee.",
        "NFPA 70 (NEC) 300.4; IRC P2603",
    ),
    Caution(
        "lead-asbestos",
        "In a house from before 1978, or of unknown age, test for lead paint and asbestos before "
        "cutting, sanding or pulling trim.",
        "40 CFR 745 subpart E",
    ),
    Caution(
        "saw-dust",
        "At the saw: eyes, ears, guards in place, dust extraction and a fitted respirator.",
        "common practice, no source; 29 CFR 1910.1000 for wood dust (from memory)",
    ),
    Caution(
        "clearances",
        "Never cover heaters, flues, vents, alarms or access panels; keep their clearances.",
        "common practice, no source",
    ),
)  # fmt: skip


def caution(key: str) -> Caution:
    """The caution of that key. Raises KeyError for a key that is not ours."""
    for c in _ALL:
        if c.key == key:
            return c
    raise KeyError(key)


def to_dict(key: str) -> dict[str, str]:
    """The caution as a JSON object with keys key, text, source."""
    c = caution(key)
    return {"key": c.key, "text": c.text, "source": c.source}
