"""A davit over its swing: worked examples, and a brute sweep (numpy) as oracle.

The oracle turns the boom in steps of a degree and to each edge's normal, leans the line in every
direction, and takes moments by cross products.
"""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.haul.base import line_inside_base_m
from planbuilder.haul.davit import Davit, Tilt, Weight, leaned, own_forces, times
from planbuilder.haul.stability import Force, centre_of_pressure_m, margin_m
from planbuilder.haul.swing import sweep

SLACK = 1e-9
G = 9.80665
LOAD_N = 140 * G
LEFT_RAD = math.pi / 2
LEVEL = Tilt(slope_rad=0.0, slope_toward_rad=0.0, lean_rad=0.0)
# Base 45 kg, mast 17 kg, boom 8 kg at half the reach and at the hook's height.
DAVIT = Davit(
    feet=((0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.75, -0.60)),
    mast_m=(0.0, 0.0),
    reach_m=0.55,
    hook_height_m=1.9,
    swing_from_rad=LEFT_RAD,
    swing_to_rad=LEFT_RAD,
    weights=(
        Weight(mass_kg=45, at_m=(0.0, 0.0, 0.1)),
        Weight(mass_kg=17, at_m=(0.0, 0.0, 0.95)),
    ),
    boom_kg=8,
    boom_arm_m=0.275,
    boom_height_m=1.9,
)
LONG = replace(DAVIT, reach_m=0.90, boom_arm_m=0.45)
ALL_ROUND: dict[str, Any] = {"swing_from_rad": 0.0, "swing_to_rad": math.tau}
FAR_EDGE = (0.0, -0.60, 0.0)
JOB: dict[str, Any] = {"line_force_n": LOAD_N, "safety_factor": 2.0, "ballast_at_m": FAR_EDGE}

# Seven odd feet and a mast off their middle.
ODD = replace(
    DAVIT,
    feet=((0.9, 0.3), (0.4, 0.8), (-0.7, 0.6), (-0.8, -0.1), (-0.7, -0.6), (0.5, -0.7), (0.1, 0.1)),
    mast_m=(0.1, -0.05),
)


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def tilted(slope_deg=0.0, lean_deg=0.0, toward_rad=LEFT_RAD):
    return Tilt(
        slope_rad=math.radians(slope_deg),
        slope_toward_rad=toward_rad,
        lean_rad=math.radians(lean_deg),
    )


def hull_edges(feet):
    """Corners and inward normals of the hull of the odd base or the rectangle, by hand order."""
    corners = np.array([foot for foot in feet if foot != (0.1, 0.1)])
    along = np.roll(corners, -1, axis=0) - corners
    normals = np.stack([-along[:, 1], along[:, 0]], axis=1)
    return corners, normals / np.linalg.norm(normals, axis=1)[:, None]


def cone(down, lean_rad, steps=144):
    """Directions that lean off plumb."""
    side = np.cross(down, [0.3, 0.5, 0.1])
    side /= np.linalg.norm(side)
    other = np.cross(down, side)
    turns = np.linspace(0, math.tau, steps, endpoint=False)
    ring = np.outer(np.cos(turns), side) + np.outer(np.sin(turns), other)
    return math.cos(lean_rad) * down + math.sin(lean_rad) * ring


