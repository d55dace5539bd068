"""Few sizes of type: what is large is read first, and nothing is too small to read."""

from __future__ import annotations

import re

import pytest

from planbuilder import render
from planbuilder.pango import load_weasyprint
from planbuilder.view.pages import view_of

pytestmark = pytest.mark.pdf

PARTS = ["cover", "attendant", "leader", "sheets", "findings", "assumptions", "exchange"]
MOST_SIZES = 4
LEAST_PX = 8 / 0.75  # 8 pt


@pytest.fixture(scope="module", params=["transformer_deck", "half_measured"])
def document(request, sample_plan):
    """A sample laid out, without its sketches."""
    page = render.to_html(view_of(sample_plan(request.param)))
    weasyprint = load_weasyprint()
    fonts, style = render._style(weasyprint)
    return weasyprint.HTML(
        string=re.sub(r"<svg.*?</svg>", "", page, flags=re.DOTALL),
        base_url=render.templates_folder().as_uri() + "/",
        url_fetcher=render._local_fetcher(weasyprint),
    ).render(stylesheets=[style], font_config=fonts)


def sizes(document, part: str) -> set[float]:
    """The sizes of type in the sections of a class, in px."""
    return {
        text.style["font_size"]
        for page in document.pages
        for box in page._page_box.descendants()
        if box.element is not None
        and box.element_tag == "section"
        and part in (box.element.get("class") or "").split()
        for text in box.descendants()
        if hasattr(text, "text") and text.text.strip()
    }


@pytest.mark.parametrize("part", PARTS)
def test_a_part_of_the_plan_has_four_sizes_of_type_at_most_and_none_too_small(document, part):
    found = sizes(document, part)

    assert 1 < len(found) <= MOST_SIZES
    assert min(found) >= LEAST_PX - 1e-6
