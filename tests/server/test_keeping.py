"""The CA's folder: made once; what is damaged is told, and never replaced behind one's back."""

import datetime
import os
import shutil
import stat
import threading

import pytest

from server import certs, keeping
from server.cli import main
from server.https import Https
from server.keeping import Damaged, open_or_make

NOW = datetime.datetime.now(datetime.UTC)


@pytest.fixture
def folder(tmp_path):
    folder = tmp_path / "trust"
    open_or_make(folder)
    return folder


def test_it_is_made_once_and_stays(folder):
    first, second = open_or_make(folder), open_or_make(folder)
    assert first.name == second.name
    assert first.cert == second.cert
    assert {p.name for p in folder.iterdir()} == {"ca.key", "ca.crt"}
    assert [p.name for p in folder.parent.iterdir()] == ["trust"]


@pytest.mark.skipif(os.name != "posix", reason="rights of files are POSIX's")
def test_only_its_owner_may_read_it(folder):
    assert stat.S_IMODE((folder / "ca.key").stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    os.chmod(folder / "ca.key", 0o644)
    with pytest.raises(Damaged, match=r"may be read by others.*chmod 600"):
        open_or_make(folder)


def other(tmp_path):
    return open_or_make(tmp_path / "other") and tmp_path / "other"


def lose_the_key(folder, _):
    (folder / "ca.key").unlink()


def lose_both(folder, _):
    (folder / "ca.key").unlink()
    (folder / "ca.crt").unlink()


def half_a_key(folder, _):
    whole = (folder / "ca.key").read_bytes()
    (folder / "ca.key").write_bytes(whole[: len(whole) // 2])


def empty_certificate(folder, _):
    (folder / "ca.crt").write_bytes(b"")


def anothers_key(folder, tmp_path):
    (folder / "ca.key").write_bytes((other(tmp_path) / "ca.key").read_bytes())


def not_an_authority_of_ours(folder, _):
    """A leaf in its place, with its own key."""
    ca = open_or_make(folder)
    key, _, cert = certs.new_leaf(ca, [], NOW).pem.partition(b"-----BEGIN CERTIFICATE")
    (folder / "ca.key").write_bytes(key)
    (folder / "ca.crt").write_bytes(b"-----BEGIN CERTIFICATE" + cert)


def a_file_in_its_place(folder, _):
    shutil.rmtree(folder)
    folder.write_text("")


@pytest.mark.parametrize(
    ("damage", "says"),
    [
        (lose_the_key, "ca.key is missing"),
        (lose_both, "ca.key is missing"),
        (half_a_key, "the key can't be read"),
        (empty_certificate, "the certificate can't be read"),
        (anothers_key, "do not belong together"),
        (not_an_authority_of_ours, "was not made by Lapwright"),
        (a_file_in_its_place, "ca.key is missing"),
    ],
)
def test_damage_is_told_and_nothing_is_made_in_its_place(folder, tmp_path, damage, says):
    damage(folder, tmp_path)
    before = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    with pytest.raises(Damaged) as e:
        open_or_make(folder)
    assert says in str(e.value)
    assert str(folder) in str(e.value)
    assert "every phone has to trust this laptop anew" in str(e.value)
    assert {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()} == before


def test_the_wrong_time_is_told(folder):
    with pytest.raises(Damaged, match=r"by this laptop's clock.*Set the clock\."):
        open_or_make(folder, NOW - datetime.timedelta(days=30))
    with pytest.raises(Damaged, match="ran out on"):
        open_or_make(folder, NOW + datetime.timedelta(days=3651))


def test_a_kill_while_it_is_made_leaves_none_or_a_whole_one(tmp_path, monkeypatch):
    """Each step of the making is the last, once."""
    steps = ("_write", "_sync", "_move")
    for n in range(10):
        left = n
        folder = tmp_path / f"{n}" / "trust"
        folder.parent.mkdir()

        def counted(real):
            def step(*arguments):
                nonlocal left
                if left == 0:
                    raise KeyboardInterrupt
                left -= 1
                return real(*arguments)

            return step

        with monkeypatch.context() as m:
            for name in steps:
                m.setattr(keeping, name, counted(getattr(keeping, name)))
            try:
                open_or_make(folder)
            except KeyboardInterrupt:
                assert left == 0
            else:
                assert n == 5, "all the steps were counted"
                return
        made = folder.exists()
        kept = (folder / "ca.crt").read_bytes() if made else b""
        open_or_make(folder)
        assert not made or (folder / "ca.crt").read_bytes() == kept
    raise AssertionError("it never got through")


def test_two_at_once_end_up_with_one(tmp_path):
    made = []
    gate = threading.Barrier(8)

    def start():
        gate.wait()
        made.append(open_or_make(tmp_path / "trust").name)

    threads = [threading.Thread(target=start) for _ in range(8)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert len(made) == 8
    assert len(set(made)) == 1
    assert [p.name for p in tmp_path.iterdir()] == ["trust"]


def test_addresses_it_has_had_are_kept(folder):
    assert keeping.known_addresses(folder) == []
    keeping.keep_addresses(folder, ["10.0.0.5", "10.0.0.4"])
    assert keeping.known_addresses(folder) == ["10.0.0.5", "10.0.0.4"]
    for text in ("[", "{}", "[1]"):
        (folder / "addresses.json").write_text(text)
        with pytest.raises(Damaged, match=r"addresses\.json can't be read\. Delete it"):
            Https(folder, lambda: [])


def test_http_goes_on_and_says_why_there_is_no_https(tmp_path, monkeypatch, capsys):
    from server import serve

    data = tmp_path / "data"
    open_or_make(_made(data) / "trust")
    (data / "trust" / "ca.key").unlink()
    seen = []

    def stop_at_once(app, *_):
        with app.test_client() as client:
            seen.append(client.get("/api/laptop").get_json())
            seen.append(client.get("/").get_data(as_text=True))
            seen.append(client.get("/ca.crt"))
        raise KeyboardInterrupt

    monkeypatch.setattr(serve._Server, "serve", lambda server: stop_at_once(server.wsgi_app))
    assert main(["--host", "127.0.0.1", "--port", "0", "--data", str(data)]) == 0
    said = capsys.readouterr().out
    assert "No https, so phones can't open the page without it." in said
    assert "ca.key is missing" in said
    answer, page, file = seen
    assert (answer["https"], answer["name"], answer["fingerprint"]) == (None, None, None)
    assert "ca.key is missing" in answer["problem"]
    assert "Phones can’t open it without this laptop now." in page
    assert file.status_code == 404
    assert "ca.key is missing" in file.get_json()["error"]["problems"][0]["fix"]


def _made(folder):
    folder.mkdir()
    return folder
