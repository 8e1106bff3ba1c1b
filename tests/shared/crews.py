"""Seeded crews: five phones and a laptop at one job, with what a network does to them.

make(seed) gives a program (programs.py), and from the model (model.py) what every copy must be
when all have met. Nothing here runs calc.
"""

import random
from collections import namedtuple

from tests.shared.model import GONE, Model, items_over

# program; meet: the registers of the six copies in the end; model; known: all changes;
# kept: [register, what its "kept" must be] of each undo
Run = namedtuple("Run", "program meet model known kept")

JOB = {
    "format": "lapwright-job",
    "version": 1,
    "unit": "in",
    "board": {"stock": [{"length": 3600}]},
    "walls": [{"openings": [{"left": 700}]}, {"height_left": 2500, "stations": [{"at": 900}]}],
}
# What that is, path by path: written out by hand.
BASE = {
    "/unit": ["in"],
    "/board/stock/1": [0],
    "/board/stock/1/length": [3600],
    "/walls/1": [0],
    "/walls/1/openings/1": [0],
    "/walls/1/openings/1/left": [700],
    "/walls/2": [1],
    "/walls/2/height_left": [2500],
    "/walls/2/stations/1": [0],
    "/walls/2/stations/1/at": [900],
}
FIELDS = {
    "": ["title", "unit", "rules/stagger"],
    "stock": ["length", "price", "count"],
    "walls": ["name", "height_left", "studs/first", "corner"],
    "openings": ["left", "kind"],
    "stations": ["at", "up"],
}
KINDS = ["", "stock", "walls", "walls", "openings", "stations"]
# Readings of the same length, in jots of 1/320 mm: 20 in is 508 mm, 21 in 533.4 mm.
SAME = {'20"': 162560, 508: 162560, "508 mm": 162560, '21"': 170688, 533.4: 170688}
MONEY = {"7": 700, 7: 700, "7.00": 700, "7,5": 750, 7.5: 750}  # hundredths
COUNTS = {"3": 3, 3: 3, " 3": 3, 4: 4}
CHOICES = {
    "unit": ["in", "mm"],
    "kind": ["window", "door"],
    "corner": ["none", "inside"],
    "title": ["Hall", "Gable", ""],
    "name": ["North", "South", ""],
}


def meaning(path, tail):
    if tail in (GONE, [None], [""]):
        return "nothing"
    key = path.rsplit("/", 1)[1]
    table = {"price": MONEY, "count": COUNTS}.get(key) or ({} if key in CHOICES else SAME)
    if tail[0] in table:
        return table[tail[0]]
    return tail[0] if key in CHOICES or key in ("price", "count") else tail[0] * 320


