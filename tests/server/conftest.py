"""An app on a temporary database per test, a job, and the real server as a process."""

import copy
import json
import os
import re
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from server.app import create_app

ROOT = Path(__file__).parents[2]

# A made-up wall of whole-inch readings.
WHOLE_JOB = {
    "format": "lapwright-job",
    "version": 1,
    "title": "North wall",
    "unit": "in",
    "board": {"face": "5 1/8", "stock": [{"length": "12 ft"}]},
    "walls": [
        {"height_left": "96", "width_floor": "140", "studs": {"first": "16", "spacing": "16"}}
    ],
}


@pytest.fixture
def job():
    return copy.deepcopy(WHOLE_JOB)


@pytest.fixture
def partial(job):
    """Two walls that can be planned, the second with a door, and one that lacks its width."""
    job["walls"].append(
        {
            "name": "East",
            "height_left": "96",
            "height_right": "104",
            "width_floor": "80",
            "studs": {"first": "16", "spacing": "16"},
            "openings": [{"kind": "door", "left": "30", "width": "30", "height": "80"}],
        }
    )
    job["walls"].insert(1, {"name": "Later", "height_left": "96"})
    return job


@pytest.fixture
def draft():
    """What the phone's page stores first: nothing measured yet."""
    return {
        "format": "lapwright-job",
        "version": 1,
        "title": "",
        "unit": "in",
        "board": {"stock": [{}]},
        "rules": {},
        "walls": [{"studs": {}}],
    }


@pytest.fixture
def app(tmp_path):
    app = create_app(
        {"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}", "ADDRESS": "192.168.7.20"}
    )
    yield app
    app.extensions["lapwright-live"].close()
    app.extensions["lapwright-store"].close()


@pytest.fixture
def client(app):
    return app.test_client()


@pytest.fixture
def stored(client, job):
    """A job that is stored: the answer to its POST."""
    return client.post("/api/jobs", json={"job": job}).get_json()


# The server as it is, but for some numbers.
BUT = "import server.cli, server.live, server.serve; {}; server.cli.main()"


class Laptop:
    """`python -m server` in a process of its own, on a free port of 127.0.0.1."""

    def __init__(self, data, *arguments, shell_prefix="", but=""):
        """but: what is set otherwise, like "server.live.BEAT_SECONDS = 1"."""
        program = ["-c", BUT.format(but)] if but else ["-m", "server"]
        command = [sys.executable, *program, "--host", "127.0.0.1", "--port", "0"]
        command += ["--data", str(data), *arguments]
        if shell_prefix:
            command = ["sh", "-c", f'{shell_prefix}; exec "$@"', "sh", *command]
        self.process = subprocess.Popen(
            command,
            cwd=ROOT,
            env={**os.environ, "PYTHONIOENCODING": "utf-8"},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            encoding="utf-8",
        )
        self.said = ""
        while "Ctrl-C stops." not in self.said:
            line = self.process.stdout.readline()
            assert line, f"ended early: {self.said}{self.process.stderr.read()}"
            self.said += line
        self.port = int(re.search(r"(?:Phone: +|to )http://127\.0\.0\.1:(\d+)/", self.said)[1])

    def ask(self, path, method="GET", body=None, timeout=10):
        """(status, parsed JSON)"""
        request = urllib.request.Request(
            f"http://127.0.0.1:{self.port}{path}",
            None if body is None else json.dumps(body).encode(),
            {"Content-Type": "application/json"},
            method=method,
        )
        try:
            with urllib.request.urlopen(request, timeout=timeout) as response:
                return response.status, json.load(response)
        except urllib.error.HTTPError as e:
            with e:
                return e.code, json.load(e)

    def call(self, path, method, body):
        """As a phone asks it (phones.py)."""
        return self.ask(path, method, body)

    def kill(self):
        """Kill it as `kill -9` does."""
        self.process.kill()
        self.process.communicate()

    def end(self, signal):
        """Send the signal; (exit code, seconds until it was gone, what it said on stderr)."""
        began = time.monotonic()
        self.process.send_signal(signal)
        _, errors = self.process.communicate(timeout=20)
        return self.process.returncode, time.monotonic() - began, errors


@pytest.fixture
def laptop(tmp_path):
    """Starts laptops on one data folder; whatever still runs at the end is killed."""
    started = []

    def start(*arguments, **options):
        one = Laptop(tmp_path / "data", *arguments, **options)
        started.append(one)
        return one

    yield start
    for one in started:
        if one.process.returncode is None:
            one.kill()


def check_error_shape(response, status, code):
    """The error's object, after checking the shape that every error has."""
    assert response.status_code == status, response.get_data(as_text=True)
    assert response.mimetype == "application/json"
    assert "default-src 'none'" in response.headers["Content-Security-Policy"]
    body = response.get_json()
    assert set(body) == {"error"}
    error = body["error"]
    assert set(error) == {"code", "message", "problems"}
    assert error["code"] == code
    assert error["message"].endswith(".")
    assert error["problems"]
    for problem in error["problems"]:
        assert set(problem) == {"field", "value", "message", "fix"}
        assert all(isinstance(v, str) for v in problem.values())
        assert problem["value"] and problem["message"] and problem["fix"]
    return error
