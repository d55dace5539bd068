"""A company's own layout: what it may change, and what stands in every plan all the same."""

from __future__ import annotations

import base64
import io
import re

import pikepdf
import pypdfium2
import pytest
from click.testing import CliRunner

from planbuilder import render, theme
from planbuilder.cli import main
from planbuilder.errors import PlanbuilderError
from planbuilder.fixed_texts import fixed_texts
from planbuilder.view.pages import view_of

SAMPLE = "half_measured"  # one space, NOT READY
PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg=="
)
THEME = 'name = "Quarry works"\n'
COLOURS = '[colours]\nheading = "#1a3c6e"\nline = "#1A3C6E"\nshade = "#e8eef5"\n'


@pytest.fixture
def layout(tmp_path):
    """Writes a layout folder and loads it."""

    def make(theme_text: str = THEME, **files: str) -> theme.Layout:
        folder = tmp_path / "layout"
        folder.mkdir()
        (folder / "theme.toml").write_text(theme_text, encoding="utf-8")
        (folder / "logo.png").write_bytes(PIXEL)
        for name, text in files.items():
            path = folder / name.replace("__", "/")
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return theme.load_layout(folder, render.templates_folder())

    return make


@pytest.fixture
def made_with(layout, sample_plan):
    """The page of the sample in a layout whose files are given by name, the dot left in."""
    return lambda files: render.to_html(view_of(sample_plan(SAMPLE)), layout(**files))


def shipped(name: str) -> str:
    """A template as it ships."""
    return (render.templates_folder() / name).read_text(encoding="utf-8")


def complaint(layout, text: str) -> list[str]:
    """What is said of a theme file."""
    with pytest.raises(PlanbuilderError) as caught:
        layout(text)
    return [line.rpartition("layout/")[2] for line in str(caught.value).splitlines()]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            'name = "A"\nlgo = "a.png"',
            'theme.toml:2: lgo: is not a known key, did you mean "logo"?',
        ),
        (
            'name = "A"\n[colours]\nheading = "blue"',
            'theme.toml:3: colours.heading: must be a colour such as "#1a3c6e" (got "blue")',
        ),
        (
            'name = "A"\n[colours]\nheading = "#ffcc00"',
            "theme.toml:3: colours.heading: must be dark enough to read on white, 4.5 to 1 "
            '(it is 1.5) (got "#ffcc00")',
        ),
        (
            'name = "A"\n[colours]\nshade = "#777777"',
            "theme.toml:3: colours.shade: must be pale enough to read on, 7 to 1 "
            '(it is 2.8) (got "#777777")',
        ),
        (
            'name = "A"\nlogo = "logo.gif"',
            'theme.toml:2: logo: must be a file of kind .png, .jpg, .jpeg, .svg (got "logo.gif")',
        ),
        (
            'name = "A"\nlogo = "mark.png"',
            'theme.toml:2: logo: names no file in the folder of the layout (got "mark.png")',
        ),
        (
            'name = "A"\nlogo = "../logo.png"',
            'theme.toml:2: logo: must lie in the folder of the layout (got "../logo.png")',
        ),
    ],
)
def test_a_theme_file_is_refused_with_line_key_and_what_is_allowed(layout, text, said):
    assert complaint(layout, text) == [said]


def test_every_problem_of_a_theme_file_comes_at_once(layout):
    lines = complaint(layout, 'logo = 3\n[colours]\nheading = "#fff"')

    assert [line.split(":")[1] for line in lines] == ["1", "1", "3"]


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.48), ("#767676", "#ffffff", 4.54)],
)
def test_contrast_is_that_of_the_guideline(one, other, ratio):
    """WCAG 2.2 gives 21 for black on white; #767676 is known as the palest grey that passes."""
    assert theme.contrast(one, other) == pytest.approx(ratio, abs=0.005)


def test_a_folder_without_a_theme_file_is_no_layout(tmp_path):
    with pytest.raises(PlanbuilderError, match=r"theme.toml: is missing"):
        theme.load_layout(tmp_path, render.templates_folder())


def test_a_template_with_a_misspelt_name_is_not_passed_over(layout):
    with pytest.raises(PlanbuilderError, match=r'did you mean "parts/cover.html"\?'):
        layout(**{"parts__covers.html": "x"})


def test_what_no_layout_may_change_has_no_stand_in(layout):
    with pytest.raises(PlanbuilderError, match="stands in for no template"):
        layout(**{"fixed.css": ".status { display: none }"})


def test_no_link_leads_out_of_the_folder(layout, tmp_path):
    (tmp_path / "secret.html").write_text("secret", encoding="utf-8")
    folder = layout().folder
    (folder / "own").mkdir()
    (folder / "own" / "part.html").symlink_to(tmp_path / "secret.html")

    with pytest.raises(PlanbuilderError, match=r"own/part.html: leads out of the folder"):
        theme.load_layout(folder, render.templates_folder())


