"""The PDF as a PDF: what stands on which page, what is inside, and what it was made from."""

from __future__ import annotations

import concurrent.futures
import ctypes
import io
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import page as validator
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from planbuilder import __version__, render
from planbuilder.pango import load_weasyprint
from planbuilder.plan import NOT_READY, READY
from planbuilder.results import results_json
from planbuilder.view.pages import view_of

pytestmark = pytest.mark.pdf

ROOT = Path(__file__).parents[1]
SAMPLES = ["pump_station", "storage_tank", "call_and_wait", "half_measured"]
PAPERS = {None: (612, 792), "a4": (595.276, 841.89)}  # points; the US rule set prints on Letter
POINTS_PER_MM = 72 / 25.4
# The validator takes a compressed stream that happens to end in a line feed for a wrong length.
FALSE_ALARMS = {"STREAM-LENGTH-001", "PDFA3A-STREAM-LENGTH-001"}


@pytest.fixture(scope="module", params=SAMPLES)
def name(request):
    """The name of a sample that builds."""
    return request.param


@pytest.fixture(scope="module", params=PAPERS, ids=["letter", "a4"])
def any_paper(request, printed, name):
    """A sample on each paper."""
    return printed(name, request.param)


@pytest.fixture(scope="module")
def made(printed, name):
    """A sample on the paper of its rule set."""
    return printed(name)


def opened(made) -> pikepdf.Pdf:
    """The PDF, to look inside."""
    return pikepdf.open(io.BytesIO(made.data))


def test_every_page_has_more_text_than_its_head_and_foot(any_paper):
    assert len(any_paper.pages) > 10
    for text in any_paper.pages:
        assert len(text) > 250  # head and foot are about 150


def test_every_page_carries_the_status_and_only_a_plan_that_is_not_ready_says_so(any_paper):
    status = any_paper.plan.status
    for text in any_paper.pages:
        assert status in text
        assert (NOT_READY in text) is (status == NOT_READY)
        assert (READY in text) is (status == READY)


def test_the_foot_of_every_page_names_plan_place_date_hash_and_page(any_paper):
    plan, count = any_paper.plan, len(any_paper.pages)
    facts = plan.site.plan
    places = ["cover", "whole site", *(space.name for space in plan.site.space)]
    until = f"{facts.valid_until.day} {facts.valid_until:%b %Y}"
    for number, text in enumerate(any_paper.pages, 1):
        foot = " ".join(text.split())
        assert re.search(
            rf"{re.escape(facts.number)} rev\. {re.escape(facts.revision)} · "
            rf"({'|'.join(map(re.escape, places))}) · valid until {until} · "
            rf"content {plan.content_hash[:12]} Page {number} of {count}\b",
            foot,
        ), foot[-200:]


def test_page_two_and_the_first_of_each_space_is_the_attendants_and_the_next_the_leaders(any_paper):
    """One side each: the leader's page comes right behind."""
    pages, spaces = any_paper.pages, any_paper.plan.site.space
    cards = [n for n, text in enumerate(pages) if f"Attendant {spaces[0].name}" in one_line(text)]

    assert cards == [1]
    for space in spaces:
        first = next(n for n, text in enumerate(pages) if is_card(text, "Attendant", space.name))
        assert sum(is_card(text, "Attendant", space.name) for text in pages) == 1
        assert is_card(pages[first + 1], "Rescue leader", space.name)
        assert sum(is_card(text, "Rescue leader", space.name) for text in pages) == 1


def one_line(text: str) -> str:
    """*text* without line ends."""
    return " ".join(text.split())


def is_card(text: str, kind: str, space: str) -> bool:
    """True for a page with the heading of that card."""
    return f"{kind} {space}" in one_line(text) and "Timeline and calculations" not in text


def test_the_attendants_page_holds_the_whole_card(any_paper):
    for space in any_paper.plan.site.space:
        page = next(t for t in any_paper.pages if is_card(t, "Attendant", space.name))
        text = one_line(page)
        leave = "Everybody OUT" if space.is_confined else "Everybody DOWN"
        roster = "Who is inside" if space.is_confined else "Who is up there"
        for words in (leave, roster, "If something is wrong", "Call and say"):
            assert words in text
        assert one_line(any_paper.plan.site.site.call_back) in text
        assert "Stay at the opening" in text or not space.is_confined


EVERY_SAMPLE = [
    *SAMPLES,
    "storage_tank_short_air",
    "shored_trench",
    "transformer_deck",
    "cramped_chamber",
    "borough_culvert",
    "grain_terminal",
]