def brute(davit, tilt, load_n):
    """Least margin, least line margin and least factor over every step."""
    corners, normals = hull_edges(davit.feet)
    down = np.array(
        [
            math.sin(tilt.slope_rad) * math.cos(tilt.slope_toward_rad),
            math.sin(tilt.slope_rad) * math.sin(tilt.slope_toward_rad),
            -math.cos(tilt.slope_rad),
        ]
    )
    start, end = davit.swing_from_rad, davit.swing_to_rad
    normal_to_edge = [math.atan2(-y, -x) + k * math.tau for x, y in normals for k in (0, 1)]
    angles = [*np.arange(start, end, math.radians(1)), end]
    angles += [angle for angle in normal_to_edge if start <= angle <= end]
    worst = np.full(3, math.inf)
    for angle in angles:
        arm = np.array([math.cos(angle), math.sin(angle), 0])
        mast = np.array([*davit.mast_m, 0])
        hook = mast + davit.reach_m * arm + [0, 0, davit.hook_height_m]
        boom = mast + davit.boom_arm_m * arm + [0, 0, davit.boom_height_m]
        own = [(np.array(one.at_m), one.mass_kg * G * down) for one in davit.weights]
        own.append((boom, davit.boom_kg * G * down))
        pulls = load_n * cone(down, tilt.lean_rad)
        crossing = hook - hook[2] * pulls / pulls[:, 2:]
        pressing = -sum(force[2] for _, force in own) - pulls[:, 2]
        for corner, normal in zip(corners, normals, strict=True):
            along, foot = np.array([normal[1], -normal[0], 0]), np.array([*corner, 0])
            held = np.array([-np.cross(at - foot, force) @ along for at, force in own])
            line = -np.cross(hook - foot, pulls) @ along
            tipping = -held[held < 0].sum() - np.minimum(line, 0).min()
            inside = (crossing[:, :2] - corner) @ normal
            factor = held[held > 0].sum() / tipping if tipping > 1e-9 else math.inf
            margin = ((held.sum() + line) / pressing).min()
            worst = np.minimum(worst, [margin, inside.min(), factor])
    return worst


def test_reach_of_0_90_m_fails_as_in_the_worked_example():
    swept = sweep(LONG, tilt=LEVEL, **JOB)

    assert four(swept.margin_m) == -0.01714
    assert swept.line_inside_m == pytest.approx(-0.30)
    assert not swept.line_inside
    assert four(swept.moment_factor) == 0.9143
    assert round(swept.allowed_line_n / G, 1) == 64.0
    assert round(swept.ballast_kg, 1) == 38.0
    assert swept.inside_reach_m == pytest.approx(0.60)
    assert swept.margin_at_rad == swept.factor_at_rad == swept.line_at_rad == LEFT_RAD


def test_ballast_of_the_answer_brings_the_factor_asked_for():
    needed_kg = sweep(LONG, tilt=LEVEL, **JOB).ballast_kg
    ballasted = replace(LONG, weights=(*LONG.weights, Weight(mass_kg=needed_kg, at_m=FAR_EDGE)))

    assert sweep(ballasted, tilt=LEVEL, **JOB).moment_factor == pytest.approx(2.0)


def test_reach_of_0_55_m_cannot_be_tipped_by_the_load():
    """Worked example, and a load a thousand times as heavy."""
    swept = sweep(DAVIT, tilt=LEVEL, **JOB)
    heavy = sweep(DAVIT, tilt=LEVEL, **{**JOB, "line_force_n": 1000 * LOAD_N})

    assert four(swept.margin_m) == 0.2229
    assert swept.line_inside
    assert swept.moment_factor == heavy.moment_factor == math.inf
    assert swept.allowed_line_n == math.inf
    assert swept.ballast_kg == 0
    assert heavy.margin_m > 0


@pytest.mark.parametrize(
    ("slope_deg", "lean_deg", "centre_m", "margin"),
    [
        (0, 0, 0.3771, 0.2229),
        (5, 0, 0.5029, 0.0971),
        (0, 10, 0.5976, 0.0024),
        (5, 10, 0.7247, -0.1247),
    ],
)
def test_slope_and_lean_move_the_centre_as_in_the_worked_example(
    slope_deg, lean_deg, centre_m, margin
):
    tilt = tilted(slope_deg, lean_deg)
    pull_n = times(leaned(tilt, (0.0, 1.0, 0.0)), LOAD_N)
    line = Force(at_m=DAVIT.hook_m(LEFT_RAD), force_n=pull_n)
    centre = centre_of_pressure_m([*own_forces(DAVIT, tilt=tilt, at_rad=LEFT_RAD), line])

    swept = sweep(DAVIT, tilt=tilt, **JOB)

    assert round(centre[1], 4) == centre_m
    assert round(swept.margin_m, 4) == margin
    assert swept.margin_m == pytest.approx(margin_m(feet=DAVIT.feet, centre_m=centre))


