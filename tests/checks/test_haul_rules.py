"""Rules of haul capacity: each fires, rests and says unknown, on the support it is for."""

import math
import tomllib
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Any

import pytest
from broken_sites import Break, entry, found, plan_with, way, worst

from planbuilder.checks import RULES
from planbuilder.findings import Compared, Missing, Verdict, Weight
from planbuilder.plan import Plan

FAILS, UNKNOWN, MARGINAL = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MARGINAL


def put(table: str, entry_id: str, **values: Any) -> Break:
    """Sets keys of an entry; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        _put(entry(data, table, entry_id), values)

    return change


def rig(name: str = "primary", number: int = 0, **values: Any) -> Break:
    """Sets keys of a rig; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data, name, number)["rig"], values)

    return change


def _put(target: dict[str, Any], values: dict[str, Any]) -> None:
    for key, value in values.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value


def both(*breaks: Break) -> Break:
    """One change after the other."""

    def change(data: dict[str, Any]) -> None:
        for one in breaks:
            one(data)

    return change


def stand(number: int = 0, **values: Any) -> Break:
    """Sets what the support of a primary rig stands on."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data, number=number)["rig"].setdefault("stand", {}), values)

    return change


def link(**values: Any) -> Break:
    """Sets keys of the wet well's first link."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data)["rig"]["link"][0], values)

    return change


def support(text: str) -> Break:
    """Puts another support in the place of the wet well's davit."""

    def change(data: dict[str, Any]) -> None:
        old = entry(data, "support", "davit-2")
        kept = {key: old[key] for key in _KEPT if key in old}
        old.clear()
        old.update({**kept, "id": "davit-2", **tomllib.loads(text)})

    return change


_KEPT = (
    "name",
    "rated_load",
    "two_line_load",
    "arrest_load",
    "separate_pins",
    "for_people",
    "rated_reach",
    "lines",
    "inspected",
    "inspection_interval",
)
COLLAR = """
kind = "opening-collar"
fits_least = "18 in"
fits_most = "30 in"
ring_radius = "13 in"
collar_mass = "120 kg"
neck_depth = "10 in"
neck_rating = "4000 lbf"
judged_by = "A. Brandt"
"""
FLOOR = """
kind = "floor-sleeve"
bolts = [["-10 in", "-10 in"], ["-10 in", "10 in"], ["10 in", "-10 in"], ["10 in", "10 in"]]
toe = "12 in"
bolt_tension = "8000 lbf"
bolt_shear = "4000 lbf"
judged_by = "A. Brandt"
"""
WALL = """
kind = "wall-sleeve"
bracket_spacing = "20 in"
bolts_per_bracket = 2
bolt_tension = "6000 lbf"
bolt_shear = "4000 lbf"
judged_by = "A. Brandt"
"""
WALL_OWN = """
sleeve_mass = "20 kg"
sleeve_offset = "4 in"
"""
LINE = """
kind = "horizontal-lifeline"
span = "12 m"
slack_length = "12.6 m"
stiffness = "1 MN"
end_rating = "30 kN"
users = 1
judged_by = "A. Brandt"
"""
LINE = LINE.replace("1 MN", "1000 kN")


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown."""

    fires: Break
    verdict: Verdict = FAILS
    rests: Break | None = None
    unknown: Break | None = None
    sample: str = "pump_station"


def nothing(data: dict[str, Any]) -> None:
    """Leaves the sample as it is."""


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
            _put(entry(data, table, entry_id), people)

    return change


def lifts_with_retractor(*, backup_only: bool) -> Break:
    """The wet well's lift hangs on the self-retracting line."""
    return both(
        rig(device="retractor-3", backup="winch-4"),
        put("device", "retractor-3", retrieval_is_backup_only=backup_only),
    )


