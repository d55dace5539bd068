"""Described rope systems: worked examples, and the tension method walked by hand as oracle.

The oracle knows no equations. It sends the haul force along the rope and hands on what arrives at
each device, until all of it has reached the load or an anchor. With a symbol for the efficiency it
gives the polynomial of the system.
"""

import math
from collections import defaultdict
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from planbuilder.haul import strands
from planbuilder.haul.friction import turn_efficiency
from planbuilder.haul.ropes import (
    Reeving,
    advantage,
    anchor_load_n,
    haul_force_n,
    ideal_advantage,
)
from planbuilder.haul.strands import haul_travel, pull_of
from planbuilder.haul.tackle import (
    Anchor,
    Grab,
    HaulEnd,
    HaulStrand,
    Load,
    Place,
    Rope,
    Sheave,
    Tackle,
    complex_five,
    compound,
    redirected,
    simple,
    tackle_of,
)

SYSTEMS = {
    "2:1": (Reeving.SIMPLE, (2,)),
    "3:1": (Reeving.SIMPLE, (3,)),
    "4:1 simple": (Reeving.SIMPLE, (4,)),
    "5:1 simple": (Reeving.SIMPLE, (5,)),
    "6:1 simple": (Reeving.SIMPLE, (6,)),
    "4:1 compound": (Reeving.COMPOUND, (2, 2)),
    "6:1 compound": (Reeving.COMPOUND, (2, 3)),
    "9:1 compound": (Reeving.COMPOUND, (3, 3)),
    "5:1 complex": (Reeving.COMPLEX_5, (5,)),
}
PRINTED = {
    0.95: (1.950, 2.853, 3.710, 4.524, 5.298, 3.803, 5.562, 8.137, 4.562),
    0.90: (1.900, 2.710, 3.439, 4.095, 4.686, 3.610, 5.149, 7.344, 4.149),
    0.85: (1.850, 2.573, 3.187, 3.709, 4.152, 3.423, 4.759, 6.618, 3.759),
    0.80: (1.800, 2.440, 2.952, 3.362, 3.689, 3.240, 4.392, 5.954, 3.392),
    0.60: (1.600, 1.960, 2.176, 2.306, 2.383, 2.560, 3.136, 3.842, 2.136),
    0.50: (1.500, 1.750, 1.875, 1.938, 1.969, 2.250, 2.625, 3.063, 1.625),
}
TABLE = [
    pytest.param(name, efficiency, printed, id=f"{name} at {efficiency}")
    for efficiency, row in PRINTED.items()
    for name, printed in zip(SYSTEMS, row, strict=True)
]

efficiency = st.floats(0.3, 1)
efficiencies = st.lists(efficiency, max_size=7)
haul_strands = st.sampled_from(HaulStrand)


def walked(tackle, passed_on):
    """What arrives at load and anchors, in each strand and on each sheave, from a haul of 1."""
    ropes = {rope.name: rope for rope in tackle.ropes}
    sheaves = {sheave.name: sheave for sheave in tackle.sheaves}
    arrived: dict[Place, Any] = defaultdict(int)
    in_strand: dict[tuple[str, int], Any] = defaultdict(int)
    on_sheave: dict[str, Any] = defaultdict(int)

    def deliver(place, force):
        arrived[place] += force
        match place:
            case HaulEnd(name):
                follow(ropes[name], 0, force)
            case Grab():
                rope = next(one for one in tackle.ropes if place in one.path)
                follow(rope, rope.path.index(place) + 1, force)

    def follow(rope, strand, force):
        in_strand[rope.name, strand] += force
        if strand == len(rope.path):
            deliver(rope.made_off_on, force)
            return
        item = rope.path[strand]
        if isinstance(item, Grab):
            follow(rope, strand + 1, force)
            return
        beyond = force * passed_on[item]
        on_sheave[item] += force + beyond
        deliver(sheaves[item].hangs_on, force + beyond)
        follow(rope, strand + 1, beyond)

    follow(tackle.ropes[0], 0, 1)
    return arrived, in_strand, on_sheave


