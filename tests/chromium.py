"""Where this machine's Chromium is, for the browser checks."""

import os
import shutil
from pathlib import Path

VARIABLE = "LAPWRIGHT_CHROMIUM"

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
_PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"%ProgramFiles%\Google\Chrome\Application\chrome.exe",
    r"%ProgramFiles(x86)%\Google\Chrome\Application\chrome.exe",
    r"%LocalAppData%\Google\Chrome\Application\chrome.exe",
    r"%LocalAppData%\Chromium\Application\chrome.exe",
)


class NoChromium(Exception):
    """There is no Chromium; the text says what to do."""


def find():
    """The path of a Chromium. Raises NoChromium."""
    named = os.environ.get(VARIABLE)
    if named:
        found = shutil.which(named)
        if found is None:
            raise NoChromium(f"{VARIABLE} is {named!r}, and there is no program there.")
        return found
    for name in _NAMES:
        found = shutil.which(name)
        if found:
            return found
    for place in _PLACES:
        path = Path(os.path.expandvars(place))
        if path.is_file():
            return str(path)
    raise NoChromium(
        "The browser checks need Chromium. Install it (Debian: apt-get install chromium; or "
        f"from your system's own store), or set {VARIABLE} to the path of one."
    )