DAVIT, WINCH, ROPES = ("support", "davit-2"), ("device", "winch-4"), ("device", "rope-set")
TRIPOD, CLAMP, TRUCK = ("support", "tripod-1"), ("support", "clamp-3"), ("support", "receiver-1")
POST, ARM = ("support", "post-1"), ("support", "arm-1")
EYE = ("support", "excavator-eye")
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
    "haul/slack-line": Case(
        rig(slack="12 in"),
        rests=rig(slack="1 in"),
        unknown=both(rig(slack="1 in"), put(*WINCH, line_is=None)),
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


@pytest.mark.parametrize("sample", ["pump_station", "shored_trench", "transformer_deck"])
def test_the_samples_that_are_complete_are_ready(sample: str) -> None:
    assert plan_with(sample=sample).status == "READY FOR REVIEW"


def test_a_permanent_base_sets_no_limit_on_reach() -> None:
    long = rig(reach="70 in")

    portable = plan_with(long)
    bolted = plan_with(both(support(FLOOR.replace("8000", "80000")), long))

    assert worst(found(portable, "haul/boom-beyond-base")) is FAILS
    assert found(bolted, "haul/boom-beyond-base") == []
    assert found(bolted, "haul/base-tips") == []


def bolted_use(bolts: str) -> list[float]:
    """Use of the hardest bolt of a floor sleeve with that pattern, for each load case."""
    text = FLOOR.replace('"12 in"', '"30 in"')  # a toe so far out that the centroid model governs
    pattern = next(one for one in text.splitlines() if one.startswith("bolts = "))
    plan = plan_with(support(text.replace(pattern, f"bolts = {bolts}")))
    outcomes = [one.outcome for one in found(plan, "haul/bolts-overused")]
    return [one.result.value for one in outcomes if isinstance(one, Compared)]


def test_an_arm_that_turns_to_the_corner_pulls_the_corner_bolt_hardest() -> None:
    """The same square of bolts on its edge or on its point is held equally well."""
    flat = '[["-10 in", "-10 in"], ["-10 in", "10 in"], ["10 in", "-10 in"], ["10 in", "10 in"]]'
    far = 10 * 2**0.5
    point = '[["-F in", "0 in"], ["F in", "0 in"], ["0 in", "-F in"], ["0 in", "F in"]]'

    assert bolted_use(flat)
    assert bolted_use(flat) == pytest.approx(bolted_use(point.replace("F", str(far))))


def test_bolts_in_one_line_hold_no_arm_that_turns() -> None:
    assert bolted_use('[["-10 in", "0 in"], ["0 in", "0 in"], ["10 in", "0 in"]]') == []


def test_what_to_do_about_a_tipping_base_names_reach_and_ballast() -> None:
    (tips,) = found(plan_with(rig(reach="70 in")), "haul/base-tips")

    assert "Shorten the reach to" in tips.settle_by
    assert "kg of ballast" in tips.settle_by


def test_shortening_the_reach_as_told_clears_the_base() -> None:
    (tips,) = found(plan_with(rig(reach="70 in")), "haul/base-tips")
    told = tips.settle_by.split("reach to ")[1].split(" m")[0]

    after = plan_with(rig(reach=f"{float(told) - 0.005:.3f} m"))

    assert worst(found(after, "haul/boom-beyond-base")) in (Verdict.MEETS, MARGINAL)
    assert worst(found(after, "haul/base-tips")) is Verdict.MEETS


def test_edge_friction_never_lightens_an_anchor_or_a_backup() -> None:
    rough = rig(edges=[{"material": "concrete", "turn": "90 deg"}])

    for rule in ("haul/support-overloaded", "haul/backup-overloaded", "haul/head-cannot-arrest"):
        before, after = (found(plan_with(one), rule)[0].outcome for one in (nothing, rough))
        assert isinstance(before, Compared)
        assert isinstance(after, Compared)
        assert after.result.value >= before.result.value


def test_a_second_person_on_the_head_is_load_case_three() -> None:
    two = plan_with(lambda data: data["space"][0]["task"].update(inside_at_once=2))
    (head,) = (one for one in found(two, "haul/two-lines-on-one-head") if one.space == "wet-well")

    assert isinstance(head.outcome, Compared)
    assert "LC3" in head.outcome.result.label
    assert head.outcome.formula == "W + W_2"


def test_the_winch_of_a_tripod_leg_pushes_that_leg_too() -> None:
    on_leg = plan_with(rig(number=1, winch_on_leg=True))
    off_leg = plan_with(rig(number=1, winch_on_leg=False, lead_distance=None))

    pushes = [
        max(
            one.outcome.result.value
            for one in found(plan, "haul/tripod-leg-overloaded")
            if isinstance(one.outcome, Compared) and one.about.endswith("LC1")
        )
        for plan in (on_leg, off_leg)
    ]

    assert pushes[0] > pushes[1] * 2


def test_a_winch_that_hangs_on_no_leg_stands_somewhere() -> None:
    plan = plan_with(rig(number=1, winch_on_leg=False))

    assert worst(found(plan, "haul/tripod-line-led-off")) is UNKNOWN
    assert plan.status == "NOT READY"


def lift_on(plan: Plan, rule: str) -> float:
    """The force of the lift that a rule of the wet well's primary rig counted with."""
    outcomes = [one.outcome for one in found(plan, rule) if one.about.startswith("primary")]
    inputs = [each for one in outcomes if isinstance(one, Compared) for each in one.inputs]
    return next(one.value for one in inputs if one.label == "force on the head, lift")


@pytest.mark.parametrize("base", [COLLAR, FLOOR, WALL], ids=["collar", "floor", "wall"])
def test_hauling_by_hand_pulls_the_support_with_both_strands(base: str) -> None:
    """A 3:1 without losses: the haulers add a third of the load, downward."""
    rule = {COLLAR: "haul/collar-tips"}.get(base, "haul/bolts-overused")
    ideal = put(*ROPES, parts=[3], pulley_efficiency=1.0)
    dressed = base + (WALL_OWN if base is WALL else "")

    by_hand = plan_with(support(dressed), ideal, rig(device="rope-set"))
    by_winch = plan_with(support(dressed))

    jerk = 1.25 / 1.1  # the two dynamic factors
    expected = lift_on(by_winch, rule) * jerk * 4 / 3
    assert lift_on(by_hand, rule) == pytest.approx(expected)


def test_a_line_led_off_pulls_the_head_with_both_strands() -> None:
    led = plan_with(rig(number=0, lead_distance="3 ft"))

    mine, once = (
        next(one for one in found(plan, "haul/support-overloaded") if one.space == "wet-well")
        for plan in (led, plan_with())
    )

    assert isinstance(mine.outcome, Compared)
    assert isinstance(once.outcome, Compared)
    assert mine.outcome.result.value == pytest.approx(once.outcome.result.value * (1 + 1 / 0.9))


@pytest.mark.parametrize("name", ["for_people", "inspected", "judged_by"])
def test_an_arm_is_no_better_than_the_post_it_stands_on(name: str) -> None:
    unsaid: dict[str, Any] = {name: None}

    assert plan_with(put(*POST, **unsaid), sample="transformer_deck").status == "NOT READY"


@pytest.mark.parametrize(
    ("change", "rule", "said"),
    [
        (
            put(*TRIPOD, leg_length="3 ft"),
            "haul/tripod-leg-overloaded",
            "legs of 0.9144 m are too short for a foot circle of 1.0668 m",
        ),
        (
            both(put(*TRIPOD, leg_length="3 ft"), rig(number=1, lead_distance="1 ft")),
            "haul/tripod-line-led-off",
            "legs must be longer than the radius",
        ),
    ],
)
def test_what_cannot_be_built_is_unknown_and_says_why(change: Break, rule: str, said: str) -> None:
    """The calculation refuses it; the plan goes on."""
    plan = plan_with(change)

    reasons = [one.outcome for one in found(plan, rule)]

    assert any(isinstance(one, Missing) and said in one.because for one in reasons)
    assert plan.status == "NOT READY"


def test_a_higher_centre_of_mass_tips_sooner_on_a_slope() -> None:
    """By hand: 3200 kg, 1.7 m ahead, 0.8 m high; 4 ft and 30 in behind, 2 ft high; 5 degrees."""
    plan = plan_with(put(*TRUCK, centre_height="0.8 m"), sample="shored_trench")

    tips = [one for one in found(plan, "haul/vehicle-tips") if one.about.endswith("LC1")]
    (outcome,) = [one.outcome for one in tips]
    assert isinstance(outcome, Compared)
    force = next(one for one in outcome.inputs if one.symbol == "F").value
    slope = math.radians(5)
    holds = 3200 * 9.80665 * (1.7 * math.cos(slope) - 0.8 * math.sin(slope))
    arm = (4 * 0.3048 + 30 * 0.0254) * math.cos(slope) + 2 * 0.3048 * math.sin(slope)
    assert outcome.result.value == pytest.approx(holds / arm / force)


def test_a_sample_read_after_its_last_valid_day_is_not_ready() -> None:
    assert plan_with(sample="shored_trench", on=date(2027, 4, 1)).status == "NOT READY"


Z_RIG: dict[str, Any] = {
    "reeving": "described",
    "parts": [],
    "sheave": [
        {"name": "moving", "on": "load", "efficiency": 0.9},
        {"name": "fixed", "on": "anchor top", "efficiency": 0.9},
    ],
    "rope": [{"name": "main", "path": ["moving", "fixed"], "ends_on": "load"}],
}


def advantage_in(plan: Plan) -> float:
    """The advantage of the fallback's rope system that the plan counted with."""
    (people,) = found(plan, "haul/too-few-haulers")
    assert isinstance(people.outcome, Compared)
    return next(one.value for one in people.outcome.inputs if one.symbol == "PMA")


def test_a_described_three_to_one_counts_as_the_usual_one() -> None:
    described = plan_with(put(*ROPES, **Z_RIG))
    usual = plan_with(put(*ROPES, parts=[3], pulley_efficiency=0.9))

    assert advantage_in(described) == pytest.approx(advantage_in(usual)) == pytest.approx(2.71)


def test_a_poor_sheave_costs_more_nearer_to_the_haulers() -> None:
    near, far = (
        [{**one, "efficiency": 0.55 if one["name"] == poor else 0.95} for one in Z_RIG["sheave"]]
        for poor in ("moving", "fixed")
    )

    plans = [plan_with(put(*ROPES, **{**Z_RIG, "sheave": sheaves})) for sheaves in (near, far)]

    assert advantage_in(plans[0]) < advantage_in(plans[1])


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rope": [{"name": "main", "path": ["moving", "gone"], "ends_on": "load"}]}, "gone"),
        ({"rope": [{"name": "main", "path": ["moving"], "ends_on": "load"}]}, "fixed"),
        ({"rope": []}, "at least one rope"),
        (
            {"rope": [{"name": "main", "path": ["moving", "fixed"], "ends_on": "sky"}]},
            "must be load",
        ),
    ],
)
def test_a_description_that_does_not_hang_together_says_what_is_loose(
    change: dict[str, Any], said: str
) -> None:
    plan = plan_with(put(*ROPES, **{**Z_RIG, **change}))

    (system,) = found(plan, "haul/no-rope-system")

    assert system.verdict is UNKNOWN
    assert isinstance(system.outcome, Missing)
    assert said in system.outcome.because
    assert plan.status == "NOT READY"


