"""The PDF as something that is kept and read aloud: tags, fields, files inside, colours."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import page as validator
import pikepdf
import pytest
from pikepdf.form import DefaultAppearanceStreamGenerator, Form

from planbuilder.render import to_html
from planbuilder.view.pages import view_of

pytestmark = pytest.mark.pdf

SAMPLES = ["half_measured", "call_and_wait"]
# Operators that leave ink: text, paths, pictures, shadings.
INK = {
    "Tj",
    "TJ",
    "'",
    '"',
    "f",
    "F",
    "f*",
    "B",
    "B*",
    "b",
    "b*",
    "S",
    "s",
    "Do",
    "sh",
    "INLINE IMAGE",
}
PDFUA = "{http://www.aiim.org/pdfua/ns/id/}part"
PDFA = "{http://www.aiim.org/pdfa/ns/id/}"


@pytest.fixture(scope="module", params=SAMPLES)
def made(request, printed):
    """A sample on the paper of its rule set."""
    return printed(request.param)


@pytest.fixture(scope="module")
def pdf(made) -> Iterator[pikepdf.Pdf]:
    """It, to look inside."""
    with pikepdf.open(io.BytesIO(made.data)) as opened:
        yield opened


def elements(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every element of the structure tree, from the root on, each before its kids."""
    waiting = [pdf.Root.StructTreeRoot.K]
    while waiting:
        one = waiting.pop()
        if isinstance(one, pikepdf.Array):
            waiting += list(one)
        elif isinstance(one, pikepdf.Dictionary) and "/S" in one:
            yield one
            if "/K" in one:
                waiting.append(one.K)


def kinds(pdf: pikepdf.Pdf, *names: str) -> list[Any]:
    """The elements of these kinds."""
    return [one for one in elements(pdf) if str(one.S) in names]


def drawn(page: pikepdf.Page) -> Iterator[tuple[list[Any], str]]:
    """What the page does, in order."""
    for one in pikepdf.parse_content_stream(page):
        yield list(one.operands), str(one.operator)


def test_all_that_is_printed_is_tagged_or_marked_as_ornament(pdf):
    """What stands outside would be skipped, or read at a place of the viewer's choice."""
    bare = []
    for number, page in enumerate(pdf.pages, 1):
        depth = 0
        for operands, name in drawn(page):
            depth += (name in {"BDC", "BMC"}) - (name == "EMC")
            if name in INK and depth == 0:
                bare.append((number, name, str(operands)[:60]))
        assert depth == 0

    assert bare == []


def test_every_tagged_piece_has_its_element(pdf):
    tree = dict(zip(*[iter(pdf.Root.StructTreeRoot.ParentTree.Nums)] * 2, strict=True))
    for page in pdf.pages:
        parents = tree[page.StructParents]
        used = {
            int(operands[1].MCID)
            for operands, name in drawn(page)
            if name == "BDC" and "/MCID" in operands[1]
        }
        assert used
        assert all("/S" in parents[one] for one in used)


def test_heads_of_tables_say_what_they_head_and_every_table_has_some(pdf):
    heads = kinds(pdf, "/TH")
    assert {str(one.A.Scope) for one in heads} == {"/Column", "/Row"}

    for table in kinds(pdf, "/Table"):
        below, waiting = set(), [table.K]
        while waiting:
            one = waiting.pop()
            if isinstance(one, pikepdf.Array):
                waiting += list(one)
            elif isinstance(one, pikepdf.Dictionary) and "/S" in one:
                below.add(str(one.S))
                waiting += [one.K] if "/K" in one and str(one.S) not in {"/TH", "/TD"} else []
        assert "/TH" in below


def test_headings_do_not_skip_a_level(pdf):
    # `elements` takes the last kid first, so the order is turned round.
    levels = [int(str(one.S)[2]) for one in elements(pdf) if re.fullmatch(r"/H\d", str(one.S))]
    levels.reverse()

    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_every_figure_says_more_than_its_name(pdf):
    """Title, then what is measured, or that nothing is."""
    said = [str(one.Alt) for one in kinds(pdf, "/Figure")]

    assert said
    for words in said:
        assert re.search(r"\d|no measures known|not measured", words), words
        assert len(words) > 40


def test_the_files_inside_say_what_they_are_to_the_plan(pdf):
    relations = {
        str(one.UF): (str(one.AFRelationship), bool(str(one.Desc)), "/Subtype" in one.EF.F)
        for one in pdf.Root.AF
    }

    assert relations == {
        "site.toml": ("/Source", True, True),
        "results.json": ("/Data", True, True),
    }
    assert len(pdf.Root.AF) == 2
    assert set(pdf.attachments) == set(relations)


