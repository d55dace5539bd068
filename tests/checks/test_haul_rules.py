"""Rules of haul capacity: each fires, rests and says unknown, on the support it is for."""

from dataclasses import dataclass
from functools import partial
from typing import Any

import pytest
from broken_haul import (
    ARM,
    CLAMP,
    COLLAR,
    DAVIT,
    EYE,
    FLOOR,
    LINE,
    POST,
    ROPES,
    TRIPOD,
    TRUCK,
    WINCH,
    both,
    link,
    nothing,
    put,
    rig,
    stand,
    support,
)
from broken_sites import Break, found, plan_with, way, worst

from planbuilder.checks import RULES
from planbuilder.findings import Verdict, Weight

FAILS, UNKNOWN, MARGINAL = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MARGINAL


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown."""

    fires: Break
    verdict: Verdict = FAILS
    rests: Break | None = None
    unknown: Break | None = None
    sample: str = "pump_station"


def wedged(data: dict[str, Any]) -> None:
    """Somebody may get stuck in the wet well."""
    data["space"][0]["hazard"].append({"kind": "wedged", "control": "Harness"})


def freed(data: dict[str, Any]) -> None:
    """As wedged, with a way of freeing them first."""
    wedged(data)
    for name in ("primary", "fallback"):
        way(data, name)["free_first"] = "Dig the sludge away from the legs before any pull."


def rider(**people: int | None) -> Break:
    """Somebody rides along; the parts are rated for so many people."""

    def change(data: dict[str, Any]) -> None:
        way(data)["rig"]["rides_along"] = "dagny"
        parts = (("device", "winch-4"), ("device", "retractor-3"), ("support", "davit-2"))
        for table, entry_id in parts:
            put(table, entry_id, **people)(data)

    return change


def lifts_with_retractor(*, backup_only: bool) -> Break:
    """The wet well's lift hangs on the self-retracting line."""
    return both(
        rig(device="retractor-3", backup="winch-4"),
        put("device", "retractor-3", retrieval_is_backup_only=backup_only),
    )