@pytest.mark.parametrize("davit", [LONG, ODD], ids=["rectangle", "odd"])
@pytest.mark.parametrize(
    ("slope_deg", "toward_deg", "lean_deg"), [(0, 0, 0), (0, 0, 10), (4, 200, 0), (5, 35, 10)]
)
@pytest.mark.parametrize(("start_deg", "span_deg"), [(0, 360), (20, 110), (150, 0)])
def test_sweep_finds_what_a_brute_sweep_finds(
    davit, slope_deg, toward_deg, lean_deg, start_deg, span_deg
):
    """The brute cone has gaps of 2.5 degrees: it may miss the worst by a thousandth."""
    start = math.radians(start_deg)
    davit = replace(davit, swing_from_rad=start, swing_to_rad=start + math.radians(span_deg))
    tilt = tilted(slope_deg, lean_deg, math.radians(toward_deg))

    swept = sweep(davit, tilt=tilt, **JOB)
    margin, line_inside, factor = brute(davit, tilt, LOAD_N)

    assert swept.margin_m == pytest.approx(margin, abs=5e-4)
    assert swept.line_inside_m == pytest.approx(line_inside, abs=5e-4)
    assert swept.moment_factor == pytest.approx(factor, rel=5e-3)
    assert swept.line_inside_m <= line_inside + SLACK
    assert swept.moment_factor <= factor * (1 + 1e-6)


@given(reach=st.floats(0.1, 1.5), start=st.floats(-3, 3), span=st.floats(0, math.tau))
def test_on_level_ground_the_line_is_inside_as_far_as_the_plain_rule_says(reach, start, span):
    davit = replace(DAVIT, reach_m=reach, swing_from_rad=start, swing_to_rad=start + span)

    assert sweep(davit, tilt=LEVEL, **JOB).line_inside_m == pytest.approx(
        line_inside_base_m(
            feet=davit.feet, reach_m=reach, swing_from_rad=start, swing_to_rad=start + span
        ),
        abs=1e-9,
    )


tilts = st.builds(
    tilted, st.floats(0, 8), st.floats(0, 10), toward_rad=st.floats(-math.pi, math.pi)
)


@given(tilt=tilts, load_n=st.floats(500, 20_000))
def test_line_brought_back_inside_tips_nothing(tilt, load_n):
    job = {**JOB, "line_force_n": load_n}
    inside_m = sweep(replace(ODD, **ALL_ROUND), tilt=tilt, **job).inside_reach_m

    if inside_m > 0:
        back = sweep(replace(ODD, **ALL_ROUND, reach_m=inside_m), tilt=tilt, **job)
        out = sweep(replace(ODD, **ALL_ROUND, reach_m=inside_m + 0.01), tilt=tilt, **job)
        assert back.line_inside_m == pytest.approx(0, abs=1e-9)
        assert back.allowed_line_n == math.inf
        assert out.line_inside_m < 0
        assert out.allowed_line_n < math.inf


@given(tilt=tilts, factor=st.floats(1, 3))
def test_line_force_allowed_just_brings_the_factor(tilt, factor):
    job = {**JOB, "safety_factor": factor}
    allowed_n = sweep(replace(LONG, **ALL_ROUND), tilt=tilt, **job).allowed_line_n

    if 0 < allowed_n < math.inf:
        loaded = sweep(replace(LONG, **ALL_ROUND), tilt=tilt, **{**job, "line_force_n": allowed_n})
        assert loaded.moment_factor == pytest.approx(factor)


