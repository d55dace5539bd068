"""Feet of a davit over its swing, against linear programmes (scipy) and least squares (numpy)."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import optimize

from planbuilder.haul.davit import Davit, Tilt, Weight
from planbuilder.haul.feet import foot_reactions

G = 9.80665
LOAD_N = 140 * G
LEVEL = Tilt(slope_rad=0.0, slope_toward_rad=0.0, lean_rad=0.0)
DAVIT = Davit(
    feet=((0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.75, -0.60)),
    mast_m=(0.0, 0.0),
    reach_m=0.55,
    hook_height_m=1.9,
    swing_from_rad=math.pi / 2,
    swing_to_rad=math.pi / 2,
    weights=(
        Weight(mass_kg=45, at_m=(0.0, 0.0, 0.1)),
        Weight(mass_kg=17, at_m=(0.0, 0.0, 0.95)),
    ),
    boom_kg=8,
    boom_arm_m=0.275,
    boom_height_m=1.9,
)


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def turned(first_deg, last_deg):
    first, last = math.radians(first_deg), math.radians(last_deg)
    return replace(DAVIT, swing_from_rad=first, swing_to_rad=last)


@pytest.mark.parametrize(
    ("turn_deg", "greatest", "elastic"), [(90, 1030, 838.5), (45, 1396, 926.7)]
)
def test_feet_of_the_worked_example(turn_deg, greatest, elastic):
    feet = foot_reactions(turned(turn_deg, turn_deg), tilt=LEVEL, line_force_n=LOAD_N)

    assert four(feet.greatest_n) == greatest
    assert four(feet.elastic_n) == elastic


def by_programme(turn_rad, slope_rad, slope_toward_rad, lean_rad):
    """Most of any foot, and of springs alike, by moments of cross products."""
    level = math.sin(slope_rad)
    down = np.array(
        [
            level * math.cos(slope_toward_rad),
            level * math.sin(slope_toward_rad),
            -math.cos(slope_rad),
        ]
    )
    arm = np.array([math.cos(turn_rad), math.sin(turn_rad), 0.0])
    out = arm - (arm @ down) * down
    pull = math.cos(lean_rad) * down + math.sin(lean_rad) * out / np.linalg.norm(out)
    up = np.array([0.0, 0.0, 1.0])
    bodies = [
        (0.1 * up, 45 * G * down),
        (0.95 * up, 17 * G * down),
        (0.275 * arm + 1.9 * up, 8 * G * down),
        (0.55 * arm + 1.9 * up, LOAD_N * pull),
    ]
    moment = np.sum([np.cross(at, force) for at, force in bodies], axis=0)
    # Feet push up: sum of pushes, and their moments about x and y.
    feet = np.array(DAVIT.feet)
    rows = np.array([np.ones(4), feet[:, 1], -feet[:, 0]])
    right = np.array([-sum(force[2] for _, force in bodies), -moment[0], -moment[1]])
    most = max(-optimize.linprog(-row, A_eq=rows, b_eq=right).fun for row in np.eye(4))
    return most, max(np.linalg.pinv(rows) @ right)


def test_swing_slope_and_lean_find_the_worst_foot():
    tilt = Tilt(slope_rad=0.03, slope_toward_rad=2.0, lean_rad=0.05)

    feet = foot_reactions(turned(-80, 80), tilt=tilt, line_force_n=LOAD_N)

    found = [by_programme(math.radians(turn), 0.03, 2.0, 0.05) for turn in range(-80, 81)]
    most_n, alike_n = max(found)
    assert feet.greatest_n == pytest.approx(most_n, rel=1e-4)
    assert feet.elastic_n == pytest.approx(alike_n, rel=1e-3)  # where the boom then stands


def test_wider_swing_or_heavier_load_never_presses_less():
    narrow, wide = turned(0, 20), turned(-30, 60)
    before = foot_reactions(narrow, tilt=LEVEL, line_force_n=LOAD_N)

    for after in (
        foot_reactions(wide, tilt=LEVEL, line_force_n=LOAD_N),
        foot_reactions(narrow, tilt=LEVEL, line_force_n=1.2 * LOAD_N),
    ):
        assert after.greatest_n >= before.greatest_n


def test_base_that_tips_has_no_answer():
    with pytest.raises(ValueError, match="the base tips"):
        foot_reactions(replace(turned(0, 90), reach_m=1.5), tilt=LEVEL, line_force_n=LOAD_N)
    with pytest.raises(ValueError, match="must not end before it starts"):
        foot_reactions(turned(90, 0), tilt=LEVEL, line_force_n=LOAD_N)