class Crew:
    """Makes one run, step by step."""

    def __init__(self, seed):
        self.r = random.Random(seed)
        self.model = Model(meaning)
        self.program = []
        self.written = []  # (change, register)
        self.keyed = 0
        self.kept = []
        # Crews that write in a few fields write apart more often.
        few = self.r.choice([1, 1, 2, 9])
        self.fields = {kind: self.r.sample(FIELDS[kind], min(few, len(FIELDS[kind])))
                       for kind in FIELDS}  # fmt: skip
        self.kinds = self.r.choice([["walls"], ["openings"], ["", "stock", "walls"], KINDS, KINDS])
        change = self.model.write(set(), "laptop", 1, BASE)
        reg = self.step("adopt", job=JOB, writer="laptop", number=1)
        names = ["laptop", "p1", "p2", "p3", "p4", "p5"]
        # A phone that has not opened the job yet hears of writes all the same.
        self.all = [
            {"name": n, "known": {change} if n < "p4" else set(), "reg": reg if n < "p4" else None,
             "outbox": [], "steps": [], "past": None}
            for n in names
        ]  # fmt: skip
        self.laptop = self.all[0]
        # Of those at the job some do more than the others.
        self.busy = self.r.sample(self.all[1:], self.r.choice([2, 2, 3, 5]))

    def step(self, do, **more):
        self.program.append({"do": do, "into": len(self.program), **more})
        return len(self.program) - 1

    # The network.

    def join(self, who, parts):
        """parts: (known, "copy" or "write", register), merged in any order into who's copy."""
        parts = list(parts)
        if who["reg"] is not None:
            parts.append((who["known"], "copy", who["reg"]))
        self.r.shuffle(parts)
        who["past"] = (who["known"], who["reg"])
        who["known"] = set().union(*(k for k, _, _ in parts))
        who["reg"] = self.step("join", of=[[what, reg] for _, what, reg in parts])

    def sync(self, phone):
        """Send some of what is unsent, in any order; the answer may get lost."""
        sent = [w for w in phone["outbox"] if self.r.random() < 0.8]
        if sent:
            self.join(self.laptop, [({c}, "write", reg) for c, reg in sent])
        if self.r.random() < 0.6:
            self.join(phone, [(self.laptop["known"], "copy", self.laptop["reg"])])
            phone["outbox"] = [w for w in phone["outbox"] if w not in sent]

    def stream(self):
        """Somebody hears of single writes, late, twice, or before those they follow from."""
        heard = [self.r.choice(self.written) for _ in range(self.r.randint(1, 2))]
        self.join(self.r.choice(self.all), [({c}, "write", reg) for c, reg in heard])

    def meet(self):
        """All copies go to the laptop, and its copy to all."""
        others = [w for w in self.all[1:] if w["reg"] is not None]
        self.join(self.laptop, [(w["known"], "copy", w["reg"]) for w in others])
        for phone in self.all[1:]:
            self.join(phone, [(self.laptop["known"], "copy", self.laptop["reg"])])

    # The people.

    def number(self, known):
        """Above all that is known; now and then far above."""
        ahead = self.r.choice([0] * 8 + [1, 2, 1000, 2000000])
        return self.model.top(known) + 1 + ahead

    def act(self, who, known, do, change, **more):
        """Book a change that was made on the copy of `known`."""
        of = self.model.changes[change]
        reg = self.step(do, writer=of.writer, number=of.number, **more)
        self.written.append((change, reg))
        who["outbox"].append((change, reg))
        who["steps"].append((change, reg))
        if known == who["known"]:
            who["known"], who["reg"] = known | {change}, reg
        else:
            self.join(who, [({change}, "write", reg)])
        return reg

    def undo(self, who):
        """Take back one's own last step, or any earlier one."""
        steps = who["steps"]
        change, reg = steps[-1] if self.r.random() < 0.7 else self.r.choice(steps)
        number = self.number(who["known"])
        new, kept = self.model.undo(who["known"], who["name"], number, change)
        done = self.act(who, who["known"], "undo", new, copy=who["reg"], step=reg)
        self.kept.append((done, kept))

    def settle(self, who, apart):
        path = self.r.choice(apart)
        place = self.r.randrange(len(self.model.different(who["known"], path)))
        number = self.number(who["known"])
        new = self.model.settle(who["known"], who["name"], number, path, place)
        self.act(who, who["known"], "settle", new, copy=who["reg"], path=path, place=place)

    def edit(self, who):
        """Key readings, and at times add, take out or move an item, as one change."""
        known, reg = who["known"], who["reg"]
        if who["past"] and who["past"][1] is not None and self.r.random() < 0.1:
            known, reg = who["past"]  # the person saw what was there before
        # Above what this phone has, whatever the person saw.
        number = self.number(who["known"] | known)
        rows = {}  # path of a list -> its ids, as the person sees them
        says, patch = {}, []
        for _ in range(self.r.choice([1, 1, 1, 2])):
            self.key(known, rows, says, patch)
        if self.r.random() < 0.3:
            gone = self.move(known, rows, says, patch, f"{who['name']}.{number}")
            says = {p: t for p, t in says.items() if p == gone or not p.startswith(f"{gone}/")}
        change = self.model.write(known, who["name"], number, says)
        self.act(who, known, "write", change, copy=reg, patch=patch)

    def ids(self, known, rows, path):
        if path not in rows:
            rows[path] = self.model.rows(known, path)
        return rows[path]

    def item(self, known, rows):
        """(path of an item or "", its place in the document): a random one that is there."""
        kind = self.r.choice(self.kinds)
        if kind == "":
            return "", []
        if kind == "stock":
            return self.pick(known, rows, "/board/stock", ["board", "stock"])
        path, at = self.pick(known, rows, "/walls", ["walls"])
        if path and kind != "walls":
            inner, way = self.pick(known, rows, f"{path}/{kind}", [*at, kind])
            return (inner, way) if inner else (path, at)
        return path, at

    def pick(self, known, rows, path, at):
        ids = self.ids(known, rows, path)
        if not ids:
            return "", []
        i = self.r.randrange(len(ids))
        return f"{path}/{ids[i]}", [*at, i]

    def reading(self, key):
        kind = self.r.random()
        if key in CHOICES:
            return self.r.choice(CHOICES[key])
        if kind < 0.08:
            return self.r.choice([None, ""])
        self.keyed += 1
        if key in ("price", "count"):
            fresh = 100 + self.keyed
            return self.r.choice([fresh, *(MONEY if key == "price" else COUNTS)])
        return 600 + self.keyed if kind < 0.7 else self.r.choice(list(SAME))

    def key(self, known, rows, says, patch):
        """Key a reading into a field, or clear it."""
        item, at = self.item(known, rows)
        key = self.r.choice(self.fields[item.split("/")[-2] if item else ""])
        path = f"{item}/{key}"
        if path in says:
            return
        tail = GONE if self.r.random() < 0.08 else [self.reading(key.split("/")[-1])]
        held = self.model.shown(known, path)
        if tail == held:
            return
        says[path] = tail
        where = [*at, *key.split("/")]
        patch.append({"at": where, "value": tail[0]} if tail else {"at": where})

    def move(self, known, rows, says, patch, name):
        """Add, take out or move an item. The path of one that goes, or None."""
        item, at = self.item(known, rows)
        if item and self.r.random() < 0.5:
            self.order(known, item.rsplit("/", 1)[0], rows, says, out=item.rsplit("/", 1)[1])
            says[item] = GONE
            patch.append({"at": at})
            return item
        lists = ["walls", "stock"] if not item.startswith("/walls") else ["openings", "stations"]
        kind = self.r.choice(lists)
        path, way = f"{item}/{kind}", [*at, kind]
        if kind == "walls":
            path, way = "/walls", ["walls"]
        elif kind == "stock":
            path, way = "/board/stock", ["board", "stock"]
        elif item.split("/")[-2] != "walls":
            path, way = f"{items_over(item)[0]}/{kind}", [*at[:2], kind]
        ids = self.ids(known, rows, path)
        place = len(ids) if self.r.random() < 0.7 else self.r.randrange(len(ids) + 1)
        key = FIELDS[kind][0]
        value = {key: self.reading(key)}
        says[f"{path}/{name}/{key}"] = [value[key]]
        if kind == "walls" and self.r.random() < 0.5:
            value["openings"] = [{"left": 650}]
            says[f"{path}/{name}/openings/{name}.2"] = [0]
            says[f"{path}/{name}/openings/{name}.2/left"] = [650]
        self.order(known, path, rows, says, new=(place, name))
        patch.append({"at": [*way, place], "insert": value})
        return None

    def order(self, known, path, rows, says, new=None, out=None):
        """Say where the items of a list stand: places go upwards, and stay where they can."""
        ids = [key for key in self.ids(known, rows, path) if key != out]
        held = {key: self.model.shown(known, f"{path}/{key}")[0] for key in ids}
        if new:
            ids.insert(*new)
        if new and ids[-1] != new[1]:
            places = {key: i for i, key in enumerate(ids)}
        else:
            places = dict(held)
            if new:
                places[new[1]] = max(held.values(), default=-1) + 1
        for key in ids:
            if places[key] != held.get(key):
                says[f"{path}/{key}"] = [places[key]]


def make(seed, actions=None):
    """A run of a crew: mostly a short one, each twentieth four times as long."""
    if actions is None:
        actions = 32 if seed % 20 == 0 else 8
    crew = Crew(seed)
    r = crew.r
    for _ in range(actions):
        who = r.choice(crew.busy if r.random() < 0.9 else crew.all)
        apart = crew.model.apart(who["known"]) if who["reg"] is not None else []
        kind = r.random()
        if who["reg"] is None or (kind < 0.35 and who is not crew.laptop):
            crew.sync(who)
        elif kind < 0.4 and crew.written:
            crew.stream()
        elif apart and kind < 0.7:
            crew.settle(who, apart)
        elif who["steps"] and kind < 0.6:
            crew.undo(who)
        else:
            crew.edit(who)
    crew.meet()
    known = crew.laptop["known"]
    assert known == set(range(len(crew.model.changes)))
    return Run(crew.program, [w["reg"] for w in crew.all], crew.model, known, crew.kept)
