"""What a reader without Pango is told, on every system that the README names."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

import pytest

from planbuilder import pango
from planbuilder.errors import MissingLibraryError

LINUX_SYSTEMS = [
    ('NAME="Debian GNU/Linux"\nID=debian\n', "sudo apt install libpango-1.0-0"),
    ("ID=ubuntu\nID_LIKE=debian\n", "sudo apt install libpango-1.0-0"),
    ("ID=fedora\n", "sudo dnf install pango"),
    ('ID="rocky"\nID_LIKE="rhel centos fedora"\n', "sudo dnf install pango"),
    ("ID=arch\n", "sudo pacman -S pango"),
    ("ID=alpine\n", "apk add pango fontconfig"),
    ('ID="opensuse-leap"\nID_LIKE="suse opensuse"\n', "sudo zypper install libpango-1_0-0"),
    ("# no ID line\n\n", "install the package that holds libpango-1.0.so.0"),
]


@pytest.mark.parametrize(("os_release", "command"), LINUX_SYSTEMS)
def test_each_linux_family_gets_its_own_command(
    monkeypatch: pytest.MonkeyPatch, os_release: str, command: str
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")

    assert pango.advice(os_release).startswith(command)


@pytest.mark.parametrize(
    ("platform", "command"),
    [
        ("darwin", "brew install pango"),
        ("win32", "install MSYS2, then in its UCRT64 shell"),
        ("freebsd14", "install the package that holds libpango-1.0.so.0"),
    ],
)
def test_a_system_that_is_not_linux_gets_its_own_command(
    monkeypatch: pytest.MonkeyPatch, platform: str, command: str
) -> None:
    monkeypatch.setattr(sys, "platform", platform)

    assert pango.advice().startswith(command)


def test_the_message_names_what_is_missing_and_puts_this_system_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")

    text = pango.message(("pango-1.0", "pangoft2-1.0"), "ID=fedora\n")

    assert text == (
        "PDF output needs the Pango library (not found: pango-1.0, pangoft2-1.0).\n"
        "On this system:\n"
        "    sudo dnf install pango\n"
        "On other systems:\n"
        "    Debian, Ubuntu:"
        " sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0\n"
        "    macOS: brew install pango\n"
        "    Windows: install MSYS2, then in its UCRT64 shell run:"
        " pacman -S mingw-w64-ucrt-x86_64-pango\n"
        "`planbuilder check` and `planbuilder build --format html|json` work without it."
    )


def test_only_the_library_that_does_not_load_counts_as_missing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def load(file: str) -> None:
        if file == "libpangoft2-1.0.so.0":
            raise OSError(file)

    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(ctypes, "CDLL", load)

    assert pango.missing_libraries() == ("pangoft2-1.0",)


@pytest.fixture
def broken_weasyprint(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A WeasyPrint that does what the real one does without Pango: prints, then OSError."""
    package = tmp_path / "weasyprint"
    package.mkdir()
    source = "print('carefully follow the installation steps')\nraise OSError('libgobject')\n"
    (package / "__init__.py").write_text(source, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)


@pytest.mark.usefixtures("broken_weasyprint")
def test_a_failed_import_says_what_to_install_and_prints_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(pango, "missing_libraries", lambda: ("pango-1.0",))

    with pytest.raises(MissingLibraryError, match=r"not found: pango-1\.0"):
        pango.load_weasyprint()

    assert capsys.readouterr().out == ""


@pytest.mark.usefixtures("broken_weasyprint")
def test_a_failed_import_with_every_library_there_gives_the_cause(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(pango, "missing_libraries", tuple)

    with pytest.raises(MissingLibraryError, match="does not start: libgobject"):
        pango.load_weasyprint()


@pytest.mark.pdf
def test_weasyprint_loads_where_the_libraries_are_there() -> None:
    assert pango.missing_libraries() == ()
    assert pango.load_weasyprint().__name__ == "weasyprint"


def test_homebrew_folders_are_added_behind_the_readers_own(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setenv("DYLD_FALLBACK_LIBRARY_PATH", "/own/lib:/usr/local/lib")
    monkeypatch.setitem(sys.modules, "weasyprint", sys)

    pango.load_weasyprint()

    folders = os.environ["DYLD_FALLBACK_LIBRARY_PATH"].split(":")
    assert folders == [
        "/own/lib",
        "/usr/local/lib",
        "/opt/homebrew/lib",
        "/opt/local/lib",
        "/usr/lib",
    ]