@pytest.mark.parametrize("paper", PAPERS, ids=["letter", "a4"])
@pytest.mark.parametrize("sample_name", EVERY_SAMPLE)
def test_each_card_is_one_page_on_every_sample(sample_plan, sample_name, paper):
    """The cards alone, in the order and under the styles of the plan; the rest takes long."""
    plan = sample_plan(sample_name)
    page = render.to_html(view_of(plan, paper))
    head, _, body = page.partition("<body")
    cards = re.findall(r'<section class="page card.*?</section>', body, flags=re.DOTALL)
    weasyprint = load_weasyprint()
    fonts, sheet = render._style(weasyprint)

    html = f"{head}<body{body.partition('>')[0]}>{''.join(cards)}</body></html>"
    document = weasyprint.HTML(
        string=html,
        base_url=render.templates_folder().as_uri() + "/",
        url_fetcher=render._local_fetcher(weasyprint),
    ).render(stylesheets=[sheet], font_config=fonts)

    assert len(cards) == 2 * len(plan.spaces)
    assert len(document.pages) == len(cards)


@pytest.mark.parametrize(("paper", "size"), PAPERS.items(), ids=["letter", "a4"])
def test_the_paper_is_that_of_the_rule_set_or_the_one_asked_for(printed, name, paper, size):
    with pikepdf.open(io.BytesIO(printed(name, paper).data)) as pdf:
        boxes = {tuple(float(x) for x in page.mediabox) for page in pdf.pages}

    assert len(boxes) == 1
    assert boxes.pop() == pytest.approx((0, 0, *size), abs=0.1)