@st.composite
def tackles(draw):
    """Ropes 1, 2, ... that pull on one another, sheaves and grabs anywhere they can be."""
    ropes: list[Rope] = []
    sheaves: list[Sheave] = []
    places: list[Place] = [Load()]
    for number in range(draw(st.integers(1, 3))):
        path: list[str | Grab] = []
        own: list[Grab] = []
        for item in range(draw(st.integers(0, 4))):
            if draw(st.booleans()):
                # Filled from the far end, so that a sheave may hang on a grab beyond it.
                hangs_on = draw(st.sampled_from([Anchor("top"), *places, *own]))
                name = f"{number}.{item}"
                sheaves.append(
                    Sheave(
                        name=name,
                        hangs_on=hangs_on,
                        half_turn_efficiency=draw(efficiency),
                        turn_rad=math.pi,
                    )
                )
                path.insert(0, name)
            else:
                grab = Grab(f"{number}.{item}")
                own.append(grab)
                path.insert(0, grab)
        ropes.insert(0, Rope(name=f"{number}", path=tuple(path), made_off_on=places[-1]))
        places = [Load(), *own, HaulEnd(f"{number}")]
    used = {sheave.hangs_on for sheave in sheaves} | {rope.made_off_on for rope in ropes}
    pulled = [
        replace(rope, path=tuple(one for one in rope.path if isinstance(one, str) or one in used))
        for rope in ropes
    ]
    return Tackle(ropes=tuple(pulled), sheaves=tuple(sheaves))


@pytest.mark.parametrize(("name", "efficiency", "printed"), TABLE)
def test_advantage_is_the_one_of_the_table_and_of_the_closed_form(name, efficiency, printed):
    reeving, parts = SYSTEMS[name]

    pull = pull_of(tackle_of(reeving=reeving, parts=parts, efficiency=efficiency, redirects=0))

    # Three entries lie exactly half-way (2.5725, 3.0625, 3.8025); the table rounds them up.
    assert pull.advantage == pytest.approx(printed, abs=0.0005 + 1e-9)
    assert pull.advantage == pytest.approx(
        advantage(reeving=reeving, parts=parts, efficiency=efficiency, redirects=0), rel=1e-12
    )


@pytest.mark.parametrize("redirects", [0, 1, 3])
@pytest.mark.parametrize("name", SYSTEMS)
def test_described_system_agrees_with_the_closed_form_of_its_reeving(name, redirects):
    reeving, parts = SYSTEMS[name]
    tackle = tackle_of(reeving=reeving, parts=parts, efficiency=0.87, redirects=redirects)

    pull = pull_of(tackle)

    assert pull.advantage == pytest.approx(
        advantage(reeving=reeving, parts=parts, efficiency=0.87, redirects=redirects), rel=1e-12
    )
    assert pull.ideal_advantage == pytest.approx(ideal_advantage(reeving=reeving, parts=parts))


@pytest.mark.parametrize(
    ("name", "closed_form"),
    [
        ("3:1", "1 + eta + eta**2"),
        ("4:1 compound", "(1 + eta)**2"),
        ("6:1 compound", "(1 + eta)*(1 + eta + eta**2)"),
        ("9:1 compound", "(1 + eta + eta**2)**2"),
        ("5:1 complex", "2*eta + 2*eta**2 + eta**3"),
    ],
)
def test_walked_with_a_symbol_the_system_gives_its_polynomial(name, closed_form):
    reeving, parts = SYSTEMS[name]
    tackle = tackle_of(reeving=reeving, parts=parts, efficiency=0.77, redirects=0)
    eta = sympy.Symbol("eta")

    arrived, _, _ = walked(tackle, {sheave.name: eta for sheave in tackle.sheaves})

    assert sympy.expand(arrived[Load()] - sympy.sympify(closed_form)) == 0
    at_077 = float(sympy.sympify(closed_form).subs(eta, 0.77))
    assert pull_of(tackle).advantage == pytest.approx(at_077, rel=1e-12)


@given(tackle=tackles())
@settings(max_examples=300)
def test_tensions_and_forces_are_those_walked_by_hand(tackle):
    arrived, in_strand, on_sheave = walked(
        tackle, {sheave.name: sheave.half_turn_efficiency for sheave in tackle.sheaves}
    )

    pull = pull_of(tackle)

    assert pull.advantage == pytest.approx(arrived[Load()], rel=1e-9)
    assert pull.anchor_forces.get("top", 0) == pytest.approx(arrived[Anchor("top")], rel=1e-9)
    assert pull.sheave_forces == pytest.approx(dict(on_sheave), rel=1e-9)
    for rope, tensions in pull.strand_tensions.items():
        by_hand = [in_strand[rope, strand] for strand in range(len(tensions))]
        assert tensions == pytest.approx(by_hand, rel=1e-9)


