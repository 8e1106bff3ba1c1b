"""A phone for tests by hand: it holds a copy, and calls the bridge."""

import json
from itertools import pairwise

from calc.bridge import call


def ask(do, **more):
    """The bridge's answer; raises AssertionError where it refuses."""
    answer = json.loads(call(json.dumps({"do": do, **more})))
    assert answer.pop("ok"), answer
    return answer


def refused(do, **more):
    """The one problem that the bridge names."""
    answer = json.loads(call(json.dumps({"do": do, **more})))
    assert not answer["ok"], answer
    (problem,) = answer["problems"]
    assert all(problem[key] for key in ("field", "message", "fix"))
    return problem


class Phone:
    """copy, job, apart and top as the bridge answered them last."""

    def __init__(self, name, start):
        """start: a job to adopt, or another phone to copy."""
        self.name = name
        if isinstance(start, Phone):
            self._keep({key: getattr(start, key) for key in ("copy", "job", "apart", "top")})
        else:
            self._keep(ask("adopt", job=start, writer=name, number=1))

    def _keep(self, answer):
        self.copy, self.job, self.apart = answer["copy"], answer["job"], answer["apart"]
        self.top = answer["top"]

    def _did(self, do, **more):
        number = self.top + 1
        answer = ask(do, copy=self.copy, writer=self.name, number=number, **more)
        self._keep(answer)
        self.kept = answer["kept"]
        return {"writer": self.name, "number": number, "before": answer["before"],
                "write": answer["write"]}  # fmt: skip

    def write(self, job):
        """A step, to be taken back by undo."""
        return self._did("write", job=job)

    def edit(self, **changes):
        """A step; walls__0__height_left="97" writes, OUT in place of a value takes out."""
        job = json.loads(json.dumps(self.job))
        for path, value in changes.items():
            *way, last = [int(s) if s.isdigit() else s for s in path.split("__")]
            at = job
            for key, after in pairwise([*way, last]):
                if isinstance(key, str) and key not in at:
                    at[key] = [] if isinstance(after, int) else {}
                at = at[key]
            if value is OUT:
                del at[last]
            elif last == len(at):
                at.append(value)
            else:
                at[last] = value
        return self.write(job)

    def undo(self, step):
        step = {key: step[key] for key in ("writer", "number", "before")}
        return self._did("undo", step=step)

    def settle(self, path, option):
        (asked,) = [f for f in self.apart if f["path"] == path]
        return self._did("settle", path=path, place=asked["options"].index(option))

    def hear(self, *others):
        """Join the copies of other phones, or single steps."""
        more = [o.copy if isinstance(o, Phone) else o["write"] for o in others]
        self._keep(ask("join", copies=[self.copy, *more]))


OUT = object()


def meet(*phones):
    """All hear of all; they end with the same copy."""
    for phone in phones:
        phone.hear(*phones)
    for phone in phones:
        phone.hear(*phones)
        assert phone.copy == phones[0].copy