def test_colours_have_one_meaning(pdf):
    (intent,) = pdf.Root.OutputIntents
    assert str(intent.S) == "/GTS_PDFA1"
    assert int(intent.DestOutputProfile.N) == 3
    assert intent.DestOutputProfile.read_bytes()[36:40] == b"acsp"  # the mark of an ICC profile


def test_the_metadata_name_both_standards_and_can_be_read_without_a_library(pdf, made):
    assert "/Filter" not in pdf.Root.Metadata
    assert pdf.Root.Metadata.read_raw_bytes() in made.data
    with pdf.open_metadata() as said:
        assert (said[f"{PDFA}part"], said[f"{PDFA}conformance"], said[PDFUA]) == ("3", "A", "1")
        assert said["dc:title"] == str(pdf.docinfo["/Title"])


def test_bookmarks_lead_to_what_is_filled_in(pdf, made):
    with pdf.open_outline() as outline:
        titles = [one.title for one in outline.root]

    for space in made.plan.site.space:
        for words in ("Go or no go: ", "Drill record, ", "Debrief, "):
            assert any(one.startswith(f"{words}{space.name}") for one in titles)


def widgets(pdf: pikepdf.Pdf) -> list[Any]:
    """The fields, page by page."""
    return [
        one
        for page in pdf.pages
        for one in page.get("/Annots", [])
        if str(one.Subtype) == "/Widget"
    ]


def test_the_fields_are_those_of_the_page_each_with_its_words(pdf, made):
    page = to_html(view_of(made.plan))
    names = re.findall(r'<(?:input|textarea)[^>]* name="([^"]*)"', page)
    found = widgets(pdf)

    assert [str(one.T) for one in pdf.Root.AcroForm.Fields] == [str(one.T) for one in found]
    assert sorted(str(one.T) for one in found) == sorted(names)
    assert all(str(one.TU).partition(": ")[2] for one in found)
    assert {str(one.FT) for one in found} == {"/Btn", "/Tx"}
    assert any(int(one.get("/Ff", 0)) & 1 << 12 for one in found)  # answers of several lines


def test_the_fields_are_tagged_and_met_in_the_order_of_the_page(pdf):
    forms = kinds(pdf, "/Form")
    found = widgets(pdf)

    assert len(forms) == len(found)
    assert all("/StructParent" in one for one in found)
    assert {str(page.Tabs) for page in pdf.pages} == {"/S"}


def test_every_viewer_draws_the_fields_alike(pdf):
    """Each has a look of its own; an archive leaves nothing to the viewer."""
    assert "/NeedAppearances" not in pdf.Root.AcroForm
    for one in widgets(pdf):
        left, bottom, right, top = (float(at) for at in one.Rect)
        assert left < right
        assert bottom < top
        look = one.AP.N
        if str(one.FT) == "/Btn":
            assert set(look.keys()) == {"/on", "/Off"}
            assert str(one.AS) == str(one.V) == "/Off"
        else:
            assert look.read_bytes() == b"/Tx BMC EMC"
            assert str(one.V) == ""


def test_no_field_lies_on_another_or_off_its_page(pdf):
    for page in pdf.pages:
        boxes = [
            tuple(float(at) for at in one.Rect)
            for one in page.get("/Annots", [])
            if str(one.Subtype) == "/Widget"
        ]
        width, height = (float(one) for one in page.mediabox[2:])
        for number, (left, bottom, right, top) in enumerate(boxes):
            assert left > 0
            assert bottom > 0
            assert right < width
            assert top < height
            assert not any(
                left < other[2] and other[0] < right and bottom < other[3] and other[1] < top
                for other in boxes[number + 1 :]
            )


def test_a_plan_that_was_filled_in_stays_an_archive(made):
    """Ticked and written by another program, with the typeface that is inside."""
    with pikepdf.open(io.BytesIO(made.data)) as pdf:
        form: Any = Form(pdf, DefaultAppearanceStreamGenerator)
        ticked = next(name for name, _ in form.items() if name.endswith("/here"))
        form[ticked].checked = True
        target = io.BytesIO()
        pdf.save(target)

    with pikepdf.open(target) as pdf:
        found = {str(one.T): one for one in widgets(pdf)}
        assert str(found[ticked].V) == str(found[ticked].AS) == "/on"
    report = validator.validate_pdf_bytes(
        target.getvalue(), profile=validator.ValidationProfile.PDF_A_3A
    )
    assert [one.rule_id for one in report.failures if "STREAM-LENGTH" not in one.rule_id] == []