def test_a_link_made_later_is_not_followed_either(layout, tmp_path, sample_plan):
    (tmp_path / "secret.html").write_text("secret", encoding="utf-8")
    one = layout(**{"parts__people.html": '{% include "own/part.html" %}'})
    (one.folder / "own").mkdir()
    (one.folder / "own" / "part.html").symlink_to(tmp_path / "secret.html")

    with pytest.raises(PlanbuilderError, match=r"people.html:1: .*own/part.html"):
        render.to_html(view_of(sample_plan(SAMPLE)), one)


def test_one_template_stands_in_and_the_rest_are_ours(made_with):
    page = made_with({"parts__people.html": "<section><h1>Our crew</h1></section>"})

    assert "<h1>Our crew</h1>" in page
    assert "Certificates</h2>" not in page
    assert "Findings, in order of repair" in page


def test_a_template_may_hold_the_one_it_stands_in_for(made_with):
    more = '{% include "shipped/parts/people.html" %}<p>{% include "own/more.html" %}</p>'
    page = made_with({"parts__people.html": more, "own__more.html": "Ask at the gate"})

    assert "Certificates</h2>" in page
    assert "<p>Ask at the gate</p>" in page


@pytest.mark.parametrize(
    "source",
    [
        "{{ plan.__class__ }}",
        "{{ plan.title.__class__.__mro__ }}",
        "{{ ''['__class__'] }}",
        "{{ plan|attr('__class__') }}",
        "{{ [plan]|map(attribute='__class__')|list }}",
        "{{ '{0.__class__}'.format(plan) }}",
        "{{ plan.title.zfill(9) }}",
        "{{ 'x' * 1000000000 }}",
        "{{ 1 + 1 }}",
        "{{ range(10) }}",
        "{{ self.__init__.__globals__ }}",
        "{{ cycler.__init__ }}",
        "{{ theme.folder }}",
        "{{ plan.no_such_word }}",
        "{% include '/etc/hostname' %}",
        "{% include '../secret.html' %}",
        "{% include 'shipped/../secret.html' %}",
        "{% include 'own/nothing.html' %}",
        "{% if %}",
        "{{ open('/etc/hostname') }}",
        "{% include 'parts/people.html' %}",
        "{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}",
    ],
)
def test_a_template_reaches_the_words_of_the_plan_and_nothing_else(made_with, tmp_path, source):
    (tmp_path / "secret.html").write_text("secret", encoding="utf-8")

    with pytest.raises(PlanbuilderError, match=r"parts/people.html:2: "):
        made_with({"parts__people.html": f"\n{source}"})


@pytest.mark.parametrize(
    ("part", "swap"),
    [
        ("cover", ("{{ plan.short_notice }}", "")),
        ("cover", ('<p class="notice">', '<p class="notice" hidden>')),
        ("cover", ('<p class="notice">', '<p style="display: none">')),
        (
            "cover",
            ('<p class="notice">{{ plan.short_notice }}</p>', "<!-- {{plan.short_notice}} -->"),
        ),
        ("assumptions", ("{{ text }}</p>", "</p>")),
        ("assumptions", ("<li>{{ line }}</li>", "")),
        ("assumptions", ("<h2>Cautions</h2>", "<h2>Cautions</h2><template>")),
    ],
)
def test_a_page_without_a_fixed_text_is_refused(made_with, part, swap):
    text = shipped(f"parts/{part}.html")
    assert swap[0] in text

    with pytest.raises(PlanbuilderError, match="leaves out, or hides, what every plan says"):
        made_with({f"parts__{part}.html": text.replace(*swap)})


def test_the_mark_of_a_plan_that_is_not_ready_stays_on_its_cards(made_with):
    cards = {f"cards__{one}.html": shipped(f"cards/{one}.html") for one in ("attendant", "leader")}
    unmarked = {
        name: re.sub(r"{% if not plan.ready %}.*?{% endif %}", "", text, flags=re.DOTALL)
        for name, text in cards.items()
    }

    with pytest.raises(PlanbuilderError, match='says: "NOT READY: '):
        made_with(unmarked)


@pytest.mark.parametrize(
    "tag",
    [
        "<script>1</script>",
        "<p onclick='x'>a</p>",
        "<iframe></iframe>",
        '<link rel="attachment" href="logo.png">',
        '<a href="javascript:x">a</a>',
        '<meta http-equiv="refresh" content="0">',
    ],
)
def test_nothing_that_runs_or_loads_gets_in(made_with, tag):
    with pytest.raises(PlanbuilderError, match="a plan is text and pictures"):
        made_with({"parts__people.html": tag})


def test_the_fixed_texts_are_status_notice_and_cautions(sample_plan):
    view = view_of(sample_plan(SAMPLE))
    texts = " ".join(fixed_texts(view))

    for words in ("NOT READY", "Not a permit", "Local rules come first", "not a promise"):
        assert words in texts


def test_a_theme_does_not_touch_the_hash_and_names_itself_in_the_foot(layout, sample_plan):
    plan = sample_plan(SAMPLE)
    page = render.to_html(view_of(plan), layout(THEME + 'logo = "logo.png"\n' + COLOURS))

    assert f"content {plan.content_hash[:12]} · layout Quarry works</div>" in page
    assert '<img src="logo.png" alt="Quarry works">' in page
    assert "h1, h2 { color: #1a3c6e }" in page


