"""Rules on the retrieval rig: each fires, rests, says unknown, and cites the rule set."""

from typing import Any

import pytest
from broken_haul import both
from broken_retrieval import CASES, rescue, wrists
from broken_sites import Break, found, plan_with, rules_of, space, way, worst

from planbuilder.checks import RULES
from planbuilder.checks.arrangement import retrieval_rig
from planbuilder.findings import Bind, Mark, Source, Verdict, Weight
from planbuilder.limits import Limits
from planbuilder.profiles.rule_file import Need
from planbuilder.profiles.statements import Duty
from planbuilder.view.pages import view_of

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
ANY_DEPTH, HELP, REASON = (
    "plan/no-device-at-any-depth",
    "plan/help-not-confirmed",
    "plan/no-retrieval-reason",
)
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]

# The hook is then too low as well; a second person inside is a load and a casualty more.
MORE_ASKED = ("plan/wristlets-without-reason", "plan/lines-may-tangle")


def test_every_rule_is_here() -> None:
    assert {*CASES, ANY_DEPTH} == rules_of(retrieval_rig)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.fires])
def test_a_rule_fires(rule: str) -> None:
    change = CASES[rule].fires
    assert change is not None

    plan = plan_with(change)

    assert worst(found(plan, rule)) is FAILS
    if rule not in MORE_ASKED:
        assert (plan.status == "NOT READY") is (rule in BLOCKING)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_says_what_is_missing(rule: str) -> None:
    plan = plan_with(CASES[rule].unknown)

    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]
    assert unknown
    assert all(one.settle_by and one.keys for one in unknown)
    if rule not in MORE_ASKED:
        assert (plan.status == "NOT READY") is (rule in BLOCKING)


@pytest.mark.parametrize(
    "change",
    [
        wrists(wristlets_decided_by=None),
        wrists(wristlets_because=None, wristlets_decided_by=None),
    ],
)
def test_wristlets_want_reason_and_name(change: Break) -> None:
    assert worst(found(plan_with(change), "plan/wristlets-without-reason")) is UNKNOWN


def test_one_line_alone_tangles_with_none() -> None:
    assert found(plan_with(), "plan/lines-may-tangle") == []


def test_lines_that_may_tangle_block_where_law_bars_them() -> None:
    two: Break = lambda data: space(data)["task"].update(inside_at_once=2)  # noqa: E731

    rows = found(plan_with(two, sample="shored_trench"), "plan/lines-may-tangle")
    assert [one.blocks for one in rows] == [True]
    assert rows[0].source.document == "29 CFR 1926.1211"


def test_a_harness_is_asked_nothing() -> None:
    assert found(plan_with(), "plan/wristlets-without-reason") == []


def test_help_is_asked_of_a_retrieval_alone() -> None:
    assert found(plan_with(sample="storage_tank"), HELP) == []


def test_unconfirmed_help_blocks_where_law_wants_it() -> None:
    general = found(plan_with(rescue(help_confirmed_how=None)), HELP)
    building = found(plan_with(rescue(help_confirmed_how=None), sample="shored_trench"), HELP)

    assert not general[0].blocks
    assert building[0].blocks
    assert building[0].source.document == "29 CFR 1926.1211"


@pytest.mark.parametrize("method", ["self", "assisted-self"])
def test_a_casualty_left_alone_wants_the_reason_as_an_entry_does(method: str) -> None:
    (one, *_) = found(plan_with(lambda data: way(data).update(method=method)), REASON)

    assert one.verdict is UNKNOWN
    assert one.blocks
    assert (one.source.document, one.source.clause) == ("29 CFR 1910.146", "(k)(3)")


def no_rigs(data: dict[str, Any]) -> None:
    """Nobody lifts with anything."""
    for name in ("primary", "fallback"):
        del way(data, name)["rig"]
    data["drill"] = []


def shallow(data: dict[str, Any]) -> None:
    """A space that no depth limit asks about."""
    space(data)["shape"]["depth"] = "3 ft"


def stated(monkeypatch: pytest.MonkeyPatch, need: Need) -> None:
    said = Duty(
        key="retrieval.mech_device",
        layer="test",
        need=need,
        text="lifting device at hand",
        source=Source(mark=Mark.READ, document="29 CFR 1910.146", clause="x", bind=Bind.LAW),
    )
    monkeypatch.setattr(Limits, "duty", lambda _, key: said if key == said.key else None)


@pytest.mark.parametrize(
    ("need", "blocks"),
    [(Need.REQUIRED, True), (Need.IF_FEASIBLE, False), (Need.BY_ASSESSMENT, False)],
)
def test_a_device_at_any_depth(
    monkeypatch: pytest.MonkeyPatch, need: Need, *, blocks: bool
) -> None:
    stated(monkeypatch, need)

    rows = [one for one in found(plan_with(no_rigs, shallow), ANY_DEPTH) if one.space == "wet-well"]
    assert [one.verdict for one in rows] == [FAILS]
    assert rows[0].blocks is blocks
    assert worst(found(plan_with(shallow), ANY_DEPTH)) is MEETS


def test_a_device_at_any_depth_is_asked_only_where_a_rule_set_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    stated(monkeypatch, Need.NOT_REQUIRED)

    assert found(plan_with(both(no_rigs, shallow)), ANY_DEPTH) == []


def test_what_happens_before_entry_is_printed() -> None:
    facts = {one.label: one.text for one in view_of(plan_with()).spaces[0].facts}

    assert facts["Before each entry"].endswith("hears that the crew is at the station")