def test_a_system_that_is_reset_takes_longer() -> None:
    reset = both(put(*ROPES, reset_distance="8 ft"), rig("fallback", walkway="30 ft"))

    times = [
        next(
            step.usual.value
            for step in plan.spaces[0].timelines[1].steps
            if step.step.computed == "haul"
        )
        for plan in (plan_with(), plan_with(reset))
    ]

    assert times[1] > times[0] + 30


@pytest.mark.parametrize(
    ("survey", "mass_kg"),
    [
        ({"group": "nhanes-men", "percentile": 95.0}, 123.0),
        ({"group": "nhanes-men", "percentile": 99.0}, 153.6),
        ({"group": "nhanes-men", "percentile": 92.5}, (113.7 + 123.0) / 2),
        ({"group": "nhanes-women", "percentile": 50.0}, 84.0),  # lighter than the heaviest entrant
    ],
)
def test_the_casualty_is_the_heaviest_of_roster_and_survey(
    survey: dict[str, Any], mass_kg: float
) -> None:
    plan = plan_with(lambda data: data["space"][0]["rescue"].update(casualty_survey=survey))
    outcome = next(
        one.outcome
        for one in found(plan, "haul/device-overloaded")
        if one.space == "wet-well" and one.about == "primary"
    )

    assert isinstance(outcome, Compared)
    assert next(q.value for q in outcome.inputs if q.symbol == "m_body") == pytest.approx(mass_kg)