def test_without_a_layout_nothing_speaks_of_one(sample_plan):
    page = render.to_html(view_of(sample_plan(SAMPLE)))

    assert "layout" not in re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)


@pytest.mark.pdf
def test_paper_has_the_theme_and_comes_out_equal_twice(printed, layout, sample_plan):
    plain = printed(SAMPLE)
    one = layout(THEME + 'logo = "logo.png"\n' + COLOURS)

    data = render.to_pdf(sample_plan(SAMPLE), None, one)

    assert data == render.to_pdf(sample_plan(SAMPLE), None, one)
    with pikepdf.open(io.BytesIO(data)) as pdf, pikepdf.open(io.BytesIO(plain.data)) as before:
        assert str(pdf.docinfo["/Keywords"]) == f"layout Quarry works {one.fingerprint}"
        assert len(pdf.pages) == len(before.pages)
        assert list(pdf.attachments) == list(before.attachments)


@pytest.mark.pdf
@pytest.mark.parametrize(
    ("sheet", "said"),
    [
        ("p { display: none }", "leaves out, or hides"),
        ("@page { @top-left { content: none } }", 'page 4 must say "NOT READY"'),
        ("body { visibility: hidden }", "leaves out, or hides"),
    ],
)
def test_a_sheet_that_hides_a_fixed_text_on_paper_is_refused(
    printed, layout, sample_plan, sheet, said
):
    printed(SAMPLE)
    # Classes of ours are held up by the last sheet; this layout does without them.
    cover = re.sub(r' class="notice[^"]*"', "", shipped("parts/cover.html"))
    files = {"plan.css": shipped("plan.css") + sheet, "parts__cover.html": cover}

    with pytest.raises(PlanbuilderError, match=said):
        render.to_pdf(sample_plan(SAMPLE), None, layout(**files))


@pytest.mark.pdf
def test_a_print_sheet_of_the_layout_finds_our_typefaces_and_its_own_pictures(
    printed, layout, sample_plan
):
    plain = printed(SAMPLE)
    more = "body { background: url(logo.png) }"

    data = render.to_pdf(
        sample_plan(SAMPLE), None, layout(**{"print.css": shipped("print.css") + more})
    )

    fonts = [fonts_of(one) for one in (data, plain.data)]
    assert fonts[0] == fonts[1]
    assert len(fonts[0]) > 2


def fonts_of(data: bytes) -> set[str]:
    """The typefaces inside a PDF, without the letters that mark a part of one."""
    names = re.findall(rb"/BaseFont\s*/[A-Z]+\+([\w-]+)", unpacked(data))
    return {one.decode() for one in names}


def unpacked(data: bytes) -> bytes:
    """A PDF with nothing packed, to search in."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        pdf.save(
            out,
            compress_streams=False,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
    return out.getvalue()


@pytest.mark.pdf
def test_a_sheet_cannot_hide_what_carries_our_classes(printed, layout, sample_plan):
    printed(SAMPLE)
    hiding = ".run-status, .status, .notice, .notice-long { display: none; opacity: 0 }"

    data = render.to_pdf(
        sample_plan(SAMPLE), None, layout(**{"plan.css": shipped("plan.css") + hiding})
    )

    document = pypdfium2.PdfDocument(data)
    texts = [page.get_textpage().get_text_range() for page in document]
    assert all("NOT READY" in one for one in texts)
    assert "Not a permit" in texts[0]


@pytest.mark.pdf
@pytest.mark.parametrize(
    "name", ["https://attacker.invalid/x.png", "file:///etc/hostname", "no.png"]
)
def test_paper_fetches_only_what_ships_and_what_the_layout_holds(
    printed, layout, sample_plan, name
):
    printed(SAMPLE)
    people = f'<section id="people"><img alt="a" src="{name}"></section>'

    with pytest.raises(PlanbuilderError, match="a file that the layout names cannot be read"):
        render.to_pdf(sample_plan(SAMPLE), None, layout(**{"parts__people.html": people}))


def test_the_command_takes_a_layout(layout, sample, tmp_path):
    folder = layout(THEME).folder
    target = tmp_path / "plan.html"
    said = ["build", str(sample(SAMPLE)), "-o", str(target), "--format", "html"]

    done = CliRunner().invoke(main, [*said, "--templates", str(folder), "--on", "2026-11-25"])

    assert done.exit_code == 1  # written, and NOT READY
    assert "layout Quarry works" in target.read_text(encoding="utf-8")


def test_the_command_refuses_a_folder_that_is_no_layout(sample, tmp_path):
    target = tmp_path / "plan.pdf"
    arguments = ["build", str(sample(SAMPLE)), "-o", str(target), "--templates", str(tmp_path)]

    done = CliRunner().invoke(main, arguments)

    assert (done.exit_code, target.exists()) == (2, False)
    assert "theme.toml: is missing" in done.stderr