@given(tackle=tackles())
def test_without_friction_haul_travel_times_force_is_load_times_rise(tackle):
    """Travel is counted on the ropes, the load walked by hand."""
    arrived, _, _ = walked(tackle, {sheave.name: 1 for sheave in tackle.sheaves})

    pull = pull_of(tackle)

    assert pull.haul_travel == arrived[Load()]
    assert pull.ideal_advantage == pytest.approx(arrived[Load()], rel=1e-12)


@given(tackle=tackles(), lost=st.floats(0.01, 0.2), which=st.integers(0, 20))
def test_a_worse_sheave_never_raises_more_and_never_helps_the_efficiency(tackle, lost, which):
    sheaves = list(tackle.sheaves)
    if sheaves:
        one = sheaves[which % len(sheaves)]
        worse_one = replace(one, half_turn_efficiency=one.half_turn_efficiency - lost)
        sheaves[which % len(sheaves)] = worse_one
    worse = replace(tackle, sheaves=tuple(sheaves))

    assert pull_of(worse).advantage <= pull_of(tackle).advantage * (1 + 1e-9)
    assert pull_of(worse).efficiency <= pull_of(tackle).efficiency * (1 + 1e-9)
    assert pull_of(tackle).efficiency <= 1 + 1e-9


@given(
    losses=st.lists(st.floats(0.3, 0.95), min_size=1, max_size=6),
    gain=st.floats(0.001, 0.05),
    which=st.integers(0, 5),
    haul_strand=haul_strands,
)
def test_advantage_rises_strictly_with_the_efficiency_of_every_sheave(
    losses, gain, which, haul_strand
):
    better = list(losses)
    better[which % len(better)] += gain

    less = pull_of(simple(losses, haul_strand=haul_strand)).advantage
    more = pull_of(simple(better, haul_strand=haul_strand)).advantage

    assert more > less


@given(losses=efficiencies, haul_strand=haul_strands)
def test_anchor_carries_load_and_haul_as_the_free_body_of_the_system_says(losses, haul_strand):
    """Off the fixed block the haulers pull toward the load, off the moving one away from it."""
    pull = pull_of(simple(losses, haul_strand=haul_strand))
    off_fixed = haul_strand is HaulStrand.OFF_FIXED and losses
    toward = anchor_load_n(system_load_n=pull.advantage, haul_force_n=1.0)

    on_anchors = sum(pull.anchor_forces.values())

    assert on_anchors == pytest.approx(toward if off_fixed else toward - 2, abs=1e-9)


@given(losses=st.tuples(efficiency, efficiency, efficiency))
def test_complex_system_hauled_toward_the_load_puts_load_and_haul_on_its_anchor(losses):
    pull = pull_of(complex_five(losses))

    assert pull.anchor_forces["anchor 1"] == pytest.approx(pull.advantage + 1, rel=1e-12)


@pytest.mark.parametrize("sheaves", range(7))
def test_parts_at_the_load_are_one_more_than_the_sheaves_unless_hauled_off_the_fixed_block(sheaves):
    off_moving = simple([0.9] * sheaves, haul_strand=HaulStrand.OFF_MOVING)
    off_fixed = simple([0.9] * sheaves, haul_strand=HaulStrand.OFF_FIXED)

    assert haul_travel(off_moving) == sheaves + 1
    assert haul_travel(off_fixed) == max(1, sheaves)


def test_block_of_four_parts_pulled_off_the_fixed_block_needs_448_3_n():
    """Worked example: 141.5 kg, four sheaves at 0.90."""
    pull = pull_of(simple([0.9] * 4, haul_strand=HaulStrand.OFF_FIXED))

    assert round(haul_force_n(system_load_n=141.5 * 9.80665, advantage=pull.advantage), 1) == 448.3


