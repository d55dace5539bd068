"""Defaults: every one is named, marked, used, and changed only by its name."""

from __future__ import annotations

import ast
import tomllib
from datetime import date
from pathlib import Path

import pytest

import planbuilder
from planbuilder.defaults import tool_defaults
from planbuilder.findings import Compared, Mark, Source, Unit
from planbuilder.tables import documents
from planbuilder.units import QuantityError

PACKAGE = Path(planbuilder.__file__).parent
WRITTEN = tomllib.loads((PACKAGE / "tables" / "defaults.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", WRITTEN)
def test_every_default_says_what_it_is_and_where_it_comes_from(name):
    default = tool_defaults().of(name)

    assert default.label
    assert default.symbol.isidentifier()
    assert default.source.key == name
    assert default.source.mark in {Mark.READ, Mark.RECALLED, Mark.DERIVED, Mark.CHOICE}
    if default.source.document:
        assert default.source.document in documents()
    elif default.source.mark is not Mark.CHOICE:
        assert default.source.note


@pytest.mark.parametrize("name", WRITTEN)
def test_a_default_known_from_a_document_names_it(name):
    source = tool_defaults().of(name).source

    assert source.mark is not Mark.READ or source.document


def asked() -> set[str]:
    """The names that the code asks the defaults for."""
    names = set()
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                names.add(node.value)
    return names


def test_every_default_is_used_by_name():
    assert set(WRITTEN) - asked() == set()


def test_a_default_that_does_not_exist_is_our_mistake():
    with pytest.raises(KeyError):
        tool_defaults().of("no-such-default")


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("casualty-mass", "220 lb", 220 * 0.45359237),
        ("stature", "6 ft 2 in", 74 * 0.0254),
        ("hand-haul-speed", "60 ft/min", 0.3048),
        ("detection-delay", "1 min", 60.0),
        ("dynamic-factor", "1.5", 1.5),
        ("dead-wraps", "4", 4.0),
    ],
)
def test_an_override_replaces_the_value_and_says_who_did_it(name, text, value):
    default = tool_defaults().of(name)

    changed = tool_defaults().overridden(name, text, "weighed (Osric Vane, 2 Nov 2026)").of(name)

    assert changed.value == pytest.approx(value)
    assert changed.written == text
    assert changed.source == Source(
        mark=Mark.SITE, key=name, note="weighed (Osric Vane, 2 Nov 2026)"
    )
    assert (changed.symbol, changed.label, changed.unit) == (
        default.symbol,
        default.label,
        default.unit,
    )


@pytest.mark.parametrize(
    ("name", "text", "message"),
    [
        ("casualty-mass", "90", 'must be a number and a unit, such as "92 kg" or "203 lb"'),
        (
            "casualty-mass",
            "90 ft",
            '"ft" is not a unit of the wanted kind; write it as "92 kg" or "203 lb"',
        ),
        ("casualty-mass", "-90 kg", "must lie between 40 and 300 kg"),
        ("dynamic-factor", "1.5 kg", "must be a plain number"),
        ("dynamic-factor", "-1", "must lie between 1 and 3"),
        ("dynamic-factor", "inf", "must be a finite number"),
        ("dynamic-factor", "nan", "must be a finite number"),
        ("dead-wraps", "2.5", "must be a whole number"),
    ],
)
def test_an_override_that_is_no_such_number_is_refused(name, text, message):
    with pytest.raises(QuantityError) as caught:
        tool_defaults().overridden(name, text, "")

    assert str(caught.value) == message


def test_changing_one_default_leaves_the_others_and_the_shipped_ones_alone():
    shipped = tool_defaults()

    changed = shipped.overridden("casualty-mass", "100 kg", "")

    assert changed.of("casualty-mass").value == 100.0
    assert changed.of("stature") == shipped.of("stature")
    assert shipped.of("casualty-mass").value == 123.0


OVERRIDE = """\
[[override]]
what = "clothing-mass"
value = "5 kg"
reason = "winter clothing"
by = "Osric Vane"
on = 2026-11-02

# ---- drills """


def test_an_overridden_default_reaches_the_formulas_with_its_reason(planned):
    plan = planned("pump_station", ("# ---- drills ", OVERRIDE))

    inputs = [
        each
        for one in plan.findings
        if isinstance(one.outcome, Compared)
        for each in one.outcome.inputs
        if each.symbol == "m_cloth"
    ]
    assert inputs
    for each in inputs:
        assert each.value == 5.0
        assert each.unit is Unit.KG
        assert each.source.note == "winter clothing (Osric Vane, 2 Nov 2026)"


ACCEPT = """\
[[override]]
what = "{}"
reason = "quiet road"
by = "Osric Vane"
on = 2026-11-02
{}
# ---- drills """


def test_a_warning_that_a_named_person_accepts_says_so_and_stays_open(planned):
    words = ACCEPT.format("response/fallback-too-late", 'space = "wet-well"\n')

    plan = planned("pump_station", ("# ---- drills ", words))

    warned = [one for one in plan.findings if one.rule.id == "response/fallback-too-late"]
    accepted = [one for one in warned if one.open]
    assert [one.accepted for one in accepted] == [
        "accepted by Osric Vane on 2 Nov 2026: quiet road"
    ]
    assert all(one.accepted == "" for one in warned if not one.open)


def test_an_acceptance_for_another_space_changes_nothing(planned):
    words = ACCEPT.format("response/fallback-too-late", 'space = "valve-chamber"\n')

    plan = planned("pump_station", ("# ---- drills ", words))

    assert all(one.accepted == "" for one in plan.findings)


def test_the_shipped_defaults_do_not_depend_on_the_day(sample_plan):
    plan = sample_plan("pump_station")

    assert plan.on == date(2026, 11, 25)
    assert plan.defaults == tool_defaults()
