"""Pango: the system library that WeasyPrint needs and that no Python package brings.

Without it ``import weasyprint`` prints a banner on stdout and raises an ``OSError`` that names
GLib's gobject library, which sends people looking for the wrong package. Here the missing
libraries get their names and the command that installs them.
"""

from __future__ import annotations

import contextlib
import ctypes
import ctypes.util
import importlib
import io
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

from planbuilder.errors import MissingLibraryError

# What WeasyPrint 70 loads, in its order, with the file name each has on Linux.
LINUX_FILES = {
    "gobject-2.0": "libgobject-2.0.so.0",
    "pango-1.0": "libpango-1.0.so.0",
    "harfbuzz": "libharfbuzz.so.0",
    "fontconfig": "libfontconfig.so.1",
    "pangoft2-1.0": "libpangoft2-1.0.so.0",
}
# Debian 11 and Ubuntu 22.04 have no libharfbuzz-subset0, but no Python 3.11 either.
DEBIAN = "sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
FEDORA = "sudo dnf install pango"
MACOS = "brew install pango"
WINDOWS = "install MSYS2, then in its UCRT64 shell run: pacman -S mingw-w64-ucrt-x86_64-pango"
# Keys are the values of ID and ID_LIKE in os-release.
LINUX_COMMANDS = {
    "debian": DEBIAN,
    "ubuntu": DEBIAN,
    "fedora": FEDORA,
    "rhel": FEDORA,
    "arch": "sudo pacman -S pango",
    "alpine": "apk add pango fontconfig font-dejavu",
    "suse": "sudo zypper install libpango-1_0-0",
}
UNKNOWN_SYSTEM = "install the package that holds libpango-1.0.so.0 and libpangoft2-1.0.so.0"
ELSEWHERE = {
    "Debian, Ubuntu": DEBIAN,
    "Fedora": FEDORA,
    "macOS": MACOS,
    "Windows": WINDOWS,
}
OS_RELEASE_FILES = (Path("/etc/os-release"), Path("/usr/lib/os-release"))
# Homebrew on Apple silicon, Homebrew on Intel, MacPorts.
MACOS_FOLDERS = ("/opt/homebrew/lib", "/usr/local/lib", "/opt/local/lib")


def missing_libraries() -> tuple[str, ...]:
    """Name the libraries that WeasyPrint needs and that this system does not find.

    On Windows this looks in PATH only, while WeasyPrint also looks in MSYS2's folders: ask after
    a failed import, never instead of one.
    """
    return tuple(name for name, file in LINUX_FILES.items() if not _is_there(name, file))


def advice(os_release: str | None = None) -> str:
    """Give the command that installs Pango on this system.

    Args:
        os_release: the text of a Linux system's os-release file; None reads this system's own.
    """
    platform = _platform()
    if platform.startswith("linux"):
        text = _own_os_release() if os_release is None else os_release
        return next(_commands_for(text), UNKNOWN_SYSTEM)
    return {"darwin": MACOS, "win32": WINDOWS}.get(platform, UNKNOWN_SYSTEM)


def message(missing: tuple[str, ...], os_release: str | None = None) -> str:
    """Say what is missing, what to run here, what to run elsewhere, and what works without."""
    here = advice(os_release)
    rows = [f"    {name}: {command}" for name, command in ELSEWHERE.items() if command != here]
    return "\n".join(
        [
            f"PDF output needs the Pango library (not found: {', '.join(missing)}).",
            "On this system:",
            f"    {here}",
            "On other systems:",
            *rows,
            "`planbuilder check` and `planbuilder build --format html|json` work without it.",
        ]
    )


def load_weasyprint() -> ModuleType:
    """Import WeasyPrint, or say what to install; its banner on stdout is swallowed.

    Raises:
        MissingLibraryError: a system library is missing or does not load.
    """
    _show_homebrew_to_ctypes()
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            return importlib.import_module("weasyprint")
    except OSError as error:
        missing = missing_libraries()
        text = message(missing) if missing else f"WeasyPrint does not start: {error}"
        raise MissingLibraryError(text) from error


def _platform() -> str:
    """Hide sys.platform from mypy, which leaves out the branches of every other system."""
    return sys.platform


def _is_there(name: str, linux_file: str) -> bool:
    """Linux loads the file itself: its find_library needs ldconfig or a compiler to be there."""
    if _platform().startswith("linux"):
        try:
            ctypes.CDLL(linux_file)
        except OSError:
            return False
        return True
    spellings = (name, f"lib{name}-0", f"lib{name}-1")
    return any(ctypes.util.find_library(one) for one in spellings)


def _commands_for(os_release: str) -> Iterator[str]:
    """Yield the commands for a system's ID, then for those it says it is like."""
    fields = dict(line.split("=", 1) for line in os_release.splitlines() if "=" in line)
    for key in ("ID", "ID_LIKE"):
        for name in fields.get(key, "").strip("\"'").split():
            if name in LINUX_COMMANDS:
                yield LINUX_COMMANDS[name]


def _own_os_release() -> str:
    """Read the first os-release file that is there; a system without one is unknown."""
    for path in OS_RELEASE_FILES:
        with contextlib.suppress(OSError):
            return path.read_text(encoding="utf-8")
    return ""


def _show_homebrew_to_ctypes() -> None:
    """Let a Python that is not Homebrew's find Homebrew's libraries.

    ctypes reads this variable at call time, so setting it here is early enough, and it needs no
    shell setting.
    """
    if _platform() == "darwin":
        known = os.environ.get("DYLD_FALLBACK_LIBRARY_PATH", "").split(":")
        folders = [folder for folder in (*known, *MACOS_FOLDERS, "/usr/lib") if folder]
        os.environ["DYLD_FALLBACK_LIBRARY_PATH"] = ":".join(dict.fromkeys(folders))
