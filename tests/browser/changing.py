"""A server of a page that may be changed while it is open."""

import shutil
import socket

from tests.browser.conftest import ROOT, serving


class Laptop:
    """A server of a page that may be changed, on one port, which may be killed and come again."""

    def __init__(self, folder):
        self.root = folder / "tree"
        self.data = folder / "data"
        for name in ("server", "calc", "web"):
            shutil.copytree(ROOT / name, self.root / name, ignore=shutil.ignore_patterns("__*__"))
        # Of our choice, as in use: one that the system picks can't be taken again at once.
        with socket.create_server(("127.0.0.1", 0)) as s:
            self.port = s.getsockname()[1]
        self.up = None
        self.start()

    def start(self):
        self.up = serving(self.data, self.port, root=self.root)
        self.address = self.up.__enter__().address

    def kill(self):
        self.up.__exit__(None, None, None)
        self.up = None

    def change(self, page):
        """Serve another version of the page; its name, once it is served."""
        before = self.version(page)
        with (self.root / "web" / "style.css").open("a") as f:
            f.write("\n")
        while self.version(page) == before:
            page.wait_for_timeout(100)
        return self.version(page)

    def version(self, page):
        return page.request.get(self.address + "/version.json").json()["version"]
