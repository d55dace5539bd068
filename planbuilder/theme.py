"""A company's own layout: a folder of templates with a theme file, read as strictly as a site."""

from __future__ import annotations

import difflib
import hashlib
import math
import os
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import AfterValidator, Field, ValidationError, ValidationInfo

from planbuilder.errors import FileProblemsError, PlanbuilderError, Problem
from planbuilder.site.fields import Strict, Text, refusal
from planbuilder.site.positions import KeyIndex
from planbuilder.site.wording import problems_of

THEME_FILE = "theme.toml"
OWN_PARTS = "own"
LOGO_KINDS = (".png", ".jpg", ".jpeg", ".svg")
LARGEST_LOGO_BYTES = 500_000
LARGEST_FILE_BYTES = 2_000_000
MOST_FILES = 300
BLACK_ON_PAPER = 4.5  # WCAG 2.2, 1.4.3: what ordinary text needs against its ground
SMALL_PRINT = 7.0  # WCAG 2.2, 1.4.6: a shaded row also holds the smallest print
SRGB_KNEE = 0.04045
GREY_TEXT = "#333333"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What the templates see of a theme: words only."""

    name: str = ""
    logo: str = ""
    heading: str = ""
    line: str = ""
    shade: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """A folder of templates that stand in for those that ship, and how it looks."""

    folder: Path
    look: Look
    fingerprint: str


def brightness(colour: str) -> float:
    """Relative luminance of "#rrggbb", 0 black to 1 white (WCAG 2.2, relative luminance)."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    """A part of sRGB, 0 to 1, as light (WCAG 2.2, relative luminance)."""
    return part / 12.92 if part <= SRGB_KNEE else math.pow((part + 0.055) / 1.055, 2.4)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, contrast ratio)."""
    light, dark = sorted((brightness(one), brightness(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _colour(value: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        raise refusal("colour_form", 'must be a colour such as "#1a3c6e"')
    return value.lower()


def _dark(value: str) -> str:
    ratio = contrast(_colour(value), "#ffffff")
    if ratio < BLACK_ON_PAPER:
        text = f"must be dark enough to read on white, {BLACK_ON_PAPER:g} to 1 (it is {ratio:.1f})"
        raise refusal("colour_pale", text)
    return value.lower()


def _pale(value: str) -> str:
    ratio = contrast(_colour(value), GREY_TEXT)
    if ratio < SMALL_PRINT:
        text = f"must be pale enough to read on, {SMALL_PRINT:g} to 1 (it is {ratio:.1f})"
        raise refusal("colour_dark", text)
    return value.lower()


def _logo_file(value: str, info: ValidationInfo) -> str:
    folder = info.context
    if not isinstance(folder, Path):
        return value
    if Path(value).suffix.lower() not in LOGO_KINDS:
        raise refusal("logo_kind", f"must be a file of kind {', '.join(LOGO_KINDS)}")
    path = (folder / value).resolve()
    if not path.is_relative_to(folder):
        raise refusal("logo_outside", "must lie in the folder of the layout")
    if not path.is_file():
        raise refusal("logo_missing", "names no file in the folder of the layout")
    if path.stat().st_size > LARGEST_LOGO_BYTES:
        raise refusal("logo_large", f"must have at most {LARGEST_LOGO_BYTES // 1000} kB")
    return value


Name = Annotated[Text, Field(max_length=30)]
Dark = Annotated[str, Field(strict=True), AfterValidator(_dark)]
Pale = Annotated[str, Field(strict=True), AfterValidator(_pale)]


class Colours(Strict):
    """Headings, rules and shaded rows. Status and verdicts stay black, in words."""

    heading: Dark = "#111111"
    line: Dark = "#111111"
    shade: Pale = "#f0efec"


class Theme(Strict):
    """The theme file."""

    name: Name
    logo: Annotated[Text, AfterValidator(_logo_file)] | None = None
    colours: Colours = Colours()


def load_layout(folder: Path, shipped: Path) -> Layout:
    """The layout in *folder*, whose templates stand in for those of *shipped*.

    Raises FileProblemsError with every problem of the theme file, and PlanbuilderError for a
    folder without one, a link out of it, or a template that stands in for none.
    """
    root = folder.resolve()
    theme_file = root / THEME_FILE
    if not theme_file.is_file():
        message = f'{folder / THEME_FILE}: is missing; it needs at least: name = "Our layout"'
        raise PlanbuilderError(message)
    files = sorted(_files(folder, root))
    for path in files:
        _stands_in(path.relative_to(root), folder, shipped)
    theme = _theme(folder / THEME_FILE, root)
    look = Look(name=theme.name, logo=theme.logo or "", **theme.colours.model_dump())
    return Layout(root, look, _fingerprint(root, files))


def _files(folder: Path, root: Path) -> Iterator[Path]:
    count = 0
    for here, folders, names in os.walk(root):
        for name in (*folders, *names):
            path = Path(here, name)
            count += 1
            if count > MOST_FILES:
                message = f"{folder}: holds more than {MOST_FILES} files; give the layout its own"
                raise PlanbuilderError(message)
            if not path.resolve().is_relative_to(root):
                message = f"{folder / path.relative_to(root)}: leads out of the folder"
                raise PlanbuilderError(message)
            if path.is_file():
                if path.stat().st_size > LARGEST_FILE_BYTES:
                    kilobytes = LARGEST_FILE_BYTES // 1000
                    message = f"{folder / path.relative_to(root)}: is larger than {kilobytes} kB"
                    raise PlanbuilderError(message)
                yield path


def _stands_in(name: Path, folder: Path, shipped: Path) -> None:
    """A template with a misspelt name would be passed over without a word."""
    if name.suffix not in (".html", ".css") or name.parts[0] == OWN_PARTS:
        return
    known = [
        one.relative_to(shipped).as_posix()
        for one in sorted(shipped.rglob("*"))
        if one.suffix in (".html", ".css", ".svg") and one.name != "fixed.css"
    ]
    if name.as_posix() not in known:
        near = difflib.get_close_matches(name.as_posix(), known, 1, 0.6)
        hint = f'did you mean "{near[0]}"?' if near else f"known: {', '.join(known)}"
        message = (
            f"{folder / name}: stands in for no template, {hint} "
            f'Parts of your own go into the folder "{OWN_PARTS}".'
        )
        raise PlanbuilderError(message)


def _theme(path: Path, root: Path) -> Theme:
    try:
        text = path.read_bytes().decode("utf-8")
        data: dict[str, Any] = tomllib.loads(text)
    except UnicodeDecodeError as error:
        message = f"{path}: is not UTF-8 text (byte {error.start})"
        raise PlanbuilderError(message) from error
    except (ValueError, RecursionError) as error:
        raise FileProblemsError(path, [Problem(1, "(file)", f"is not TOML: {error}")]) from error
    try:
        return Theme.model_validate(data, context=root)
    except ValidationError as error:
        rows = problems_of(error, Theme, data, KeyIndex(text))
        raise FileProblemsError(path, rows) from error


def _fingerprint(root: Path, files: list[Path]) -> str:
    """Names the layout in the properties of the file: not part of the hash of the data."""
    digest = hashlib.sha256()
    for path in files:
        data = path.read_bytes()
        digest.update(f"{path.relative_to(root).as_posix()}\0{len(data)}\0".encode())
        digest.update(data)
    return digest.hexdigest()[:12]