def method(name: str, **values: Any) -> Break:
    """Sets keys of a method of the wet well; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        for key, value in values.items():
            if value is None:
                del way(data, name)[key]
            else:
                way(data, name)[key] = value

    return change


RESET = both(
    put(*ROPES, reset_distance="12 ft"), rig("fallback", walkway="30 ft", anchor_to_edge="6 ft")
)
UPHILL = {"length": "8 ft", "slope": "40 deg", "on": "floor"}
trench = partial(Case, sample="shored_trench")
deck = partial(Case, sample="transformer_deck")

CASES: dict[str, Case] = {
    "haul/link-too-weak": Case(link(breaking="1000 lbf"), unknown=link(breaking=None)),
    "haul/links-not-listed": Case(rig(link=None), UNKNOWN),
    "haul/line-too-weak": Case(
        put(*WINCH, line_breaking="2400 lbf"), unknown=put(*WINCH, termination=None)
    ),
    "haul/line-strength-not-stated": Case(put(*WINCH, line_breaking=None), UNKNOWN),
    "haul/redirect-overloaded": Case(
        rig(redirect=[{"angle": "0 deg", "rating": "400 lbf"}]),
        rests=rig(redirect=[{"angle": "0 deg", "rating": "2000 lbf"}]),
        unknown=rig(redirect=[{"angle": "0 deg"}]),
    ),
    "haul/two-lines-on-one-head": Case(
        put(*DAVIT, two_line_load="200 lbf"), unknown=put(*DAVIT, two_line_load=None)
    ),
    "haul/shared-sheave-pin": Case(
        put(*DAVIT, separate_pins=False), unknown=put(*DAVIT, separate_pins=None)
    ),
    "haul/head-cannot-arrest": Case(
        put(*DAVIT, arrest_load="800 lbf"), unknown=put(*DAVIT, arrest_load=None)
    ),
    "haul/arrest-force-too-high": Case(
        put("device", "retractor-3", arrest_force="1801 lbf"),
        unknown=put("device", "retractor-3", arrest_force=None),
    ),
    "haul/single-person-rating": Case(
        rider(rated_people=1), rests=rider(rated_people=2), unknown=rider(rated_people=None)
    ),
    "haul/below-convention": Case(put(*WINCH, rated_load="290 lbf")),
    "haul/retractor-as-lift": Case(
        lifts_with_retractor(backup_only=True), rests=lifts_with_retractor(backup_only=False)
    ),
    "haul/base-tips": Case(rig(reach="70 in"), unknown=put(*DAVIT, base_mass=None)),
    "haul/lean-uses-margin": Case(stand(slope="25 deg"), unknown=stand(slope=None)),
    "haul/base-tips-on-slope": Case(
        stand(slope="30 deg", slope_towards="0 deg"),
        unknown=stand(slope="3 deg", slope_towards=None),
    ),
    "haul/socket-overloaded": Case(
        put(*DAVIT, socket_rating="400 lbf", socket_depth="18 in"),
        rests=put(*DAVIT, socket_rating="2000 lbf", socket_depth="18 in"),
        unknown=put(*DAVIT, socket_rating="900 lbf"),
    ),
    "haul/reach-beyond-rating": Case(
        put(*DAVIT, rated_reach="29 in"), unknown=put(*DAVIT, rated_reach=None)
    ),
    "haul/pulley-overloaded": Case(
        put(*ROPES, pulley_rating="100 lbf"), unknown=put(*ROPES, pulley_rating=None)
    ),
    "haul/loose-ballast": Case(
        put(*DAVIT, ballast=[{"mass": "40 kg", "at": ["-8 in", "0 in"], "fixed": False}]),
        rests=put(*DAVIT, ballast=[{"mass": "40 kg", "at": ["-8 in", "0 in"], "fixed": True}]),
    ),
    "haul/pad-pressure": Case(
        both(put(*DAVIT, pad_width="2 in"), stand(ground="soft-or-filled")),
        unknown=stand(ground=None),
    ),
    "haul/foot-near-edge": Case(stand(edge_distance="2 ft"), rests=stand(edge_distance="4 ft")),
    "haul/tripod-leg-overloaded": Case(
        put(*TRIPOD, leg_rating="300 lbf"), unknown=put(*TRIPOD, leg_length=None)
    ),
    "haul/tripod-foot-lifts": Case(
        rig(number=1, foot_levels=["5 ft", "0 in", "0 in"]),
        unknown=put(*TRIPOD, foot_radius=None),
    ),
    "haul/tripod-feet-slide": Case(
        put(*TRIPOD, chain=False, foot_friction=0.3), unknown=put(*TRIPOD, chain=None)
    ),
    "haul/tripod-chain-overloaded": Case(
        put(*TRIPOD, chain_rating="50 lbf"), rests=put(*TRIPOD, chain_rating="500 lbf")
    ),
    "haul/tripod-line-led-off": Case(
        rig(number=1, lead_distance="8 ft"), rests=rig(number=1, lead_distance="2 ft")
    ),
    "haul/wall-not-solid": trench(
        both(stand(wall="hollow-or-veneer"), put(*CLAMP, judged_by=None)),
        unknown=stand(wall=None),
    ),
    "haul/grip-out-of-range": trench(
        stand(wall_thickness="25 in"), unknown=stand(wall_thickness=None)
    ),
    "haul/clamp-overloaded": trench(
        put(*CLAMP, face_rating="500 lbf"), unknown=put(*CLAMP, face_spacing=None)
    ),
    "haul/clamp-slips": trench(
        put(*CLAMP, seated=False, grip_force="500 lbf", face_friction=0.3),
        rests=put(*CLAMP, seated=False, grip_force="9000 lbf", face_friction=0.3),
        unknown=put(*CLAMP, seated=False),
    ),
    "haul/wall-strip-tips": trench(
        put(*CLAMP, judged_by=None),
        unknown=both(put(*CLAMP, judged_by=None), stand(wall_height=None)),
    ),
    "haul/bolts-overused": Case(
        both(support(FLOOR), put(*DAVIT, bolt_tension="300 lbf")),
        rests=support(FLOOR),
        unknown=both(support(FLOOR), put(*DAVIT, toe=None)),
    ),
    "haul/collar-does-not-fit": Case(
        both(support(COLLAR), put(*DAVIT, fits_least="25 in")),
        rests=both(support(COLLAR), rig(reach="6 in")),
        unknown=both(support(COLLAR), put(*DAVIT, fits_most=None)),
    ),
    "haul/collar-tips": Case(
        both(support(COLLAR), rig(reach="24 in"), put(*DAVIT, collar_mass="10 kg")),
        rests=both(support(COLLAR), rig(reach="6 in")),
        unknown=both(support(COLLAR), put(*DAVIT, ring_radius=None)),
    ),
    "haul/collar-neck-overloaded": Case(
        both(support(COLLAR), rig(reach="12 in"), put(*DAVIT, neck_rating="500 lbf")),
        rests=both(support(COLLAR), rig(reach="12 in")),
        unknown=both(support(COLLAR), rig(reach="12 in"), put(*DAVIT, neck_rating=None)),
    ),
    "haul/vehicle-not-held": trench(put(*TRUCK, chocked=False), unknown=put(*TRUCK, braked=None)),
    "haul/engine-running": trench(
        put(*TRUCK, engine_off=False), unknown=put(*TRUCK, engine_off=None)
    ),
    "haul/vehicle-slides": trench(
        stand(number=1, surface="ice"), unknown=stand(number=1, surface=None)
    ),
    "haul/vehicle-tips": trench(
        put(*TRUCK, vehicle_mass="300 kg"), unknown=put(*TRUCK, hitch_behind=None)
    ),
    "haul/hitch-overloaded": trench(
        put(*TRUCK, hitch_rating="200 lbf"), unknown=put(*TRUCK, hitch_rating=None)
    ),
    "haul/receiver-not-level": trench(
        stand(number=1, slope="11 deg"), unknown=put(*TRUCK, levels_to=None)
    ),
    "haul/post-too-high": deck(
        put(*POST, rated_height="3 in"), unknown=put(*POST, rated_height=None)
    ),
    "haul/post-too-many-people": deck(stand(people_on_post=4), unknown=stand(people_on_post=None)),
    "haul/post-slope": deck(stand(slope="16 deg"), unknown=stand(slope=None)),
    "haul/arm-out-of-limits": deck(rig(reach="31 in"), unknown=put(*ARM, reach_limit=None)),
    "haul/lifeline-too-flat": Case(
        both(support(LINE), put(*DAVIT, slack_length="12.01 m")),
        rests=support(LINE),
        unknown=both(support(LINE), put(*DAVIT, stiffness=None)),
    ),
    "haul/lifeline-ends-overloaded": Case(
        both(support(LINE), put(*DAVIT, end_rating="2 kN")),
        rests=support(LINE),
        unknown=both(support(LINE), put(*DAVIT, end_rating=None)),
    ),
    "haul/lifeline-users": Case(
        both(support(LINE), lambda data: data["space"][0]["task"].update(inside_at_once=2)),
        rests=support(LINE),
        unknown=both(support(LINE), put(*DAVIT, users=None)),
    ),
    "haul/sling-too-wide": trench(put(*EYE, sling_angle="121 deg")),
    "haul/sling-leg-overloaded": trench(
        put(*EYE, leg_rating="100 lbf"), unknown=put(*EYE, leg_rating=None)
    ),
    "haul/no-rope-system": Case(put(*ROPES, parts=[]), UNKNOWN),
    "haul/posture-not-stated": Case(rig("fallback", haul_posture=None), UNKNOWN),
    "haul/over-pull": Case(
        put(*ROPES, grab_slips_at="3 kN"), unknown=put(*ROPES, grab_slips_at=None)
    ),
    "haul/no-word-if-it-stops": Case(method("fallback", if_it_stops=None), UNKNOWN),
    "haul/too-much-power": Case(
        put(*ROPES, line_speed="1.5 m/s"), unknown=method("fallback", crew=[])
    ),
    "haul/pull-by-trade-rule": Case(
        rig("fallback", haul_posture="arms-outstretched"), unknown=put(*ROPES, parts=[])
    ),
    "haul/haul-rope-too-short": Case(
        both(RESET, put(*ROPES, haul_rope_length="60 ft")),
        rests=both(RESET, put(*ROPES, haul_rope_length="90 ft")),
        unknown=both(RESET, put(*ROPES, haul_rope_length="90 ft"), rig("fallback", walkway=None)),
    ),
    "haul/drag-too-heavy": Case(
        both(rig("fallback", drag=UPHILL), method("fallback", crew=[])),
        rests=rig("fallback", drag={**UPHILL, "slope": "0 deg"}),
        unknown=rig("fallback", drag={"length": "8 ft", "slope": "0 deg"}),
    ),
    "haul/carabiners-for-pulleys": Case(
        put(*ROPES, sheaves_are="carabiners"), unknown=put(*ROPES, sheaves_are=None)
    ),
    "haul/no-stroke": Case(
        both(put(*ROPES, reset_distance="1 ft"), rig("fallback", walkway="10 ft")),
        rests=both(put(*ROPES, reset_distance="12 ft"), rig("fallback", walkway="20 ft")),
        unknown=put(*ROPES, reset_distance="12 ft"),
    ),
    "haul/first-stroke-lost": Case(
        put(*ROPES, line_stiffness="2 kN"), unknown=put(*ROPES, line_stiffness=None)
    ),
    "haul/crank-too-heavy": Case(
        put(*WINCH, crank_radius="2 in"), unknown=put(*WINCH, crank_radius=None)
    ),
    "haul/drum-overfull": Case(
        put(*WINCH, flange_diameter="4.2 in"), unknown=put(*WINCH, flange_diameter=None)
    ),
    "haul/slack-line": Case(rig(slack="12 in"), unknown=rig(slack=None)),
    "haul/absorber-runs-out": Case(
        rig(slack="12 in", absorber={"force": "4 kN", "travel": "2 in"}),
        rests=rig(slack="12 in", absorber={"force": "4 kN", "travel": "4 in"}),
        unknown=rig(slack=None, absorber={"force": "4 kN", "travel": "4 in"}),
    ),
    "haul/sudden-stop": deck(
        put("device", "lowering-1", line_speed="4 m/s", line_stiffness="900 kN"),
        unknown=put("device", "lowering-1", line_elongation=None),
    ),
    "haul/raise-longer-than-limit": Case(put(*WINCH, line_speed="5 ft/min")),
    "haul/landing-not-planned": Case(rig("fallback", tag_line=None), UNKNOWN),
    "haul/casualty-may-be-stuck": Case(wedged, rests=freed),
}
# These stand in test_rules.py.
ELSEWHERE = {
    "haul/device-overloaded",
    "haul/backup-overloaded",
    "haul/support-overloaded",
    "haul/boom-beyond-base",
    "haul/support-not-confirmed",
    "haul/line-too-short",
    "haul/edges-not-stated",
    "haul/rated-layer-not-stated",
    "haul/too-few-haulers",
    "haul/casualty-mass-assumed",
}


def test_every_haul_rule_has_a_case() -> None:
    assert set(CASES) | ELSEWHERE == {one.id for one in RULES if one.area == "haul"}


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    case = CASES[rule]

    plan = plan_with(case.fires, sample=case.sample)

    assert worst(found(plan, rule)) is case.verdict


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    case = CASES[rule]

    plan = plan_with(case.rests or nothing, sample=case.sample)

    assert worst(found(plan, rule)) in (Verdict.MEETS, MARGINAL)


BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]


@pytest.mark.parametrize("rule", BLOCKING)
def test_a_blocking_rule_keeps_the_plan_from_being_ready(rule: str) -> None:
    case = CASES[rule]

    assert plan_with(case.fires, sample=case.sample).status == "NOT READY"


@pytest.mark.parametrize("rule", [rule for rule, case in CASES.items() if case.unknown])
def test_missing_data_is_unknown(rule: str) -> None:
    case = CASES[rule]
    assert case.unknown is not None

    findings = found(plan_with(case.unknown, sample=case.sample), rule)
    unknown = [one for one in findings if one.verdict is Verdict.UNKNOWN]

    assert unknown
    assert all(one.keys and one.settle_by for one in unknown)
