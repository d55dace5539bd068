"""The sample sites, edited copies of them, and their PDFs, each rendered once a run."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import settings

from planbuilder.errors import PlanbuilderError
from planbuilder.pango import missing_libraries
from planbuilder.plan import Plan, build_plan
from planbuilder.render import to_pdf
from planbuilder.site.load import SiteFile, load_site

# One set of examples for everybody: what lands does not hang on luck. New ones are looked for with
# `pytest --hypothesis-profile=explore`.
settings.register_profile("same", derandomize=True, deadline=None)  # a busy machine is no error
settings.register_profile("explore", max_examples=200, deadline=None)
settings.load_profile("same")

SAMPLES = Path(__file__).parents[1] / "sample_sites"
ON = date(2026, 11, 25)

Swap = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Printed:
    """A plan, its PDF, and the text of each page as PDFium reads it."""

    plan: Plan
    data: bytes
    pages: tuple[str, ...]


@pytest.fixture(scope="session")
def on() -> date:
    """The day on which the samples are checked."""
    return ON


@pytest.fixture(scope="session")
def sample() -> Callable[[str], Path]:
    """The path of a sample site, by its name."""
    return lambda name: SAMPLES / f"{name}.toml"


@pytest.fixture
def edited(tmp_path: Path) -> Callable[..., Path]:
    """Writes a copy of a sample with some text swapped, each once, and says where it is.

    ``edited("pump_station", ('depth = "21 ft"', "depth = 21"))``
    """

    def edit(name: str, *swaps: Swap, line_end: str = "\n") -> Path:
        text = (SAMPLES / f"{name}.toml").read_text(encoding="utf-8")
        for old, new in swaps:
            assert old in text, f"{name}.toml has no {old!r}"
            text = text.replace(old, new, 1)
        path = tmp_path / "site.toml"
        path.write_text(text, encoding="utf-8", newline=line_end)
        return path

    return edit


@pytest.fixture
def loaded(edited: Callable[..., Path]) -> Callable[..., SiteFile]:
    """Loads an edited copy of a sample."""
    return lambda name, *swaps: load_site(edited(name, *swaps))


@pytest.fixture
def planned(loaded: Callable[..., SiteFile]) -> Callable[..., Plan]:
    """Works out an edited copy of a sample."""
    return lambda name, *swaps: build_plan(loaded(name, *swaps), on=ON)


@pytest.fixture
def refused(edited: Callable[..., Path]) -> Callable[..., list[str]]:
    """The lines of the message about an edited copy of a sample, without its folder."""

    def complaints(name: str, *swaps: Swap, line_end: str = "\n") -> list[str]:
        path = edited(name, *swaps, line_end=line_end)
        with pytest.raises(PlanbuilderError) as caught:
            build_plan(load_site(path), on=ON)
        return str(caught.value).replace(str(path), path.name).splitlines()

    return complaints


@pytest.fixture(scope="session")
def sample_plan() -> Callable[[str], Plan]:
    """The plan of a sample, worked out once a run."""
    return functools.cache(lambda name: build_plan(load_site(SAMPLES / f"{name}.toml"), on=ON))


@pytest.fixture(scope="session")
def printed(sample_plan: Callable[[str], Plan]) -> Callable[..., Printed]:
    """The PDF of a sample, on the paper of its rule set or on another, rendered once a run."""
    _skip_without_pango()

    @functools.cache
    def render(name: str, paper: str | None) -> Printed:
        plan = sample_plan(name)
        data = to_pdf(plan, paper)
        return Printed(plan, data, page_texts(data))

    return lambda name, paper=None: render(name, paper)


@pytest.fixture
def printed_edit(planned: Callable[..., Plan]) -> Callable[..., Printed]:
    """The PDF of an edited copy of a sample."""
    _skip_without_pango()

    def render(name: str, *swaps: Swap) -> Printed:
        plan = planned(name, *swaps)
        data = to_pdf(plan)
        return Printed(plan, data, page_texts(data))

    return render


def _skip_without_pango() -> None:
    if missing := missing_libraries():
        pytest.skip(f"no Pango: {', '.join(missing)}")


def page_texts(data: bytes) -> tuple[str, ...]:
    """The text of each page; PDFium marks a hyphen at the end of a line with U+FFFE."""
    document = pypdfium2.PdfDocument(data)
    texts = []
    for page in document:
        text = page.get_textpage()
        texts.append(text.get_text_range().replace("\ufffe", "-").replace("\r\n", "\n"))
        text.close()
        page.close()
    document.close()
    return tuple(texts)
