"""A phone in small: it writes by the bridge's verbs, as the page does, and keeps an outbox."""

import json
import secrets

from calc.bridge import call

CUT = {"course": 1, "run": 1, "board": 1, "stock": "12 ft"}


def bridge(verb, **arguments):
    answer = json.loads(call(json.dumps({"do": verb, **arguments})))
    assert answer.pop("ok"), answer
    return answer


class Phone:
    """One job on one phone. outbox: its writes that the laptop has not acknowledged."""

    def __init__(self, ask, key, writer=None):
        """ask(path, method, body): (status, parsed JSON) from the laptop."""
        self.ask = ask
        self.key = key
        self.writer = writer or secrets.token_urlsafe(6)
        self.rev = 0
        self.outbox = []
        self.copy = self.job = None
        self.top = 0

    def begin(self, job):
        """A job of its own, not sent yet."""
        made = bridge("adopt", job=job, writer=self.writer, number=1)
        self._hold(made)
        self.outbox.append(made["copy"])
        return self

    def open(self):
        """The job that the laptop has under the key."""
        status, got = self.ask(f"/api/jobs/{self.key}", "GET", None)
        assert status == 200, got
        self._hear(got)
        return self

    def edit(self, change):
        """Have `change` done to the job document, and keep the write to be sent: its step."""
        job = json.loads(json.dumps(self.job))
        change(job)
        number = self.top + 1
        made = bridge("write", copy=self.copy, job=job, writer=self.writer, number=number)
        self._hold(made)
        self.outbox.append(made["write"])
        return {"writer": self.writer, "number": number, "before": made["before"]}

    def set(self, **fields):
        """Change fields of the first wall."""
        return self.edit(lambda job: job["walls"][0].update(fields))

    def mark(self, piece):
        """Mark a piece of the first wall as cut."""

        def marked(job):
            cut = {**CUT, "wall": job["walls"][0]["id"], "piece": piece}
            job.setdefault("done", {}).setdefault("cut", []).append(cut)

        return self.edit(marked)

    def send(self, writes=None):
        """Send the outbox, or those writes: (status, answer); what it acknowledges is let go."""
        sent = self.outbox if writes is None else writes
        if self.rev:
            body = {"writes": sent, "have": self.rev}
            status, answer = self.ask(f"/api/jobs/{self.key}/writes", "POST", body)
        else:
            status, answer = self.ask("/api/jobs", "POST", {"key": self.key, "writes": sent})
        if status in (200, 201):
            self.rev = answer["rev"]
            self.outbox = [w for w in self.outbox if w not in sent]
            if answer["copy"]:
                self._hear(answer)
        return status, answer

    def hear(self, writes):
        """Merge what the stream told."""
        self._hold(bridge("join", copies=[self.copy, *writes]))

    def _hear(self, answer):
        self.rev = answer["rev"]
        ours = [] if self.copy is None else [self.copy]
        self._hold(bridge("join", copies=[*ours, answer["copy"]]))

    def _hold(self, made):
        self.copy, self.job, self.top = made["copy"], made["job"], made["top"]
        self.apart = made["apart"]


def new_key():
    return secrets.token_urlsafe(16)


def asking(client):
    """Phone's way to an app's test client."""

    def ask(path, method, body):
        response = client.open(path, method=method, json=body)
        return response.status_code, response.get_json()

    return ask
