"""Cards for the pocket: small, and still read; cut to a size that a pocket takes."""

from __future__ import annotations

import re

import pytest

from planbuilder import render
from planbuilder.pango import load_weasyprint
from planbuilder.view.pages import view_of
from planbuilder.view.pocket import MORE

pytestmark = pytest.mark.pdf

SAMPLES = [
    "pump_station",
    "storage_tank",
    "storage_tank_short_air",
    "call_and_wait",
    "half_measured",
    "shored_trench",
    "transformer_deck",
    "cramped_chamber",
    "borough_culvert",
    "grain_terminal",
]
MM = 96 / 25.4  # CSS pixels
LEAST_TYPE_PX = 7 / 0.75
SIZES_MM = {"a4": (148, 105), "letter": (279.4 / 2, 108)}


@pytest.fixture(scope="module", params=SIZES_MM)
def paper(request):
    """A paper."""
    return request.param


@pytest.fixture(scope="module", params=SAMPLES)
def laid_out(request, sample_plan, paper):
    """The sheets of pocket cards of a sample, laid out, with its view."""
    view = view_of(sample_plan(request.param), paper)
    head, _, body = render.to_html(view).partition("<body")
    sheets = re.findall(r'<section class="page pockets".*?</section>', body, flags=re.DOTALL)
    weasyprint = load_weasyprint()
    fonts, style = render._style(weasyprint)
    document = weasyprint.HTML(
        string=f"{head}<body{body.partition('>')[0]}>{''.join(sheets)}</body></html>",
        base_url=render.templates_folder().as_uri() + "/",
        url_fetcher=render._local_fetcher(weasyprint),
    ).render(stylesheets=[style], font_config=fonts)
    return view, document


def boxes(document, name: str):
    """Every box of a class."""
    return [
        one
        for page in document.pages
        for one in page._page_box.descendants()
        if one.element is not None
        and one.element.get("class") == name
        and not one.element_tag.endswith("after")
    ]


def test_both_cards_of_a_space_stand_on_one_sheet(laid_out):
    view, document = laid_out

    assert len(document.pages) == len(view.spaces)
    assert len(boxes(document, "pocket")) == 2 * len(view.spaces)


def test_a_card_has_its_size_and_all_its_text_inside(laid_out, paper):
    _, document = laid_out
    wide, tall = SIZES_MM[paper]

    for card in boxes(document, "pocket"):
        assert card.border_height() / MM == pytest.approx(tall, abs=0.5)
        assert card.border_width() / MM >= wide - 0.5
        lines = [one for one in card.descendants() if type(one).__name__ == "LineBox"]
        inner_foot = card.position_y + card.border_height() - 1 * MM
        assert lines[-1].element.get("class") == "which"
        assert max(one.position_y + one.height for one in lines) <= inner_foot


def test_no_type_on_a_card_is_too_small(laid_out):
    _, document = laid_out

    for card in boxes(document, "pocket"):
        sizes = {one.style["font_size"] for one in card.descendants() if hasattr(one, "text")}
        assert min(sizes) >= LEAST_TYPE_PX


def test_a_card_that_leaves_something_out_says_so(laid_out):
    view, _ = laid_out
    for space in view.spaces:
        card = space.pockets[1]
        printed = [line for block in (*card.left, *card.right) for line in block.lines]
        methods = space.leader.methods
        wanted = sum(1 + bool(one.free_first) for one in methods)
        wanted += sum(len(one.roles) + len(one.gear) for one in methods)
        wanted += len(space.leader.clocks) + len(space.leader.abort)
        wanted += len(space.leader.hazards) + len(space.leader.answers)

        assert (card.more == MORE) is (len(printed) < wanted)


def test_the_attendants_steps_and_the_words_to_say_are_never_left_out(laid_out):
    view, _ = laid_out
    for space in view.spaces:
        card = space.pockets[0]
        printed = [line.text for block in (*card.left, *card.right) for line in block.lines]

        for text in (*space.attendant.steps, *space.attendant.script):
            assert text in printed
