"""The page for the screen: one file, readable on a phone and at a desk.

What only a browser can say is asked of a headless Chromium, where there is one.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from html.parser import HTMLParser

import pytest

from planbuilder import render
from planbuilder.errors import PlanbuilderError
from planbuilder.sandbox import file_of
from planbuilder.screen import screen_page
from planbuilder.theme import Layout, Look
from planbuilder.view.pages import view_of

SAMPLES = ["pump_station", "transformer_deck", "half_measured"]
PHONE, DESK = 390, 1440
BROWSER = next(
    filter(None, map(shutil.which, ("chromium-headless-shell", "chromium", "google-chrome"))), None
)
needs_browser = pytest.mark.skipif(BROWSER is None, reason="no Chromium")
FLAGS = (
    *(
        "--headless",
        "--hide-scrollbars",
        "--no-sandbox",
        "--disable-gpu",
        "--no-first-run",
        "--dump-dom",
    ),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
# The page in a frame of a given width, and what it measures, written where --dump-dom shows it.
FRAME = """<!doctype html><meta charset="utf-8"><body style="margin:0">
<iframe id="f" style="border:0;width:{width}px;height:900px" srcdoc="{page}"></iframe>
<pre id="out"></pre><script>
const f = document.getElementById("f");
f.onload = async () => {{
  const d = f.contentDocument, w = f.contentWindow, all = s => [...d.querySelectorAll(s)];
  await d.fonts.ready;
  const wide = e => e.getBoundingClientRect().width, box = e => e.getBoundingClientRect();
  const seen = e => e.checkVisibility() && wide(e) > 0;
  document.getElementById("out").textContent = JSON.stringify({{
    page: d.documentElement.scrollWidth,
    outside: all("body *").filter(e => seen(e)
      && !e.closest(".scroll, svg, .formula, figure:target")
      && box(e).right > {width} + 1).map(e => e.tagName + "." + e.className),
    scrolls: all(".scroll").filter(e => e.scrollWidth > e.clientWidth + 1).length,
    cards: all(".attendant .scroll").filter(e => e.scrollWidth > e.clientWidth + 1).length,
    drawings: all("svg").map(e => [wide(e), wide(e) / box(e).height
      - e.viewBox.baseVal.width / e.viewBox.baseVal.height]),
    small: all("body *").filter(e => seen(e) && !e.closest("svg")
      && [...e.childNodes].some(n => n.nodeType == 3 && n.data.trim())
      && parseFloat(w.getComputedStyle(e).fontSize) < 13).map(e => e.tagName + "." + e.className),
    fonts: [...d.fonts].filter(one => one.status == "loaded").map(one => one.family),
    larger: await (async () => {{
      const link = d.querySelector(".larger");
      const drawing = link.parentElement.querySelector("svg");
      const before = wide(drawing), shown = seen(link);
      w.location.hash = link.getAttribute("href");
      await new Promise(done => setTimeout(done, 50));
      return [shown, before, wide(drawing), d.documentElement.scrollWidth];
    }})(),
    links: all(".screen-nav a").map(e => [wide(e), box(e).height]),
    nav: w.getComputedStyle(d.querySelector(".screen-nav")).position,
    status: all(".status-word").filter(seen).map(e => e.textContent),
  }});
}};
</script>"""


class Page(HTMLParser):
    """Tags with their attributes."""

    def __init__(self, text: str) -> None:
        """Read *text*."""
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep a tag."""
        self.tags.append((tag, dict(attrs)))

    def values(self, *names: str) -> list[str]:
        """What stands in the attributes of those names."""
        return [found for _, each in self.tags for name in names if (found := each.get(name))]


@pytest.fixture(scope="module", params=SAMPLES)
def text(request, sample_plan):
    """The page of a sample for the screen."""
    return render.to_screen(view_of(sample_plan(request.param)))


@pytest.fixture(scope="module")
def page(text):
    """Its tags."""
    return Page(text)


def test_the_page_names_no_other_file(text, page):
    styles = re.findall(r"<style>(.*?)</style>", text, re.DOTALL)
    addresses = re.findall(r"url\(([^)]{1,40})", "".join(styles))

    assert page.values("src", "srcset", "data", "action", "poster", "xlink:href") == []
    assert addresses
    assert all(one.startswith("data:font/ttf;base64,") for one in addresses)
    assert "@import" not in "".join(styles)
    assert not {tag for tag, _ in page.tags} & {"script", "link", "iframe", "object", "base"}


def test_the_page_tells_the_browser_to_load_and_run_nothing(text):
    head = text.partition("<title>")[0]

    assert "default-src 'none'" in head
    assert "script-src" not in head


def test_every_headed_section_is_in_the_contents_and_every_link_lands(text, page):
    nav = text[text.index('<nav class="screen-nav"') : text.index("</nav>")]
    anchors = re.findall(r'href="#([^"]+)"', nav)
    sections = [each["id"] for tag, each in page.tags if tag == "section" and each.get("id")]
    ids = page.values("id")

    assert anchors == sections
    assert len(set(ids)) == len(ids)
    assert {one.removeprefix("#") for one in page.values("href") if one[0] == "#"} <= set(ids)


def test_the_status_comes_before_the_contents(text):
    assert text.index('class="status-word"') < text.index('<nav class="screen-nav"')


