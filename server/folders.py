"""Where this user's data belongs on this system."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path


def data_folder(
    platform: str = sys.platform, env: Mapping[str, str] = os.environ, home: Path | None = None
) -> Path:
    """The folder for Lapwright's jobs; it may not exist yet.

    platform: as sys.platform; env, home: the user's. Source: the XDG Base
    Directory specification (relative paths are not valid there); on Windows
    and macOS the system's own folders for applications' data.
    """
    home = home or Path.home()
    if platform == "win32":
        return Path(env.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Lapwright"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "Lapwright"
    xdg = env.get("XDG_DATA_HOME", "")
    base = Path(xdg) if os.path.isabs(xdg) else home / ".local" / "share"
    return base / "lapwright"
