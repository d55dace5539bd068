"""Dimensions of supports and anchors: lengths times k and forces times q.

Most of these functions put a length or a force into `math`, where pint cannot follow. So each is
called with all lengths scaled and all forces (and masses, at one gravity) scaled; the result must
grow as its dimension says: (power of length, power of force).
"""

import pytest

from planbuilder.haul import (
    anchors,
    collar,
    head_pull,
    legs,
    lifeline,
    mast,
    post,
    sleeves,
    stability,
    tripod,
    tube,
    vehicle,
)
from planbuilder.haul.davit import Davit, Tilt, Weight
from planbuilder.haul.swing import sweep

FEET = [(0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.70, -0.50)]
TRIPOD_FEET = [(1.0, 0.1), (-0.6, 0.8), (-0.5, -0.9)]


def flat(points, k):
    return [(x * k, y * k) for x, y in points]


def fixed_legs(k, q):
    return [
        anchors.FixedLeg(stiffness_n_per_m=1e5 * q / k, direction=(0.5, 3**0.5 / 2)),
        anchors.FixedLeg(stiffness_n_per_m=2e5 * q / k, direction=(-0.5, 3**0.5 / 2)),
    ]


def fixed(k, q):
    return anchors.fixed_anchor(legs=fixed_legs(k, q), load_n=(100 * q, 2000 * q))


def tripod_feet(k):
    return [(x, y, 0.1 * k * place) for place, (x, y) in enumerate(flat(TRIPOD_FEET, k))]


def tripod_leg(k, q):
    return tripod.leg_forces(
        feet=tripod_feet(k), head=(0.0, 0.0, 2.2 * k), head_force_n=(10 * q, 20 * q, -2000 * q)
    )[0]


def van(k, q):
    return vehicle.Vehicle(
        weight_n=2e4 * q,
        wheelbase_m=3 * k,
        centre_ahead_m=1.3 * k,
        centre_height_m=0.8 * k,
        hitch_height_m=0.6 * k,
        hitch_behind_m=0.9 * k,
    )


def turned_leg(k, q, legs_of):
    head = (0.0, 0.0, 2.2 * k)
    return legs_of(feet=tripod_feet(k), head=head, down_n=2000 * q, level_n=90 * q)[0]


def base_force(k, q):
    return stability.Force(at_m=(0.1 * k, 0.9 * k, 1.9 * k), force_n=(30 * q, 50 * q, -900 * q))


def davit_swept(k, q):
    davit = Davit(
        feet=tuple(flat(FEET, k)),
        mast_m=(0.1 * k, 0.0),
        reach_m=0.9 * k,
        hook_height_m=1.9 * k,
        swing_from_rad=0.0,
        swing_to_rad=3.0,
        weights=(Weight(mass_kg=60 * q, at_m=(0.0, 0.0, 0.3 * k)),),
        boom_kg=8 * q,
        boom_arm_m=0.45 * k,
        boom_height_m=1.9 * k,
    )
    return sweep(
        davit,
        tilt=Tilt(slope_rad=0.05, slope_toward_rad=1.0, lean_rad=0.1),
        line_force_n=1400 * q,
        safety_factor=2.0,
        ballast_at_m=(0.0, 0.0, 0.2 * k),
    )


def four_legs(k, q):
    return {"feet": flat(FEET, k), "load_n": 2000 * q, "centre_m": (0.1 * k, 0.2 * k)}


def moments(k, q):
    return stability.EdgeMoments(stabilising_nm=300 * k * q, overturning_nm=90 * k * q)


def bolts(k, q):
    return {"moment_nm": 900 * k * q, "axial_n": 500 * q}


RATIO, LENGTH, FORCE, MOMENT, LINE_LOAD, PRESSURE = (0, 0), (1, 0), (0, 1), (1, 1), (-1, 1), (-2, 1)

