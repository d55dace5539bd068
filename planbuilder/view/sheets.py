"""Calculation sheets: everything an auditor needs to follow with a pencil."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from planbuilder.findings import Compared, Finding, Quantity, Source, Verdict
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import Answer, Area, Calculation, Fact, InputRow, Link
from planbuilder.view.numbers import pair
from planbuilder.view.words import (
    RELATIONS,
    SHAPES,
    document_id,
    is_default,
    outcome_text,
    quantity_text,
    source_text,
    weight_word,
)

AREAS = {
    "haul": "Haul capacity",
    "response": "Response time",
    "clearance": "Clearance",
    "plan": "Arrangement and records",
}


def answer(one: Finding, number: str, system: UnitSystem, sheet: str = "") -> Answer:
    """The words of one finding; *sheet* is where it is worked out, if not here."""
    return Answer(
        id=number,
        shape=SHAPES[one.verdict],
        verdict=one.verdict.value,
        weight=weight_word(one),
        title=one.rule.title,
        rule=one.rule.id,
        about=", ".join(part for part in (one.space, one.about) if part) or "whole site",
        part=one.about,
        found=outcome_text(one, system),
        settle=one.settle_by,
        keys=", ".join(one.keys),
        source=source_text(one.source),
        cites=tuple(_cites(one)),
        sheet=sheet or number,
        accepted=one.accepted,
    )


def sheet_ids(space: SpacePlan) -> dict[int, str]:
    """Where each finding of a space stands with its numbers, by its identity."""
    return {
        id(one): f"{space.scene.space.id}-{number}" for number, one in enumerate(space.findings, 1)
    }


def _cites(one: Finding) -> Iterator[Link]:
    """The source of the rule, and of the limit where that is another one."""
    source = source_text(one.source)
    yield Link(source, document_id(one.source.document))
    if isinstance(one.outcome, Compared):
        limit = one.outcome.limit.source
        if source_text(limit) not in source:
            yield Link(f"limit: {source_text(limit)}", document_id(limit.document))


def areas(space: SpacePlan, system: UnitSystem, first: SpacePlan | None = None) -> tuple[Area, ...]:
    """The findings of one space, by area, in printing order.

    What is met and reads the same in the *first* space of the plan is named only, and leads there.
    """
    found = _areas(space, system)
    if first is None:
        return found
    known = {_said(one) for area in _areas(first, system) for one in area.statements}
    return tuple(_shortened(area, known, first) for area in found)


def _said(one: Answer) -> tuple[str, ...]:
    return (one.verdict, one.rule, one.title, one.part, one.found, one.source)


def _shortened(area: Area, known: set[tuple[str, ...]], first: SpacePlan) -> Area:
    """An area whose statements are split into those *known* and the rest."""
    facts = first.scene.space
    same = tuple(one for one in area.statements if one.weight == "met" and _said(one) in known)
    left = tuple(one for one in area.statements if one not in same)
    to = f"{area.id.partition('-')[0]}-{facts.id}"
    return replace(area, asked=_by_question(left), as_before=same, before=Link(facts.name, to))


def _by_question(statements: tuple[Answer, ...]) -> tuple[tuple[Answer, ...], ...]:
    """The same question for several methods or things as one row."""
    rows: dict[tuple[str, ...], list[Answer]] = {}
    for one in statements:
        rows.setdefault((one.verdict, one.title, one.rule, one.source), []).append(one)
    return tuple(tuple(row) for row in rows.values())


def _areas(space: SpacePlan, system: UnitSystem) -> tuple[Area, ...]:
    often = Counter(_inputs(space))
    haul, *others, records = (_area(space, area, system, often) for area in AREAS)
    if haul.calculations or any(way.rig for way in space.scene.ways()):
        return (haul, *others, records)
    # Nothing is lifted here: what is said of masses is a record, not a capacity.
    both = haul.statements + records.statements
    said = tuple(sorted(both, key=lambda one: one.weight == "met"))
    return (*others, replace(records, statements=said, asked=_by_question(said)))


def shared_inputs(space: SpacePlan, system: UnitSystem) -> tuple[InputRow, ...]:
    """The numbers that stand in more than one formula of a space: explained once, before them."""
    often = Counter(_inputs(space))
    rows = tuple(each for each, times in often.items() if times > 1)
    return tuple(dict.fromkeys(input_rows(rows, system, space.scene.key(""))))


def _worked_out(one: Finding) -> bool:
    """False where there is nothing to calculate: a fact, or a plain value against a limit."""
    return isinstance(one.outcome, Compared) and not one.outcome.formula.isidentifier()


def _put_in(compared: Compared) -> tuple[Quantity, ...]:
    """The inputs of one formula, and of its limit: a limit worked out is followed as well."""
    return tuple(dict.fromkeys((*compared.inputs, *compared.limit.of)))


def _inputs(space: SpacePlan) -> Iterator[Quantity]:
    for one in space.findings:
        if isinstance(one.outcome, Compared) and _worked_out(one):
            yield from _put_in(one.outcome)


def _area(space: SpacePlan, area: str, system: UnitSystem, often: Counter[Quantity]) -> Area:
    """What fails or is near its limit stands first; else the order of the checks."""
    worked: list[Calculation] = []
    said: list[Answer] = []
    ids, here = sheet_ids(space), space.scene.key("")
    for one in sorted(space.findings, key=lambda one: not one.open):
        if one.rule.area != area:
            continue
        words = answer(one, ids[id(one)], system)
        if isinstance(one.outcome, Compared) and _worked_out(one):
            worked.append(_calculation(one.outcome, words, system, here, often))
        else:
            cites = tuple(Link(_near(cite.text, here), cite.to) for cite in words.cites)
            source = "; ".join(cite.text for cite in cites)
            said.append(replace(words, source=source, cites=cites))
    return Area(
        id=f"{area}-{space.scene.space.id}",
        title=AREAS[area],
        calculations=tuple(worked),
        statements=tuple(said),
        asked=_by_question(tuple(said)),
        as_before=(),
        before=Link("", ""),
    )


def _calculation(
    compared: Compared, words: Answer, system: UnitSystem, here: str, often: Counter[Quantity]
) -> Calculation:
    figures, put_in = pair(compared, system), _put_in(compared)
    return Calculation(
        answer=words,
        result_symbol=compared.result.symbol,
        result_label=compared.result.label,
        result=figures.result,
        formula=compared.formula,
        relation=RELATIONS[compared.relation],
        limit=figures.limit,
        limit_label=compared.limit.label,
        limit_source=_place(compared.limit.source, here),
        limit_link=document_id(compared.limit.source.document),
        shared=tuple(
            Fact(each.symbol, quantity_text(each, system)) for each in put_in if often[each] > 1
        ),
        inputs=input_rows(tuple(one for one in put_in if often[one] == 1), system, here),
    )


def _place(source: Source, here: str) -> str:
    """Where a number comes from; a key of the site file stands for itself, without its space."""
    return _near(source_text(source), here)


def _near(words: str, here: str) -> str:
    return words.replace(here, "").replace("site file: ", "")


def input_rows(inputs: tuple[Quantity, ...], system: UnitSystem, here: str) -> tuple[InputRow, ...]:
    """The numbers put in; keys of the space whose page this is go without its name (*here*)."""
    return tuple(
        InputRow(
            symbol=each.symbol,
            label=each.label,
            value=quantity_text(each, system),
            source=_place(each.source, here),
            default=is_default(each),
        )
        for each in inputs
    )


def worst(findings: tuple[Finding, ...], rule_id: str, about: str) -> Finding | None:
    """The worst finding of one rule for one method, if it was asked."""
    found = [one for one in findings if one.rule.id == rule_id and one.about.startswith(about)]
    order = tuple(Verdict)
    return min(found, key=lambda one: order.index(one.verdict), default=None)