def test_five_to_one_with_a_redirect_loads_its_anchors_with_3117_n():
    """Worked example: 237.5 kg over a roller of 0.95, sheaves 0.90, hauled toward the load."""
    load_n = 237.5 * 9.80665 / 0.95
    tackle = tackle_of(reeving=Reeving.SIMPLE, parts=(5,), efficiency=0.9, redirects=1)
    pull = pull_of(tackle)
    force_n = haul_force_n(system_load_n=load_n, advantage=pull.advantage)

    both_n = anchor_load_n(system_load_n=load_n, haul_force_n=force_n)

    assert round(force_n, 1) == 665.2
    assert round(both_n) == 3117
    assert round(sum(pull.anchor_forces.values()) * force_n) == 3117


def test_best_pulley_belongs_nearest_to_the_haulers():
    """By hand, 3:1: 1 + first + first times second."""
    good_first = pull_of(simple([0.95, 0.55], haul_strand=HaulStrand.OFF_MOVING))
    poor_first = pull_of(simple([0.55, 0.95], haul_strand=HaulStrand.OFF_MOVING))

    assert good_first.advantage == pytest.approx(1 + 0.95 + 0.95 * 0.55)
    assert poor_first.advantage == pytest.approx(1 + 0.55 + 0.55 * 0.95)


def test_haul_strand_of_the_complex_system_measured_on_the_rope_moves_five_times_the_rise():
    """Positions along the line, anchor pulley at 0, load below it: rope lengths stay the same.

    Beyond the grab the rope runs over the anchor pulley to the load; before it from the hand over
    the extra pulley, which sits at the grab, and round the moving pulley back to the grab.
    """
    load_at, grab_at, hand_at = 10.0, 5.0, 12.0
    rise = 0.3

    def lengths(load, grab, hand):
        beyond = grab + load
        before = (hand - grab) + (load - grab) + (load - grab)
        return np.array([beyond, before])

    whole = lengths(load_at, grab_at, hand_at)
    _, hand = fsolve(lambda moved: lengths(load_at - rise, *moved) - whole, [grab_at, hand_at])

    assert haul_travel(complex_five((0.9, 0.9, 0.9))) == pytest.approx((hand - hand_at) / rise)


def test_redirect_by_a_right_angle_costs_half_the_loss_and_loads_its_anchor_askew():
    """By hand: 0.9 to the half; strands at right angles add as the sides of a triangle."""
    tackle = redirected(
        simple([0.9, 0.9], haul_strand=HaulStrand.OFF_MOVING),
        anchor="post",
        half_turn_efficiency=0.9,
        turn_rad=math.pi / 2,
    )

    pull = pull_of(tackle)

    assert pull.advantage == pytest.approx(2.71 * math.sqrt(0.9))
    assert pull.haul_travel == 3
    assert pull.anchor_forces["post"] == pytest.approx(math.hypot(1, math.sqrt(0.9)))
    assert pull.strand_tensions["rope 1"][1] == pytest.approx(math.sqrt(0.9))


def test_turn_of_a_sheave_shares_its_loss_out_evenly():
    """Three turns of a third lose what one half turn loses; no turn loses nothing."""
    third = turn_efficiency(half_turn_efficiency=0.8, turn_rad=math.pi / 3)

    assert third**3 == pytest.approx(0.8)
    assert turn_efficiency(half_turn_efficiency=0.8, turn_rad=0) == 1


@pytest.mark.parametrize(
    ("half_turn_efficiency", "turn_rad"), [(0, 1), (1.01, 1), (0.9, -0.1), (0.9, 3.2)]
)
def test_sheave_that_gains_or_turns_past_half_a_turn_is_refused(half_turn_efficiency, turn_rad):
    with pytest.raises(ValueError, match="above 0 and at most 1, a turn from 0 to pi rad, got"):
        turn_efficiency(half_turn_efficiency=half_turn_efficiency, turn_rad=turn_rad)


def test_third_stage_pulls_on_the_second():
    tackle = compound([[0.9], [0.8, 0.8], [0.7]])

    pull = pull_of(tackle)

    assert pull.advantage == pytest.approx(1.9 * (1 + 0.8 + 0.64) * 1.7)
    assert pull.haul_travel == 12
    assert pull.strand_tensions["rope 3"] == pytest.approx((1, 0.7))