CASES = {
    "two_equal_legs_n": (
        FORCE,
        lambda k, q: anchors.two_equal_legs_n(load_n=2000 * q, between_rad=1.0),
    ),
    "two_legs_n": (
        FORCE,
        lambda k, q: anchors.two_legs_n(load_n=2000 * q, first_rad=0.3, second_rad=0.9)[0],
    ),
    "swung_legs_n": (
        FORCE,
        lambda k, q: anchors.swung_legs_n(legs=fixed_legs(k, q), load_n=2000 * q, lean_rad=0.1)[0],
    ),
    "fixed_anchor tensions": (FORCE, lambda k, q: fixed(k, q).tensions_n[0]),
    "fixed_anchor shift": (LENGTH, lambda k, q: fixed(k, q).joint_shift_m[1]),
    "sliding_leg_n": (
        FORCE,
        lambda k, q: anchors.sliding_leg_n(load_n=2000 * q, friction=0.3, between_rad=1.0),
    ),
    "sliding_drop_m": (
        LENGTH,
        lambda k, q: anchors.sliding_drop_m(held_leg_m=k, failed_leg_m=0.6 * k, held_lean_rad=0.5),
    ),
    "leg_forces": (FORCE, lambda k, q: tripod_leg(k, q).push_n),
    "leg_forces thrust": (FORCE, lambda k, q: tripod_leg(k, q).thrust_n),
    "hardest_legs": (FORCE, lambda k, q: turned_leg(k, q, tripod.hardest_legs).push_n),
    "lightest_legs": (FORCE, lambda k, q: turned_leg(k, q, tripod.lightest_legs).vertical_n),
    "winch_leg_n": (
        FORCE,
        lambda k, q: tripod.winch_leg_n(leg_force_n=900 * q, line_force_n=2000 * q),
    ),
    "head_pull": (
        FORCE,
        lambda k, q: (
            head_pull.head_pull(
                hanging_n=900 * q,
                lean_rad=0.1,
                led_off_n=300 * q,
                lead_rad=head_pull.lead_angle_rad(height_m=2 * k, lead_m=3 * k),
            ).size_n
        ),
    ),
    "largest_lead_m": (
        LENGTH,
        lambda k, q: tripod.largest_lead_m(height_m=2 * k, largest_lean_rad=0.2, led_share=0.9),
    ),
    "largest_lean_rad": (
        RATIO,
        lambda k, q: tripod.largest_lean_rad(feet=tripod_feet(k), head=(0.0, 0.0, 2.2 * k)),
    ),
    "lean_offset_m": (LENGTH, lambda k, q: tripod.lean_offset_m(height_m=2 * k, lean_rad=0.1)),
    "leg_buckling_n": (
        FORCE,
        lambda k, q: tripod.leg_buckling_n(
            elasticity_pa=7e10 * q / k**2,
            second_moment_m4=tube.tube_second_moment_m4(outer_m=0.05 * k, wall_m=0.005 * k),
            length_m=2 * k,
            safety_factor=2.0,
        ),
    ),
    "slide_pull_n": (
        FORCE,
        lambda k, q: vehicle.slide_pull_n(
            weight_n=2e4 * q, friction=0.3, slope_rad=0.05, rise_rad=0.2
        ),
    ),
    "rear_axle_pull_n": (
        FORCE,
        lambda k, q: vehicle.rear_axle_pull_n(
            van(k, q), friction=0.3, slope_rad=0.05, rise_rad=0.2
        ),
    ),
    "tip_or_lift_pull_n": (
        FORCE,
        lambda k, q: vehicle.tip_or_lift_pull_n(van(k, q), slope_rad=0.05, rise_rad=0.9),
    ),
    "tip_pull_n": (
        FORCE,
        lambda k, q: vehicle.tip_pull_n(
            weight_n=2e4 * q,
            centre_to_axle_m=1.3 * k,
            hitch_height_m=0.6 * k,
            overhang_m=0.8 * k,
            rise_rad=-0.4,
        ),
    ),
    "centre_of_pressure_m": (
        LENGTH,
        lambda k, q: stability.centre_of_pressure_m([base_force(k, q)])[1],
    ),
    "margin_m": (
        LENGTH,
        lambda k, q: stability.margin_m(feet=flat(FEET, k), centre_m=(0.1 * k, 0.2 * k)),
    ),
    "moment_nm": (
        MOMENT,
        lambda k, q: stability.moment_nm(base_force(k, q), stability.base_edges(flat(FEET, k))[0]),
    ),
    "allowed_load_n": (
        FORCE,
        lambda k, q: stability.allowed_load_n(
            moments=moments(k, q), overhang_m=0.2 * k, safety_factor=2.0
        ),
    ),
    "ballast_n": (
        FORCE,
        lambda k, q: stability.ballast_n(
            moments=moments(k, q), behind_m=1.2 * k, safety_factor=4.0
        ),
    ),
    "sweep margin": (LENGTH, lambda k, q: davit_swept(k, q).margin_m),
    "sweep line": (LENGTH, lambda k, q: davit_swept(k, q).line_inside_m),
    "sweep factor": (RATIO, lambda k, q: davit_swept(k, q).moment_factor),
    "sweep allowed line": (FORCE, lambda k, q: davit_swept(k, q).allowed_line_n),
    "sweep ballast": (FORCE, lambda k, q: davit_swept(k, q).ballast_kg),
    "sweep reach": (LENGTH, lambda k, q: davit_swept(k, q).inside_reach_m),
    "elastic_reactions_n": (FORCE, lambda k, q: legs.elastic_reactions_n(**four_legs(k, q))[0]),
    "greatest_reactions_n": (FORCE, lambda k, q: legs.greatest_reactions_n(**four_legs(k, q))[0]),
    "pad_area_m2": (
        (2, 0),
        lambda k, q: legs.pad_area_m2(reaction_n=900 * q, bearing_pa=1e5 * q / k**2),
    ),
    "pad_pressure_pa": (
        PRESSURE,
        lambda k, q: legs.pad_pressure_pa(reaction_n=900 * q, area_m2=0.01 * k**2),
    ),
    "mast_moment_nm": (
        MOMENT,
        lambda k, q: mast.mast_moment_nm(
            line_force_n=1400 * q,
            lean_rad=0.2,
            reach_m=0.5 * k,
            boom_weight_n=80 * q,
            boom_arm_m=0.25 * k,
            head_height_m=1.5 * k,
        ),
    ),
    "socket_forces": (
        FORCE,
        lambda k, q: (
            mast.socket_forces(
                moment_nm=900 * k * q, level_pull_n=200 * q, bearing_spacing_m=0.45 * k
            ).top_n
        ),
    ),
    "bending_stress_pa": (
        PRESSURE,
        lambda k, q: mast.bending_stress_pa(
            moment_nm=900 * k * q,
            section_modulus_m3=tube.tube_section_modulus_m3(outer_m=0.08 * k, wall_m=0.005 * k),
        ),
    ),
    "offset_moment_nm": (
        MOMENT,
        lambda k, q: sleeves.offset_moment_nm([(1400 * q, 0.6 * k), (300 * q, 0.2 * k)]),
    ),
    "couple_n": (
        FORCE,
        lambda k, q: sleeves.couple_n(moment_nm=900 * k * q, spacing_m=0.4 * k),
    ),
    "clamp_force_n": (
        FORCE,
        lambda k, q: sleeves.clamp_force_n(vertical_n=1600 * q, friction=0.3, safety_factor=2.0),
    ),
    "wall_stabilising_nm": (
        MOMENT,
        lambda k, q: sleeves.wall_stabilising_nm(
            strip_weight_n=sleeves.wall_strip_weight_n(
                unit_weight_n_per_m3=24_000 * q / k**3, height_m=k, width_m=k, thickness_m=0.2 * k
            ),
            thickness_m=0.2 * k,
        ),
    ),
    "wall_overturning_nm": (
        MOMENT,
        lambda k, q: sleeves.wall_overturning_nm(
            loads=[(1400 * q, 0.6 * k)],
            thickness_m=0.2 * k,
            level_pull_n=200 * q,
            pull_height_m=2 * k,
        ),
    ),
    "floor_bolt_tension": (
        FORCE,
        lambda k, q: (
            sleeves.floor_bolt_tension(
                **bolts(k, q), offsets_m=(0.1 * k, -0.1 * k), toe_m=0.15 * k
            ).toe_n
        ),
    ),
    "swung_bolt_tension_n": (
        FORCE,
        lambda k, q: sleeves.swung_bolt_tension_n(
            **bolts(k, q),
            bolts=flat([(0.1, 0.1), (-0.1, 0.1), (-0.1, -0.1), (0.1, -0.1)], k),
        ),
    ),
    "ring_bearing_n_per_m": (
        LINE_LOAD,
        lambda k, q: collar.ring_bearing_n_per_m(
            vertical_n=1700 * q, moment_nm=400 * k * q, radius_m=0.33 * k, from_load_rad=0.0
        ),
    ),
    "peak_bearing_n_per_m": (
        LINE_LOAD,
        lambda k, q: collar.peak_bearing_n_per_m(
            vertical_n=1700 * q, moment_nm=400 * k * q, radius_m=0.33 * k
        ),
    ),
    "neck_couple_n": (
        FORCE,
        lambda k, q: collar.neck_couple_n(moment_nm=400 * k * q, neck_depth_m=0.25 * k),
    ),
    "allowed_force_n": (
        FORCE,
        lambda k, q: post.allowed_force_n(
            rated_force_n=22_200 * q, rated_height_m=0.5 * k, height_m=1.1 * k
        ),
    ),
    "highest_attachment_m": (
        LENGTH,
        lambda k, q: post.highest_attachment_m(
            rated_force_n=22_200 * q, rated_height_m=0.5 * k, force_n=12_000 * q
        ),
    ),
    "midspan_tension_n": (
        FORCE,
        lambda k, q: lifeline.midspan_tension_n(load_n=6000 * q, span_m=12 * k, sag_m=0.6 * k),
    ),
    "length_for_angle_m": (
        LENGTH,
        lambda k, q: lifeline.length_for_angle_m(
            load_n=6000 * q, span_m=12 * k, angle_rad=0.2, modulus_n=1e6 * q
        ),
    ),
    "elastic_sag_m": (
        LENGTH,
        lambda k, q: lifeline.elastic_sag_m(
            load_n=6000 * q, span_m=12 * k, slack_length_m=12.02 * k, modulus_n=1e6 * q
        ),
    ),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize(("k", "q"), [(0.5, 1.0), (1.0, 3.0), (2.5, 0.4)])
def test_result_grows_as_its_dimension_says(name, k, q):
    (length_power, force_power), call = CASES[name]

    assert call(k, q) == pytest.approx(k**length_power * q**force_power * call(1.0, 1.0), rel=1e-7)
