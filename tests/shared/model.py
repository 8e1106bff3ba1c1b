"""What copies of a job must hold, from the whole history: a model that shares no code with calc.

Every change that anybody ever made is kept, with what its maker knew and which values it
replaces. A copy is no more than the set of changes it knows; a value lives while no known change
replaces it. Nothing is ever merged or thrown away, so there is nothing to go wrong in it.

A tail is what a change says of a path: [value], or [] where it takes it out. Paths are those of
a copy; ids in them need no escapes here.
"""

from collections import namedtuple

# known: the changes its maker knew. says: path -> its tails. over: (path, change, place of the
# tail) that it replaces. main: path -> (tails before, tails now), of what a person meant to
# change; the rest of says are places of items written anew.
Change = namedtuple("Change", "writer number known says over main")
Live = namedtuple("Live", "number writer change place tail")

LISTS = ("walls", "openings", "stations", "stock")
GONE = []


def items_over(path):
    """The items of lists that the path lies in, outer ones first."""
    steps = path.split("/")
    return ["/".join(steps[:i]) for i in range(2, len(steps)) if steps[i - 2] in LISTS]


def is_item(path):
    return path.split("/")[-2] in LISTS


class Model:
    """The history of one job."""

    def __init__(self, meaning):
        """meaning: what a value of a field says, as something to be compared."""
        self.changes = []
        self.meaning = meaning

    def live(self, known, path):
        """What lives there, the last to be shown: by number, then writer."""
        dead = {o for c in known for o in self.changes[c].over if o[0] == path}
        return sorted(
            Live(self.changes[c].number, self.changes[c].writer, c, i, tail)
            for c in known
            for i, tail in enumerate(self.changes[c].says.get(path, ()))
            if (path, c, i) not in dead
        )

    def paths(self, known):
        return sorted({p for c in known for p in self.changes[c].says})

    def shown(self, known, path):
        """The tail that is shown; an item is there where any says so."""
        lives = self.live(known, path)
        if not lives:
            return GONE
        there = [x.tail for x in lives if x.tail]
        return there[-1] if there and is_item(path) else lives[-1].tail

    def visible(self, known, path):
        return all(self.shown(known, item) for item in items_over(path))

    def rows(self, known, path):
        """The ids of the items of a list that are there, in order."""
        found = [p for p in self.paths(known) if is_item(p) and p.rsplit("/", 1)[0] == path]
        there = [(self.shown(known, p), p.rsplit("/", 1)[1]) for p in found]
        return [key for tail, key in sorted(there) if tail]

    def top(self, known):
        return max((self.changes[c].number for c in known), default=0)

    def different(self, known, path):
        """The values that stand side by side and differ, each where it is shown last."""
        lives = self.live(known, path)
        said = [len(x.tail) if is_item(path) else self.meaning(path, x.tail) for x in lives]
        return [lives[i].tail for i in range(len(lives)) if said[i] not in said[i + 1 :]]

    def apart(self, known):
        """The paths that a person is asked about."""
        found = [p for p in self.paths(known) if len(self.different(known, p)) > 1]
        return [
            p for p in found
            if self.visible(known, p) and (not is_item(p) or self.shown(known, p))
        ]  # fmt: skip

    def document(self, known):
        """The job document, without its format and version."""
        root = {}
        for path in self.paths(known):
            tail = self.shown(known, path)
            if tail and self.visible(known, path):
                at = root
                steps = path.split("/")[1:]
                for step in steps[:-1]:
                    at = at.setdefault(step, {})
                at[steps[-1]] = {"id": steps[-1]} if is_item(path) else tail[0]
        return self._listed(known, "", root)

    def _listed(self, known, path, node):
        out = {}
        for key, held in node.items():
            at = f"{path}/{key}"
            if key in LISTS:
                rows = self.rows(known, at)
                out[key] = [self._listed(known, f"{at}/{r}", held[r]) for r in rows]
            else:
                out[key] = self._listed(known, at, held) if isinstance(held, dict) else held
        return out

    # What people do. Each gives the number of the change that it makes.

    def write(self, known, writer, number, says):
        """Somebody who knew `known` wrote these tails: path -> tail."""
        over = {path: self.live(known, path) for path in says}
        return self._change(known, writer, number, {p: [t] for p, t in says.items()}, over)

    def settle(self, known, writer, number, path, place):
        tail = self.different(known, path)[place]
        return self.write(known, writer, number, {path: tail})

    def undo(self, known, writer, number, change):
        """(the change that takes `change` back, how many paths stay since others wrote)."""
        step = self.changes[change]
        says, over, added, kept = {}, {}, [], 0
        for path in sorted(step.main):
            if any(path.startswith(item + "/") for item in added):
                continue
            was, now = step.main[path]
            lives = self.live(known, path)
            since = [x for x in lives if x.writer == step.writer and x.number >= step.number]
            ours = since
            if [x.tail for x in since] != now:
                ours = [x for x in since if x.change == change]
            if was == [GONE] and is_item(path):
                added.append(path)
                inside = [p for p in self.paths(known) if p.startswith(path + "/")]
                if any(x.writer != step.writer for p in inside for x in self.live(known, p)):
                    ours = []
            if ours:
                says[path], over[path] = was, ours
            else:
                kept += 1
        return self._change(known, writer, number, says, over), kept

    def _change(self, known, writer, number, says, over):
        main = {}
        for path in says:
            before = [x.tail for x in over[path]]
            once = [t for i, t in enumerate(before) if t not in before[i + 1 :]]
            main[path] = (once or [GONE], says[path])
        replaced = {(path, x.change, x.place) for path in says for x in over[path]}
        told = dict(says)
        for path in says:
            items = items_over(path)
            if all(self.shown(known, item) for item in items):
                for item in items:
                    if item not in told:
                        told[item] = [self.shown(known, item)]
                        there = [x for x in self.live(known, item) if x.tail]
                        replaced |= {(item, x.change, x.place) for x in there}
        # A value may only be replaced by somebody who knew of it.
        assert {c for _, c, _ in replaced} <= set(known)
        self.changes.append(Change(writer, number, frozenset(known), told, replaced, main))
        return len(self.changes) - 1
