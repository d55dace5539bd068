"""Calculation sheets and the ways through the plan: dense, but nothing lost and nothing loose."""

from __future__ import annotations

import re

import pytest

from planbuilder import render
from planbuilder.findings import Compared, Verdict
from planbuilder.view.pages import view_of

SAMPLES = ["pump_station", "storage_tank", "call_and_wait", "half_measured", "transformer_deck"]


@pytest.fixture(params=SAMPLES)
def plan(request, sample_plan):
    """The plan of a sample."""
    return sample_plan(request.param)


def every_id(page: str) -> list[str]:
    """Every id of a page, each as often as it is given."""
    return re.findall(r'\sid="([^"]*)"', page)


def test_every_link_leads_to_one_place(plan):
    page = render.to_html(view_of(plan))
    ids = every_id(page)

    led = re.findall(r'href="#([^"]*)"', page)

    assert led
    assert set(led) <= set(ids)
    assert len(ids) == len(set(ids))


def test_each_open_finding_leads_to_where_it_is_worked_out(plan):
    view, open_findings = view_of(plan), [one for one in plan.findings if one.open]
    places = {
        one.id: (one.rule, one.verdict, one.part)
        for space in view.spaces
        for area in space.areas
        for one in (*(calc.answer for calc in area.calculations), *area.statements)
    }

    assert [places[one.sheet] for one in view.open_findings] == [
        (one.rule.id, one.verdict.value, one.about) for one in open_findings
    ]


def test_each_limit_with_a_document_leads_to_it_in_the_list(plan):
    view = view_of(plan)
    listed = dict(zip(view.document_ids, view.documents.rows, strict=True))
    cited = {
        link
        for space in view.spaces
        for area in space.areas
        for link in (
            *(one.limit_link for one in area.calculations),
            *(cite.to for one in area.statements for cite in one.cites),
        )
    }
    behind = {
        listed_as
        for listed_as, row in listed.items()
        for one in plan.findings
        if isinstance(one.outcome, Compared) and one.outcome.limit.source.document == row[0]
    }

    assert len(listed) == len(view.documents.rows)
    assert cited - {""} <= set(listed)
    assert behind
    assert behind <= cited


def test_the_contents_name_the_pages_of_each_space_in_order(plan):
    view = view_of(plan)
    page = render.to_html(view)

    for row in view.contents:
        at = [page.index(f'id="{link.to}"') for link in row.links]
        at = at[:-1] if row.links[-1].to.startswith("pocket") else at
        assert at == sorted(at)
    assert [row.label for row in view.contents] == [
        *(one.name for one in view.spaces),
        "Whole site",
    ]


def test_what_fails_or_is_near_its_limit_stands_first_in_its_area(plan):
    for space in view_of(plan).spaces:
        for area in space.areas:
            for rows in (area.statements, [one.answer for one in area.calculations]):
                met = [one.verdict == Verdict.MEETS.value for one in rows]
                assert met == sorted(met)


def test_the_sample_with_open_calculations_has_them_first(sample_plan):
    """The rule above must have something to hold."""
    spaces = view_of(sample_plan("half_measured")).spaces
    first = [area.statements[0].verdict for area in spaces[0].areas if area.statements]

    assert set(first) - {"meets"}


def test_every_number_put_in_is_printed_with_its_formula_and_explained_once(plan):
    """Shared numbers stand beside the formula with symbol and value, and once with their source."""
    for space, view in zip(plan.spaces, view_of(plan).spaces, strict=True):
        shared = {(one.symbol, one.value) for one in view.shared}
        calculations = [one for area in view.areas for one in area.calculations]
        for calc in calculations:
            outcome = space.findings[int(calc.answer.id.rpartition("-")[2]) - 1].outcome
            assert isinstance(outcome, Compared)
            wanted = {one.symbol for one in (*outcome.inputs, *outcome.limit.of)}
            told = [one.label for one in calc.shared] + [one.symbol for one in calc.inputs]
            assert set(told) == wanted
            assert {(one.label, one.text) for one in calc.shared} <= shared
        assert len(view.shared) == len(set(view.shared))


def test_every_statement_is_on_the_page_whether_told_or_named_as_before(plan):
    for number, space in enumerate(view_of(plan).spaces):
        for area in space.areas:
            told = [one.id for row in area.asked for one in row]
            told += [one.id for one in area.as_before]
            assert sorted(told) == sorted(one.id for one in area.statements)
            assert not area.as_before or number > 0
            assert all(one.verdict == "meets" for one in area.as_before)


def test_a_later_space_names_only_what_the_first_one_tells_in_the_same_words(sample_plan):
    first, second = view_of(sample_plan("pump_station")).spaces
    told = {
        (one.title, one.part, one.found, one.source)
        for area in first.areas
        for one in area.statements
    }
    named = [one for area in second.areas for one in area.as_before]

    assert len(named) > 20
    assert all((one.title, one.part, one.found, one.source) in told for one in named)


def test_one_row_of_statements_asks_one_question(plan):
    for space in view_of(plan).spaces:
        for area in space.areas:
            for row in area.asked:
                assert len({(one.verdict, one.title, one.rule, one.source) for one in row}) == 1
