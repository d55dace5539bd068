"""Rules of openings, stretchers and sills: each fires, rests and says unknown."""

from dataclasses import dataclass

import pytest
from broken_fall import metres
from broken_haul import both
from broken_openings import bend, by_wrists, opening, riding, ring, stretcher, weighed_only
from broken_sites import Break, found, plan_with, rules_of, worst
from printed_formula import work_out

from planbuilder.checks.room import bends, sills, stretchers, through
from planbuilder.findings import Compared, Finding, Stated, Verdict, Weight
from planbuilder.tables import table

FAILS, UNKNOWN, MEETS, MARGINAL = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS, Verdict.MARGINAL
NO_SIZE = opening(diameter=None)


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown, on which sample."""

    fires: Break
    rests: Break
    unknown: Break
    sample: str = "pump_station"


def nothing(_: object) -> None:
    """The sample as it is."""


CASES = {
    "clearance/casualty-too-wide": Case(
        ring(shape="round", diameter="20 in"),
        ring(shape="oval", length="30 in", width="20 in"),
        opening(measured="cover"),
    ),
    "clearance/casualty-passes-arms-up-only": Case(
        both(by_wrists, opening(diameter="22 in")),
        both(by_wrists, opening(diameter="30 in")),
        both(by_wrists, NO_SIZE),
    ),
    "clearance/rescuer-with-set-too-big": Case(
        opening(1, ring=[{"name": "hinge", "shape": "round", "diameter": "20 in"}]),
        nothing,
        opening(1, ring=[{"name": "hinge", "shape": "oval", "length": "30 in"}]),
    ),
    "clearance/pair-too-big": Case(
        riding, both(riding, opening(diameter="40 in")), both(riding, NO_SIZE)
    ),
    "clearance/few-people-pass": Case(opening(diameter="20 in"), nothing, NO_SIZE),
    "clearance/below-published-opening": Case(opening(diameter="22 in"), nothing, NO_SIZE),
    "clearance/packed-casualty-too-big": Case(stretcher(width="550 mm"), stretcher(), weighed_only),
    "clearance/stretcher-cannot-turn": Case(
        both(stretcher(), lambda data: data["space"][0]["shape"].update(depth="5 ft")),
        stretcher(),
        stretcher(bends=None),
    ),
    "clearance/stretcher-longer-than-room": Case(
        both(stretcher(), opening(clear_outside="1.5 m", clear_inside="1.8 m")),
        both(stretcher(), opening(clear_outside="1.5 m", clear_inside="2.1 m")),
        both(stretcher(), opening(clear_inside=None)),
        "storage_tank",
    ),
    "clearance/stretcher-past-bend": Case(
        both(stretcher(), bend(before="1.0 m", after="0.9 m", turn="90 deg")),
        both(stretcher(), bend()),
        both(stretcher(), bend(after=None)),
    ),
    "clearance/sill-too-high": Case(
        opening(sill_outside="3 ft", footholds=None),
        nothing,
        opening(sill_outside=None),
        "storage_tank",
    ),
    "clearance/receivers-not-guarded": Case(
        opening(drop_outside="4 ft"),
        opening(drop_outside="4 ft", drop_guarded=True),
        opening(drop_outside=None),
        "storage_tank",
    ),
    "clearance/manway-table-too-short": Case(
        opening(landing="4 ft"), nothing, opening(landing=None), "storage_tank"
    ),
}


def test_every_rule_of_openings_has_a_case() -> None:
    assert set(CASES) == rules_of(through, stretchers, bends, sills)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    case = CASES[rule]
    plan = plan_with(case.fires, sample=case.sample)
    findings = found(plan, rule)

    assert worst(findings) is FAILS
    assert all(one.settle_by and one.keys for one in findings)
    assert plan.status == "NOT READY" or findings[0].rule.weight is not Weight.BLOCKS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    case = CASES[rule]

    assert worst(found(plan_with(case.rests, sample=case.sample), rule)) in (MEETS, MARGINAL)


@pytest.mark.parametrize("rule", CASES)
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    case = CASES[rule]
    plan = plan_with(case.unknown, sample=case.sample)
    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys for one in unknown)
    assert plan.status == "NOT READY" or unknown[0].rule.weight is not Weight.BLOCKS


@pytest.mark.parametrize("state", ["fires", "rests"])
@pytest.mark.parametrize("rule", CASES)
def test_printed_formula_gives_the_result(rule: str, state: str) -> None:
    case = CASES[rule]
    plan = plan_with(getattr(case, state), sample=case.sample)
    outcomes = [one.outcome for one in found(plan, rule) if isinstance(one.outcome, Compared)]
    for one in outcomes:
        symbols = [each.symbol for each in one.inputs]
        values = {each.symbol: each.value for each in one.inputs}

        assert len(symbols) == len(set(symbols))
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


def test_the_tightest_ring_is_named() -> None:
    plan = plan_with(ring(shape="round", diameter="20 in"))
    outcome = found(plan, "clearance/casualty-too-wide")[0].outcome

    assert isinstance(outcome, Compared)
    assert outcome.limit.label == "clear diameter of neck"


def test_published_openings_of_ships_or_for_bulky_clothing_are_told_and_do_not_fire() -> None:
    """A side manway of 30 in with an oval gasket ring of 32 by 28 in: 0.74 m is more than 28 in."""
    rule = "clearance/below-published-opening"
    (row,) = found(plan_with(sample="storage_tank"), rule)
    narrow = opening(diameter="22 in")
    (tight, _) = sorted(found(plan_with(narrow), rule), key=lambda one: one.space != "wet-well")

    assert isinstance(row.outcome, Stated)
    assert isinstance(tight.outcome, Stated)
    assert row.verdict is MEETS
    assert "elsewhere: 0.86 by 0.74 m (MIL-STD-1472F, recalled" in row.outcome.because
    here, _, elsewhere = tight.outcome.because.partition("below what holds elsewhere")
    assert tight.verdict is FAILS
    assert "EN 124-1" in here
    assert "IGC Code 3.5.3.1.4" in elsewhere


def test_a_narrow_casualty_is_told_of_wristlets() -> None:
    finding = found(plan_with(opening(diameter="22 in")), "clearance/casualty-too-wide")[0]

    assert "wristlets" in finding.settle_by


def test_a_manway_of_24_inches_fails_and_one_of_30_passes() -> None:
    """clearance.md N3: 1.5 m outside, a neck of 0.2 m, a board of 2.0 m by 0.45 m by 0.35 m."""
    side = {"clear_outside": "1.5 m", "clear_inside": "5 m", "neck": "0.2 m"}

    def verdict(diameter: str) -> Verdict:
        changes = (stretcher(), opening(diameter=diameter, **side))
        plan = plan_with(*changes, sample="storage_tank")
        return worst(found(plan, "clearance/stretcher-cannot-turn"))

    assert (verdict("24 in"), verdict("30 in")) == (FAILS, MEETS)


def test_the_sizes_that_would_clear_a_side_manway_are_named_and_clear_it() -> None:
    """clearance.md N3: 0.5357 m beside a board of 0.45 m is a round opening of 0.6997 m."""
    side = {"clear_outside": "1.5 m", "clear_inside": "5 m", "neck": "0.2 m"}

    def finding(**changes: str) -> Finding:
        change = opening(**{**side, "diameter": "24 in", **changes})
        plan = plan_with(stretcher(), change, sample="storage_tank")
        rows = found(plan, "clearance/stretcher-cannot-turn")
        return next(one for one in rows if one.about == "primary")

    said = finding().settle_by
    round_m, clear_m = metres(said, "opening of #"), metres(said, "do, or #")
    assert float(round_m.split()[0]) == pytest.approx(0.6997, abs=1e-3)
    assert finding(diameter=round_m).verdict is not FAILS
    assert finding(diameter=f"{float(round_m.split()[0]) - 0.002:.3f} m").verdict is FAILS
    assert finding(clear_outside=clear_m).verdict is MEETS
    assert said.startswith("The turn takes 0.54 m, and 0.41 m are clear.")


def test_a_stretcher_that_bends_counts_with_its_stiff_part() -> None:
    corner = bend(before="1.0 m", after="0.9 m", turn="90 deg")
    plan = plan_with(corner, stretcher(bends=True, stiff_length="1.0 m"))

    assert worst(found(plan, "clearance/stretcher-past-bend")) is MEETS


def test_defaults_of_the_body_are_percentiles_of_the_shipped_table() -> None:
    sizes, defaults = table("body_sizes"), table("defaults")
    at = sizes["percentiles"].index(95)

    for name in ("stature", "shoulder-breadth", "body-depth", "bone-breadth"):
        assert defaults[name]["value"] == sizes["men"][name][at]
    assert defaults["hip-breadth"]["value"] == sizes["women"]["hip-breadth"][at]
