"""Set-points: each gas has one, stricter than its limit; a gas that only this plan names too."""

from typing import Any

import pytest
from broken_atmosphere import methane, points
from broken_haul import both, nothing
from broken_sites import Break, entry, found, plan_with, space, worst

from planbuilder.findings import Finding, Verdict
from planbuilder.view.cards import attendant_card

FAILS, MARGINAL, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MARGINAL, Verdict.MEETS, Verdict.UNKNOWN
RULE = "plan/alarm-set-point"
AMMONIA = {"substance": "ammonia", "limit": "25 ppm", "set_point": "20 ppm"}


def points_of(*breaks: Break) -> dict[str, Finding]:
    return {one.about: one for one in found(plan_with(*breaks), RULE) if one.space == "wet-well"}


def toxic(**changed: Any) -> Break:
    """Ammonia is feared in the wet well; None takes a fact away."""
    facts = {key: value for key, value in {**AMMONIA, **changed}.items() if value is not None}
    row = {"kind": "other-toxic-gas", "control": "Pumped away before", **facts}
    return lambda data: space(data)["hazard"].append(row)


def reads(*names: str) -> Break:
    return lambda data: entry(data, "equipment", "monitor")["meter"].update(also_reads=list(names))


def canada(data: dict[str, Any]) -> None:
    data["plan"]["profile"] = "ca-federal"


@pytest.mark.parametrize(
    ("changed", "about"),
    [
        ({"oxygen_low": "19.5 %"}, "least oxygen"),
        ({"oxygen_high": "23.5 %"}, "most oxygen"),
        ({"flammable": "10 %"}, "flammable gas, share of the lower flammable limit"),
        ({"hydrogen_sulfide": "10 ppm"}, "hydrogen sulfide"),
        ({"carbon_monoxide": "35 ppm"}, "carbon monoxide"),
    ],
)
def test_a_point_at_the_limit_itself_is_marginal(changed: dict[str, str], about: str) -> None:
    (one,) = [row for name, row in points_of(points(**changed)).items() if name == about]

    assert one.verdict is MARGINAL
    assert points_of()[about].verdict is MEETS


def test_a_point_beyond_the_limit_blocks_and_none_is_unknown() -> None:
    assert points_of(points(oxygen_low="19.4 %"))["least oxygen"].blocks
    assert points_of(points(oxygen_low=None))["least oxygen"].verdict is UNKNOWN


# ---- a toxic gas that has no kind of its own -------------------------------------------------


@pytest.mark.parametrize(
    ("changed", "verdict"),
    [
        ({}, MEETS),
        ({"set_point": "25 ppm"}, MARGINAL),
        ({"set_point": "26 ppm"}, FAILS),
        ({"set_point": None}, UNKNOWN),
        ({"limit": None}, UNKNOWN),
    ],
)
def test_another_toxic_gas_names_its_limit_and_point(
    changed: dict[str, str | None], verdict: Verdict
) -> None:
    assert points_of(toxic(**changed))["ammonia"].verdict is verdict


def test_a_toxic_gas_without_a_name_is_unknown() -> None:
    assert points_of(toxic(substance=None))["other toxic gas"].verdict is UNKNOWN


def test_its_sensor_is_asked_for_by_name() -> None:
    def sensor(*breaks: Break) -> Verdict:
        rows = found(plan_with(toxic(), *breaks), "plan/no-sensor-for-gas")
        return worst([one for one in rows if one.about == "ammonia"])

    assert sensor() is FAILS
    assert sensor(reads("chlorine")) is FAILS
    assert sensor(reads("Ammonia")) is MEETS


def test_no_figure_of_this_tool_decides_about_it() -> None:
    rows = found(plan_with(toxic()), "response/limit-needs-competent-person")

    assert "ammonia" in str(rows[0].outcome)


def test_the_attendant_reads_its_point() -> None:
    plan = plan_with(toxic())
    card = attendant_card(plan, plan.spaces[0])

    assert [(one.label, one.text) for one in card.out_at][-1] == ("ammonia from", "20 ppm")


# ---- where nothing can ignite ----------------------------------------------------------------

SAID = {"no_ignition_because": "No ignition source", "no_ignition_decided_by": "Osric Vane"}
FLAMMABLE = "flammable gas, share of the lower flammable limit"
NO_IGNITION = "flammable gas where nothing can ignite it, share of the lower flammable limit"


def at_forty(*more: Break, **facts: str) -> dict[str, Finding]:
    return points_of(both(methane(**facts), points(flammable="40 %"), *more))


def test_a_higher_limit_takes_a_rule_set_that_has_one_and_a_named_person() -> None:
    assert at_forty(canada, **SAID)[NO_IGNITION].verdict is MEETS
    assert at_forty(nothing, **SAID)[FLAMMABLE].verdict is FAILS
    assert at_forty(canada)[FLAMMABLE].verdict is FAILS
    half = {"no_ignition_because": "No ignition source"}
    assert at_forty(canada, **half)[FLAMMABLE].verdict is FAILS


def test_at_the_higher_limit_of_canada_it_fails() -> None:
    """Less than 50 %, not 50 %."""
    rows = points_of(both(methane(**SAID), points(flammable="50 %"), canada))

    assert rows[NO_IGNITION].verdict is FAILS
