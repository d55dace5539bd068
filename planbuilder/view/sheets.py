"""Calculation sheets: everything an auditor needs to follow with a pencil."""

from __future__ import annotations

from dataclasses import replace

from planbuilder.findings import Compared, Finding, Quantity, Verdict
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import Answer, Area, Calculation, InputRow
from planbuilder.view.numbers import pair
from planbuilder.view.words import (
    RELATIONS,
    SHAPES,
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


def answer(one: Finding, number: str, system: UnitSystem) -> Answer:
    """The words of one finding."""
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
        accepted=one.accepted,
    )


def areas(space: SpacePlan, system: UnitSystem) -> tuple[Area, ...]:
    """The findings of one space, by area, in printing order."""
    haul, *others, records = (_area(space, area, system) for area in AREAS)
    if haul.calculations or any(way.rig for way in space.scene.ways()):
        return (haul, *others, records)
    # Nothing is lifted here: what is said of masses is a record, not a capacity.
    return (*others, replace(records, statements=haul.statements + records.statements))


def _area(space: SpacePlan, area: str, system: UnitSystem) -> Area:
    worked: list[Calculation] = []
    said: list[Answer] = []
    for number, one in enumerate(space.findings, 1):
        if one.rule.area != area:
            continue
        words = answer(one, f"{space.scene.space.id}-{number}", system)
        if isinstance(one.outcome, Compared) and not one.outcome.formula.isidentifier():
            worked.append(_calculation(one.outcome, words, system, space.scene.key("")))
        else:  # nothing to calculate: a fact, or a plain value against a limit
            said.append(replace(words, source=_with_limit(one, words.source)))
    return Area(AREAS[area], tuple(worked), tuple(said))


def _with_limit(one: Finding, source: str) -> str:
    """The source of the rule, and of the limit where that is another one."""
    if not isinstance(one.outcome, Compared):
        return source
    limit = source_text(one.outcome.limit.source)
    return source if limit in source else f"{source}; limit: {limit}"


def _calculation(compared: Compared, words: Answer, system: UnitSystem, here: str) -> Calculation:
    figures = pair(compared, system)
    put_in = (*compared.inputs, *compared.limit.of)  # a limit worked out is followed as well
    return Calculation(
        answer=words,
        result_symbol=compared.result.symbol,
        result_label=compared.result.label,
        result=figures.result,
        formula=compared.formula,
        relation=RELATIONS[compared.relation],
        limit=figures.limit,
        limit_label=compared.limit.label,
        limit_source=source_text(compared.limit.source).replace(here, ""),
        inputs=input_rows(tuple(dict.fromkeys(put_in)), system, here),
    )


def input_rows(inputs: tuple[Quantity, ...], system: UnitSystem, here: str) -> tuple[InputRow, ...]:
    """The numbers put in; keys of the space whose page this is go without its name (*here*)."""
    return tuple(
        InputRow(
            symbol=each.symbol,
            label=each.label,
            value=quantity_text(each, system),
            source=source_text(each.source).replace(here, ""),
            default=is_default(each),
        )
        for each in inputs
    )


def worst(findings: tuple[Finding, ...], rule_id: str, about: str) -> Finding | None:
    """The worst finding of one rule for one method, if it was asked."""
    found = [one for one in findings if one.rule.id == rule_id and one.about.startswith(about)]
    order = tuple(Verdict)
    return min(found, key=lambda one: order.index(one.verdict), default=None)