def test_compound_without_stages_is_refused():
    with pytest.raises(ValueError, match="at least one stage, got none"):
        compound([])


def test_parts_that_do_not_fit_the_reeving_are_refused():
    with pytest.raises(ValueError, match="complex-5 reeving takes the one number 5, got"):
        tackle_of(reeving=Reeving.COMPLEX_5, parts=(3,), efficiency=0.9, redirects=0)


def block(name, hangs_on, turn_rad=math.pi):
    return Sheave(name=name, hangs_on=hangs_on, half_turn_efficiency=0.9, turn_rad=turn_rad)


HAULED = Rope(name="main", path=("A",), made_off_on=Load())
TOP = block("A", Anchor("top"))


@pytest.mark.parametrize(
    ("ropes", "sheaves", "said"),
    [
        pytest.param((HAULED,), (), "sheave 'A' is not described", id="sheave left out"),
        pytest.param(
            (HAULED,), (TOP, block("B", Load())), "sheave 'B' is met by no rope", id="idle sheave"
        ),
        pytest.param(
            (replace(HAULED, path=("A", "A")),), (TOP,), "sheave 'A' is met 2 times", id="met twice"
        ),
        pytest.param(
            (HAULED,), (TOP, TOP), "sheave 'A' is described 2 times", id="two of one name"
        ),
        pytest.param(
            (HAULED, replace(HAULED, path=())),
            (TOP,),
            "rope 'main' is described 2 times",
            id="two ropes of one name",
        ),
        pytest.param(
            (HAULED,),
            (block("A", Grab("g")),),
            "sheave 'A' hangs on grab 'g', which is not there to be pulled",
            id="grab on no rope",
        ),
        pytest.param(
            (replace(HAULED, made_off_on=HaulEnd("main")),),
            (block("A", Load()),),
            "the end of rope 'main' hangs on the haul end of rope 'main', which is not there",
            id="hauled by people and by itself",
        ),
        pytest.param(
            (replace(HAULED, path=("A", Grab("g"))),),
            (TOP,),
            "nothing pulls on grab 'g'",
            id="grab that nothing hangs on",
        ),
        pytest.param(
            (HAULED, Rope(name="other", path=(), made_off_on=Load())),
            (TOP,),
            "nothing pulls on the haul end of rope 'other'",
            id="rope that nobody pulls",
        ),
        pytest.param(
            (replace(HAULED, made_off_on=Anchor("top")),),
            (TOP,),
            "nothing pulls on the load",
            id="load left out",
        ),
        pytest.param((), (), "nothing pulls on the load", id="nothing described"),
        pytest.param(
            (HAULED,),
            (block("A", Load(), turn_rad=1.5),),
            "sheave 'A' moves, so it must turn the rope by pi rad",
            id="moving sheave askew",
        ),
        pytest.param(
            (replace(HAULED, path=(Grab("g"), "A")),),
            (block("A", Grab("g")),),
            "grab 'g' hangs on itself",
            id="pulls itself up",
        ),
        pytest.param(
            (
                replace(HAULED, made_off_on=HaulEnd("other")),
                Rope(name="other", path=("B",), made_off_on=Anchor("top")),
            ),
            (block("A", Load()), block("B", Anchor("top"))),
            "rope 'other' does not move when the load rises",
            id="tied to the anchor both ways",
        ),
    ],
)
def test_description_that_is_no_rope_system_is_refused_by_the_name_of_the_fault(
    ropes, sheaves, said
):
    with pytest.raises(ValueError, match=said):
        pull_of(Tackle(ropes=ropes, sheaves=sheaves))


def test_all_faults_are_named_at_once():
    with pytest.raises(ValueError, match=r"no rope system: .*'B' is not described; .*the load"):
        pull_of(
            Tackle(ropes=(Rope(name="main", path=("B",), made_off_on=Anchor("top")),), sheaves=())
        )


def test_work_lost_without_friction_is_refused(monkeypatch):
    """Travel counted on the ropes and force must agree; here the count is made wrong on purpose."""
    monkeypatch.setattr(strands, "haul_travel", lambda _: 2.0)

    with pytest.raises(ValueError, match=r"2\.0 of haul travel lift 3\.0"):
        pull_of(simple([0.9, 0.9], haul_strand=HaulStrand.OFF_MOVING))