class Glyph(NamedTuple):
    """A character and its ink on the page, in points from the lower left corner."""

    text: str
    left: float
    bottom: float
    right: float
    top: float

    @property
    def area(self) -> float:
        """The area of the box."""
        return (self.right - self.left) * (self.top - self.bottom)

    def shared_with(self, other: Glyph) -> float:
        """The area that two boxes share."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        tall = min(self.top, other.top) - max(self.bottom, other.bottom)
        return max(wide, 0.0) * max(tall, 0.0)


def glyphs(data: bytes) -> Iterator[list[Glyph]]:
    """The characters of each page that leave ink."""
    document = pypdfium2.PdfDocument(data)
    for page in document:
        text = page.get_textpage()
        yield list(_glyphs_of(text))
        text.close()
        page.close()
    document.close()


def _glyphs_of(text: pypdfium2.PdfTextPage) -> Iterator[Glyph]:
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    for number in range(text.count_chars()):
        code = pdfium.FPDFText_GetUnicode(text, number)
        if code <= 32 or pdfium.FPDFText_IsGenerated(text, number) == 1:
            continue
        pdfium.FPDFText_GetCharBox(text, number, left, right, bottom, top)
        yield Glyph(chr(code), left.value, bottom.value, right.value, top.value)


@pytest.fixture(scope="module")
def inked(any_paper):
    """The characters of each page."""
    return list(glyphs(any_paper.data)), any_paper.data


def test_no_character_is_outside_the_margins(inked):
    """Left and right margins are 14 mm; a table that is too wide would run into them."""
    pages, data = inked
    with pikepdf.open(io.BytesIO(data)) as pdf:
        width, height = (float(one) for one in pdf.pages[0].mediabox[2:])
    side, edge = 14 * POINTS_PER_MM - 1, 4 * POINTS_PER_MM

    outside = [
        (number, one)
        for number, page in enumerate(pages, 1)
        for one in page
        if not (side <= one.left and one.right <= width - side)
        or not (edge <= one.bottom and one.top <= height - edge)
    ]

    assert outside == []


def test_no_character_is_printed_on_another(inked):
    """Text that overflows its cell, or a label on a label, would show here."""
    pages, _ = inked
    crossed = []
    for number, page in enumerate(pages, 1):
        rows: dict[int, list[Glyph]] = {}
        for one in page:
            rows.setdefault(int(one.bottom // 4), []).append(one)
        for row, found in rows.items():
            near = found + rows.get(row + 1, [])
            ordered = sorted(near, key=lambda one: one.left)
            for place, one in enumerate(ordered):
                for other in ordered[place + 1 :]:
                    if other.left >= one.right:
                        break
                    if one.shared_with(other) > 0.4 * min(one.area, other.area):
                        crossed.append((number, one.text, other.text, round(one.left)))

    assert crossed == []


def test_only_the_typefaces_that_ship_are_inside(made):
    with opened(made) as pdf:
        fonts = {
            str(font.BaseFont).removeprefix("/").partition("+")[2]
            for page in pdf.pages
            for font in page.Resources.get("/Font", {}).values()
        }

    assert fonts
    assert {one for one in fonts if not re.fullmatch(r"PB-(Text|Mono|Signs)(-Bold)?", one)} == set()


@pytest.mark.parametrize(
    "profile",
    [validator.ValidationProfile.PDF_UA_1, validator.ValidationProfile.PDF_A_3A],
    ids=["accessible", "archivable"],
)
def test_the_pdf_is_accessible_and_archivable_by_the_rules_of_both(any_paper, profile):
    """PDF/UA-1 and PDF/A-3a in one file."""
    report = validator.validate_pdf_bytes(any_paper.data, profile=profile)

    failures = {one.rule_id: one.message for one in report.failures}
    assert {rule: words for rule, words in failures.items() if rule not in FALSE_ALARMS} == {}


def test_title_language_author_and_maker_are_set(made):
    facts = made.plan.site.plan
    with opened(made) as pdf:
        title = f"{facts.title}, {facts.number} revision {facts.revision}"
        assert str(pdf.docinfo["/Title"]) == title
        assert str(pdf.docinfo["/Author"]) == facts.author
        assert str(pdf.docinfo["/Creator"]) == f"planbuilder {__version__}"
        assert str(pdf.Root.Lang) == "en"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        assert bool(pdf.Root.MarkInfo.Marked)


def test_every_date_inside_is_the_day_of_the_check(made):
    with opened(made) as pdf:
        dates = {str(pdf.docinfo[key])[:10] for key in ("/CreationDate", "/ModDate")}

    assert dates == {"D:20261125"}


def test_site_file_and_results_are_inside_byte_for_byte(made):
    with opened(made) as pdf:
        files = {key: one.get_file().read_bytes() for key, one in pdf.attachments.items()}

    assert files == {
        "site.toml": made.plan.text.encode(),
        "results.json": results_json(made.plan).encode(),
    }
    assert json.loads(files["results.json"])["content_hash"] == made.plan.content_hash


def test_bookmarks_lead_to_every_part(made):
    with opened(made) as pdf, pdf.open_outline() as outline:
        titles = [one.title for one in outline.root]

    for space in made.plan.site.space:
        assert any("Attendant" in one and space.name in one for one in titles)
        assert any("Rescue leader" in one and space.name in one for one in titles)
    assert titles[0] == made.plan.site.plan.title
    for words in ("Crew", "Equipment", "Outside service", "Findings", "Assumptions"):
        assert any(one.startswith(words) for one in titles)


def test_every_sketch_has_words_for_those_who_do_not_see_it(made):
    with opened(made) as pdf:
        alts = [
            str(one["/Alt"])
            for one in pdf.objects
            if isinstance(one, pikepdf.Dictionary) and "/Alt" in one and one.get("/S") == "/Figure"
        ]
    rigs = sum(way.rig is not None for space in made.plan.spaces for way in space.scene.ways())

    sections = [one for one in alts if one.startswith("Section of ")]
    assert len(sections) == rigs
    clocks = [one for one in alts if one.startswith("Timeline of ")]
    assert len(clocks) == sum(
        bool(times.clocks) for space in made.plan.spaces for times in space.timelines
    )
    rest = set(alts) - set(sections) - set(clocks)
    others = ("Base of ", "Place of ", "Fall at ", "Manway of ", "Round ", "Lane beside ")
    assert all(one.startswith(others) or "seen along the line" in one for one in rest)


def test_the_pages_come_in_the_order_that_every_plan_has(made):
    """The auditor finds the same thing in the same place over hundreds of plans."""
    heads = [
        "Crew, training and drills",
        "Equipment, before anybody enters",
        "Outside service and exchange between employers",
        "Findings, in order of repair",
        "Assumptions, local rules and sources",
    ]

    at = [next(n for n, text in enumerate(made.pages) if head in text) for head in heads]

    # The exchange follows on the page of the equipment, the assumptions on that of the findings.
    assert all(first <= second for first, second in pairwise(at))
    assert len(set(at)) >= len(at) - 2


CROWD = "\n".join(f'[[person]]\nid = "extra-{n}"\nname = "Extra Person {n}"\n' for n in range(1, 7))


def test_the_card_of_a_crowd_stays_on_one_side(printed_edit):
    """Seven people go in; a card that needs turning over is not read in ten seconds."""
    names = ", ".join(f'"extra-{n}"' for n in range(1, 7))

    made = printed_edit(
        "half_measured",
        ('entrants = ["bode"]', f'entrants = ["bode", {names}]'),
        ("[[support]]", f"{CROWD}\n[[support]]"),
    )

    texts = [one_line(page) for page in made.pages]
    assert "Extra Person 6" in texts[1]
    assert "Call and say" in texts[1]
    assert "Rescue leader Cable vault Q-3" in texts[2]


LONG = "W" * 60


def test_words_without_end_are_broken_and_not_cut_off(printed_edit):
    """Serial numbers, names, ids and labels; the widest letter of the alphabet, sixty times."""
    step = f"step-{LONG.lower()}"[:60]

    data = printed_edit(
        "half_measured",
        ('name = "Bode Arkwell"', f'name = "{LONG}"'),
        ('name = "Tripod no. 1"', f'name = "Tripod {LONG}"\nserial = "{LONG}"\nkept_at = "{LONG}"'),
        ('id = "raise"', f'id = "{step}"'),
        ('after = ["raise"]', f'after = ["{step}"]'),
        ('means = "Radio"', f'means = "{LONG}"'),
    ).data

    with pikepdf.open(io.BytesIO(data)) as pdf:
        width = float(pdf.pages[0].mediabox[2])
    side = 14 * POINTS_PER_MM - 1
    outside = {
        number
        for number, page in enumerate(glyphs(data), 1)
        for one in page
        if one.left < side or one.right > width - side
    }
    assert outside == set()


# Building in a process that may not use the network, with another order of sets and dicts.
BUILD = """
import sys