def test_every_table_scrolls_inside_itself(text):
    assert text.count('<div class="scroll"><table') == text.count("<table") > 10
    assert text.count("</table></div>") == text.count("</table>") == text.count("<table")


def test_a_phone_shows_it_at_its_own_width_and_may_be_zoomed(page):
    content = [each["content"] for _, each in page.tags if each.get("name") == "viewport"]

    assert content == ["width=device-width, initial-scale=1"]


def test_the_same_plan_gives_the_same_page(sample_plan):
    first, second = (render.to_screen(view_of(sample_plan("half_measured"))) for _ in range(2))

    assert first == second


def test_a_logo_goes_inside(tmp_path, sample_plan):
    logo = '<svg xmlns="http://www.w3.org/2000/svg"/>'
    (tmp_path / "logo.svg").write_text(logo, encoding="utf-8")
    look = Look(name="Quarry", logo="logo.svg", heading="#111111", line="#111111", shade="#f0f0f0")

    made = render.to_screen(view_of(sample_plan("half_measured")), Layout(tmp_path, look, "0"))

    assert '<img src="data:image/svg+xml;base64,PHN2ZyB4' in made
    assert '<meta name="generator"' not in made


@pytest.mark.parametrize(
    "name", ["https://attacker.invalid/x.png", "secret.txt", "../x.png", "no.png"]
)
def test_a_file_that_is_not_there_or_not_of_a_page_is_refused(name):
    sheet = render.templates_folder() / "screen.css"
    bare = f'<html><head></head><body><section></section><img src="{name}"></body></html>'
    known = {"screen.css": sheet, "secret.txt": sheet}

    def find(one: str):
        return file_of(one, render.templates_folder()) or known.get(one)

    with pytest.raises(PlanbuilderError, match="a page for the screen holds all that it shows"):
        screen_page(bare, find)


def measured(text: str, width: int, folder) -> dict:
    """What a browser measures of the page in a frame of that width."""
    path = folder / "frame.html"
    path.write_text(FRAME.format(width=width, page=html.escape(text)), encoding="utf-8")
    command = [BROWSER or "", *FLAGS, f"--user-data-dir={folder / 'profile'}"]
    command += [f"--window-size={width},900", "--virtual-time-budget=8000", path.as_uri()]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    found = re.search(r'<pre id="out">(.*?)</pre>', done.stdout, re.DOTALL)
    assert found
    assert found[1], done.stderr[-500:]
    return json.loads(html.unescape(found[1]))


@pytest.fixture(scope="module")
def on_phone(text, tmp_path_factory):
    """The page as wide as a phone."""
    return measured(text, PHONE, tmp_path_factory.mktemp("phone"))


@pytest.fixture(scope="module")
def at_desk(text, tmp_path_factory):
    """The page as wide as a desk."""
    return measured(text, DESK, tmp_path_factory.mktemp("desk"))


@needs_browser
def test_on_a_phone_only_tables_scroll_sideways(on_phone):
    assert on_phone["page"] == PHONE
    assert on_phone["outside"] == []
    assert on_phone["scrolls"] > 0
    assert on_phone["cards"] == 0  # what the attendant needs is there without a swipe


@needs_browser
def test_at_a_desk_nothing_runs_out_and_the_contents_stand_beside(at_desk, on_phone):
    assert at_desk["page"] == DESK
    assert at_desk["outside"] == []
    assert (at_desk["nav"], on_phone["nav"]) == ("fixed", "static")


@needs_browser
def test_sketches_keep_their_shape_and_fit(on_phone, at_desk):
    for seen, width in ((on_phone, PHONE), (at_desk, DESK)):
        assert seen["drawings"]
        for wide, skew in seen["drawings"]:
            assert 0 < wide <= width
            assert skew == pytest.approx(0, abs=0.02)


@needs_browser
def test_on_a_phone_a_sketch_can_be_had_larger_and_scrolls_inside_itself(on_phone, at_desk):
    shown, before, after, page = on_phone["larger"]

    assert shown
    assert after > 1.5 * before
    assert page == PHONE
    assert at_desk["larger"][0] is False


@needs_browser
def test_type_can_be_read_and_links_can_be_hit_with_a_thumb(on_phone):
    assert on_phone["small"] == []  # also where paper has small print of its own
    assert min(height for _, height in on_phone["links"]) >= 40
    assert {one.strip('"') for one in on_phone["fonts"]} >= {"PB Text", "PB Mono"}


@needs_browser
def test_the_status_is_seen_at_both_widths(on_phone, at_desk):
    assert on_phone["status"] == at_desk["status"]
    assert on_phone["status"][0] in ("READY FOR REVIEW", "NOT READY")


@needs_browser
def test_a_layout_cannot_hide_the_status_on_a_screen(tmp_path, sample_plan):
    sheet = (render.templates_folder() / "plan.css").read_text(encoding="utf-8")
    hiding = ".status, .status p, .notice { display: none; visibility: hidden; opacity: 0 }"
    (tmp_path / "plan.css").write_text(sheet + hiding, encoding="utf-8")
    look = Look(name="Quarry", heading="#111111", line="#111111", shade="#f0f0f0")
    layout = Layout(tmp_path, look, "0")

    text = render.to_screen(view_of(sample_plan("half_measured")), layout)

    assert measured(text, PHONE, tmp_path)["status"] == ["NOT READY"]