@given(
    tilt=tilts,
    reach=st.floats(0.2, 1.5),
    load_n=st.floats(200, 5000),
    more=st.floats(0, 1),
    wider=st.floats(0, 1),
)
def test_longer_reach_heavier_load_more_lean_or_wider_swing_never_improves(
    tilt, reach, load_n, more, wider
):
    davit = replace(ODD, reach_m=reach, swing_from_rad=0.2, swing_to_rad=1.4)
    job = {**JOB, "line_force_n": load_n}
    before = sweep(davit, tilt=tilt, **job)
    longer = sweep(replace(davit, reach_m=reach + more), tilt=tilt, **job)
    heavier = sweep(davit, tilt=tilt, **{**job, "line_force_n": load_n * (1 + more)})
    leaning = sweep(davit, tilt=replace(tilt, lean_rad=tilt.lean_rad + 0.2 * more), **job)
    swinging = sweep(
        replace(davit, swing_from_rad=0.2 - wider, swing_to_rad=1.4 + wider), tilt=tilt, **job
    )
    higher = sweep(replace(davit, hook_height_m=davit.hook_height_m + more), tilt=LEVEL, **job)
    level = sweep(davit, tilt=LEVEL, **job)

    for after, reference in (
        (longer, before),
        (heavier, before),
        (leaning, before),
        (swinging, before),
        (higher, level),
    ):
        assert after.moment_factor <= reference.moment_factor * (1 + SLACK)
        assert after.line_inside_m <= reference.line_inside_m + SLACK
        assert after.allowed_line_n <= reference.allowed_line_n * (1 + SLACK)
        assert after.ballast_kg >= reference.ballast_kg * (1 - SLACK)
    for after in (longer, swinging):
        assert after.margin_m <= before.margin_m + SLACK


@given(
    slope=st.floats(0, 0.2),
    more=st.floats(0, 0.1),
    lean=st.floats(0, 0.2),
    reach=st.floats(0.2, 1.5),
)
def test_steeper_slope_toward_the_boom_never_improves(slope, more, lean, reach):
    """Boom square to an edge and the ground falling that way."""
    davit = replace(DAVIT, reach_m=reach)
    before, after = (
        sweep(
            davit,
            tilt=Tilt(slope_rad=rise, slope_toward_rad=LEFT_RAD, lean_rad=lean),
            **JOB,
        )
        for rise in (slope, slope + more)
    )

    assert after.line_inside_m <= before.line_inside_m + SLACK
    assert after.moment_factor <= before.moment_factor * (1 + SLACK)
    assert after.allowed_line_n <= before.allowed_line_n * (1 + SLACK)
    assert after.inside_reach_m <= before.inside_reach_m + SLACK


@settings(max_examples=50)
@given(tilt=tilts, turn=st.floats(-math.pi, math.pi))
def test_turning_davit_and_slope_together_changes_nothing(tilt, turn):
    cosine, sine = math.cos(turn), math.sin(turn)

    def turned(point):
        x, y, *height = point
        return (x * cosine - y * sine, x * sine + y * cosine, *height)

    davit = replace(ODD, swing_from_rad=-0.4, swing_to_rad=1.4)
    moved = replace(
        davit,
        feet=tuple(turned(foot) for foot in davit.feet),
        mast_m=turned(davit.mast_m),
        weights=tuple(replace(one, at_m=turned(one.at_m)) for one in davit.weights),
        swing_from_rad=-0.4 + turn,
        swing_to_rad=1.4 + turn,
    )
    moved_tilt = replace(tilt, slope_toward_rad=tilt.slope_toward_rad + turn)

    before = sweep(davit, tilt=tilt, **JOB)
    after = sweep(moved, tilt=moved_tilt, **{**JOB, "ballast_at_m": turned(FAR_EDGE)})

    assert after.margin_m == pytest.approx(before.margin_m, abs=1e-7)
    assert after.line_inside_m == pytest.approx(before.line_inside_m, abs=1e-7)
    assert after.inside_reach_m == pytest.approx(before.inside_reach_m, abs=1e-7)
    if abs(before.line_inside_m) > 1e-6:
        # Where the line is a hand's breadth outside, the factor is a quotient of a small number.
        assert after.moment_factor == pytest.approx(before.moment_factor, rel=1e-4)


