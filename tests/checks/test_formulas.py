"""The formula on the page is the formula that ran: worked out again, it gives the result."""

from typing import Any

import pytest
from broken_haul import COLLAR, DAVIT, POST, TRIPOD, both, put, rig, stand, support
from broken_sites import Break, found, plan_with, space, way
from printed_formula import work_out

from planbuilder.findings import Compared
from planbuilder.plan import Plan

READABLE = (
    "pump_station",
    "shored_trench",
    "storage_tank",
    "cramped_chamber",
    "borough_culvert",
    "grain_terminal",
    "call_and_wait",
    "half_measured",
)

COMPARED = [
    pytest.param(one.outcome, id=f"{sample} {one.rule.id} {one.space} {one.about}")
    for sample in READABLE
    for one in plan_with(sample=sample).findings
    if isinstance(one.outcome, Compared)
]


def full_of_gas(data: dict[str, Any]) -> None:
    """Every level and temperature that a limit may be worked out from, in one wet well."""
    data["site"]["altitude"] = "300 m"
    way(data, "fallback")["method"] = "self"
    way(data)["step"][-1]["reaches"] = "out"
    space(data)["hazard"] = [
        {"kind": "carbon-monoxide", "level": "6400 ppm", "control": "Air"},
        {"kind": "hydrogen-sulfide", "level": "60 ppm", "control": "Air"},
        {"kind": "oxygen-deficiency", "level": "10 %", "control": "Air"},
        {"kind": "cold-water", "water_temperature": "45 degF", "control": "Drained"},
    ]


COMPARED += [
    pytest.param(one.outcome, id=f"gas {one.rule.id} {one.space} {one.about}")
    for one in plan_with(full_of_gas).findings
    if isinstance(one.outcome, Compared)
]


@pytest.mark.parametrize("compared", COMPARED)
def test_printed_formula_gives_the_result(compared: Compared) -> None:
    values = {one.symbol: one.value for one in compared.inputs}

    assert work_out(compared.formula, values) == pytest.approx(compared.result.value, rel=1e-9)


@pytest.mark.parametrize("compared", COMPARED)
def test_every_input_is_used_once_and_has_its_own_symbol(compared: Compared) -> None:
    symbols = [one.symbol for one in compared.inputs]

    assert len(symbols) == len(set(symbols))


def untimed(parts: int) -> Break:
    """The wet well's winch without a line speed: its time is counted from the crank."""
    return put("device", "winch-4", line_speed=None, parts=parts)


@pytest.mark.parametrize(
    "plan",
    [*(plan_with(sample=one) for one in READABLE), *(plan_with(untimed(one)) for one in (1, 2))],
    ids=[*READABLE, "one part, counted from the crank", "two parts, counted from the crank"],
)
def test_computed_times_follow_from_their_printed_formula(plan: Plan) -> None:
    steps = [
        step
        for space in plan.spaces
        for times in space.timelines
        for step in times.steps
        if step.working is not None
    ]

    for step in steps:
        assert step.working is not None
        values = {one.symbol: one.value for one in step.working.inputs}
        result = work_out(step.working.formula, values)
        assert result == pytest.approx(step.working.value, rel=1e-9)


def test_a_wrong_formula_would_be_noticed() -> None:
    compared = next(one.values[0] for one in COMPARED if isinstance(one.values[0], Compared))
    values = {one.symbol: one.value for one in compared.inputs}

    assert work_out(f"({compared.formula})*1.01", values) != pytest.approx(compared.result.value)


LEANS = both(
    rig(line_lean="4 deg", lead_distance="3 ft"), stand(slope="3 deg", slope_towards="70 deg")
)
ON_COLLAR = both(
    support(COLLAR),
    rig(reach="9 in", line_lean="2 deg"),
    stand(ledge_width="30 mm", ledge_stress="9 MPa"),
)
SOCKET = put(*DAVIT, socket_rating="2000 lbf", socket_depth="18 in")
TUBE = put(*DAVIT, mast_tube="4 in", mast_wall="0.25 in", mast_stress="160 MPa")
LEG = put(*TRIPOD, leg_tube="2.5 in", leg_wall="0.15 in", leg_elasticity="69 GPa")
LED = both(
    rig(number=1, winch_on_leg=False, lead_distance="2 ft", line_lean="3 deg"),
    put(*TRIPOD, foot_friction=0.5, chain_rating="900 lbf"),
)
PLANS: list[tuple[str, Break, str]] = [
    ("haul/socket-overloaded", both(LEANS, SOCKET), "pump_station"),
    ("haul/mast-overstressed", both(LEANS, TUBE), "pump_station"),
    ("haul/base-tips", LEANS, "pump_station"),
    ("haul/base-tips-on-slope", LEANS, "pump_station"),
    ("haul/lean-uses-margin", LEANS, "pump_station"),
    ("haul/pad-pressure", LEANS, "pump_station"),
    ("haul/collar-tips", ON_COLLAR, "pump_station"),
    ("haul/collar-neck-overloaded", ON_COLLAR, "pump_station"),
    ("haul/ledge-too-narrow", ON_COLLAR, "pump_station"),
    ("haul/ledge-overloaded", ON_COLLAR, "pump_station"),
    ("haul/tripod-leg-overloaded", LED, "pump_station"),
    ("haul/tripod-leg-bows", LEG, "pump_station"),
    ("haul/tripod-foot-lifts", LED, "pump_station"),
    ("haul/tripod-feet-slide", LED, "pump_station"),
    ("haul/tripod-feet-slide", both(LED, put(*TRIPOD, chain=False)), "pump_station"),
    ("haul/tripod-chain-overloaded", LED, "pump_station"),
    ("haul/tripod-line-led-off", LED, "pump_station"),
    ("haul/tripod-lean", LED, "pump_station"),
    ("haul/post-too-high", put(*POST, extension="1 ft"), "transformer_deck"),
]


@pytest.mark.parametrize(("rule", "change", "sample"), PLANS)
def test_formulas_of_supports_off_the_samples_give_the_result(
    rule: str, change: Break, sample: str
) -> None:
    outcomes = [one.outcome for one in found(plan_with(change, sample=sample), rule)]
    compared = [one for one in outcomes if isinstance(one, Compared)]

    assert compared
    for one in compared:
        symbols = [each.symbol for each in one.inputs]
        assert len(symbols) == len(set(symbols))
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)