def no_network(event, arguments):
    if event.startswith(("socket.", "http.client.")):
        raise RuntimeError(event)

sys.addaudithook(no_network)
from planbuilder.cli import main
main(["build", "sample_sites/half_measured.toml", "--on", "2026-11-25", "-o", sys.argv[1]])
"""


def test_two_processes_write_the_same_bytes_and_use_no_network(printed, tmp_path):
    made = printed("half_measured")
    targets = {seed: tmp_path / f"{seed}.pdf" for seed in ("1", "2")}

    def build(seed: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-c", BUILD, str(targets[seed])],
            cwd=ROOT,
            env={"PYTHONHASHSEED": seed, "TZ": f"UTC{seed}", "LC_ALL": "C", "HOME": str(tmp_path)},
            capture_output=True,
            text=True,
            check=False,
        )

    with concurrent.futures.ThreadPoolExecutor(2) as both:
        done = list(both.map(build, targets))

    assert [(one.returncode, one.stderr) for one in done] == [(1, "")] * 2
    assert [path.read_bytes() == made.data for path in targets.values()] == [True, True]


@pytest.fixture
def own_templates(tmp_path, monkeypatch, printed):
    """A copy of the templates that the renderer takes for its own."""
    printed("half_measured")  # before: its style must not be the one that is kept of the copy
    folder = tmp_path / "templates"
    shutil.copytree(render.templates_folder(), folder)
    caches = (render._environment, render._style, render._local_fetcher)
    monkeypatch.setattr(render, "templates_folder", lambda: folder)
    for one in caches:
        one.cache_clear()
    yield folder
    for one in caches:
        one.cache_clear()


@pytest.mark.parametrize(
    "file", ["fonts/AtkinsonHyperlegibleNext-Regular.ttf", "print.css", "cards/attendant.html"]
)
def test_a_file_that_did_not_ship_stops_the_build(sample_plan, own_templates, file):
    """Another typeface instead would move every line, and the card off its page."""
    (own_templates / file).unlink()

    with pytest.raises(Exception, match=Path(file).name):
        render.to_pdf(sample_plan("half_measured"))


@pytest.fixture
def fetcher(printed, tmp_path, monkeypatch):
    """Makes the fetcher of the renderer for a template folder of that name."""

    def make(name: str):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "font.ttf").write_bytes(b"font")
        monkeypatch.setattr(render, "templates_folder", lambda: folder)
        return render._local_fetcher.__wrapped__(load_weasyprint()), folder

    return make


@pytest.mark.parametrize("name", ["templates", "my templates", "50% done", "Vorlagen für uns"])
def test_the_fetcher_reads_the_template_folder_whatever_its_name(fetcher, name):
    """A clone may lie in "My Documents"."""
    fetch, folder = fetcher(name)

    assert fetch.fetch((folder / "font.ttf").as_uri()).read() == b"font"


@pytest.mark.parametrize(
    "url",
    [
        "http://127.0.0.1:9/x.png",
        "https://attacker.invalid/x.css",
        "ftp://attacker.invalid/x",
        "data:text/css,*{}",
        "file:///etc/hostname",
        "file://localhost/etc/hostname",
        "file://attacker.invalid/etc/hostname",
        "{folder}/../secret.txt",
        "{folder}/%2e%2e/secret.txt",
        "{folder}/..%2fsecret.txt",
        "{folder}-other/font.ttf",
        "font.ttf",
        "",
    ],
)
def test_the_fetcher_reads_nothing_else(fetcher, tmp_path, url):
    fetch, folder = fetcher("templates")
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")

    with pytest.raises(ValueError, match="outside the templates"):
        fetch.fetch(url.replace("{folder}", folder.as_uri()))