def test_hook_load_inside_is_no_ballast_for_the_davit_itself():
    """Ground falling 40 degrees: the davit's own weight tips, and the load may be gone."""
    steep = tilted(slope_deg=40)
    top_heavy = replace(
        DAVIT, hook_height_m=0.2, weights=(Weight(mass_kg=60, at_m=(0.0, 0.0, 1.0)),)
    )

    factors = {
        sweep(top_heavy, tilt=steep, **{**JOB, "line_force_n": load_n}).moment_factor
        for load_n in (100.0, 5000.0)
    }

    assert len(factors) == 1
    assert max(factors) < 1


def test_mast_outside_its_feet_is_brought_inside_by_no_reach():
    """All feet ahead of the mast, the boom turned away from them."""
    ahead = replace(
        DAVIT,
        feet=((0.4, 0.5), (0.4, -0.5), (1.4, 0.0)),
        swing_from_rad=math.pi,
        swing_to_rad=math.pi,
    )

    assert sweep(ahead, tilt=LEVEL, **JOB).inside_reach_m == 0


def test_boom_turned_across_its_feet_needs_a_least_reach():
    """Feet 0.4 to 1.4 m ahead of the mast: the line is inside at 1.4 m, outside at 0.3 m."""
    ahead = replace(
        DAVIT,
        feet=((0.4, 0.5), (0.4, -0.5), (1.4, 0.0)),
        swing_from_rad=0.0,
        swing_to_rad=0.0,
        reach_m=0.3,
    )

    swept = sweep(ahead, tilt=LEVEL, **JOB)

    assert swept.line_inside_m == pytest.approx(-0.1)
    assert swept.inside_reach_m == pytest.approx(1.4)


@pytest.mark.parametrize(("turn_deg", "reach_m"), [(20, 0.862), (60, 0), (90, 0)])
def test_boom_that_misses_its_feet_is_brought_inside_by_no_reach(turn_deg, reach_m):
    """By hand: the far edge is y = 0.7 - x / 2, the near one x = 0.4, met at 0.8 m at 60 degrees.

    At 20 degrees the far edge is met at 0.7 / (sin 20 + cos 20 / 2), inside of both.
    """
    turn_rad = math.radians(turn_deg)
    ahead = replace(
        DAVIT,
        feet=((0.4, 0.5), (0.4, -0.5), (1.4, 0.0)),
        swing_from_rad=turn_rad,
        swing_to_rad=turn_rad,
    )

    assert round(sweep(ahead, tilt=LEVEL, **JOB).inside_reach_m, 3) == reach_m


def test_line_on_the_edge_itself_is_inside_and_tips_nothing():
    """0.6 by binary fractions: 0.2 + 0.4 is a little more than 0.6."""
    swept = sweep(replace(DAVIT, reach_m=0.2 + 0.4), tilt=LEVEL, **JOB)

    assert swept.line_inside
    assert swept.moment_factor == math.inf


def test_line_outside_the_boundary_of_a_portable_base_is_found_as_the_mast_turns():
    """Common practice, no source: inside ahead, outside when turned to the narrow side."""
    ahead_only = replace(DAVIT, reach_m=0.70, swing_from_rad=0.0, swing_to_rad=0.0)
    turning = replace(ahead_only, swing_to_rad=LEFT_RAD)

    assert sweep(ahead_only, tilt=LEVEL, **JOB).line_inside
    assert not sweep(turning, tilt=LEVEL, **JOB).line_inside


def test_swing_that_runs_backwards_is_refused():
    with pytest.raises(ValueError, match=r"must not end before it starts, got 1\.0 to 0\.5 rad"):
        sweep(replace(DAVIT, swing_from_rad=1.0, swing_to_rad=0.5), tilt=LEVEL, **JOB)


def test_line_that_could_lie_along_the_ground_is_refused():
    with pytest.raises(ValueError, match="slope and lean must be below pi/2 rad together"):
        sweep(DAVIT, tilt=tilted(slope_deg=50, lean_deg=40), **JOB)
