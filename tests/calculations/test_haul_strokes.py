"""Strokes, times, ropes and over-pull: worked examples; a raise played through as oracle."""

import math
from typing import Any

import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from planbuilder.haul.strands import haul_travel, pull_of
from planbuilder.haul.strokes import (
    first_stroke_stretch_m,
    haul_line_m,
    hauling_time_s,
    main_line_m,
    most_people,
    peak_force_n,
    power_per_person_w,
    raise_time_s,
    rest_needed_s,
    stroke_m,
    strokes_needed,
    tackle_line_m,
)
from planbuilder.haul.tackle import HaulStrand, complex_five, compound, simple

UNITS: Any = pint.get_application_registry()
M, N, S = UNITS.metre, UNITS.newton, UNITS.second

WORKED: dict[str, Any] = {
    "gaps": [(6.0, 1.0)],
    "unusable_m": 0.5,
    "walkway_m": 15.0,
    "ideal_advantage": 5,
}
RAISE: dict[str, Any] = {
    "lift_m": 12.0,
    "ideal_advantage": 5,
    "haul_speed_m_per_s": 0.30,
    "strokes": 4,
    "reset_s": 30.0,
    "edge_s": 0.0,
    "rest_s": 0.0,
}


def played(lift_m, one_stroke_m, speed_m_per_s, advantage, reset_s):
    """Haul until the stroke is used up, reset, haul on; strokes and seconds taken."""
    strokes, clock_s, left_m = 0, 0.0, lift_m
    while left_m > 1e-9 * lift_m:
        if strokes:
            clock_s += reset_s
        rise_m = min(left_m, one_stroke_m)
        clock_s += rise_m * advantage / speed_m_per_s
        left_m, strokes = left_m - rise_m, strokes + 1
    return strokes, clock_s


def test_five_to_one_in_15_m_of_walkway_raises_12_m_in_the_time_of_the_worked_example():
    rise_m = stroke_m(**WORKED)
    strokes = strokes_needed(lift_m=12.0, edge_m=0.0, stroke_m=rise_m)

    assert rise_m == pytest.approx(3.0)
    assert strokes == 4
    assert raise_time_s(**RAISE) == pytest.approx(290.0)
    assert played(12.0, rise_m, 0.30, 5, 30.0) == (4, pytest.approx(290.0))


@given(
    lift_m=st.floats(0.5, 40),
    rise_m=st.floats(0.2, 6),
    advantage=st.integers(1, 9),
    speed=st.floats(0.1, 1),
    reset_s=st.floats(0, 90),
)
def test_strokes_and_time_are_those_of_the_raise_played_through(
    lift_m, rise_m, advantage, speed, reset_s
):
    assume(abs(lift_m / rise_m - round(lift_m / rise_m)) > 1e-6)
    strokes = strokes_needed(lift_m=lift_m, edge_m=0.0, stroke_m=rise_m)

    time_s = raise_time_s(
        lift_m=lift_m,
        ideal_advantage=advantage,
        haul_speed_m_per_s=speed,
        strokes=strokes,
        reset_s=reset_s,
        edge_s=0.0,
        rest_s=0.0,
    )

    assert (strokes, pytest.approx(time_s)) == played(lift_m, rise_m, speed, advantage, reset_s)


@given(
    closings=st.lists(st.sampled_from([1, 2, 3, 5]), min_size=1, max_size=3),
    starts=st.lists(st.floats(1, 12), min_size=3, max_size=3),
    unusable_m=st.floats(0, 0.9),
    walkway_m=st.floats(1, 30),
    advantage=st.integers(1, 9),
)
def test_stroke_ends_where_the_first_gap_is_used_up_or_the_haulers_are_at_the_wall(
    closings, starts, unusable_m, walkway_m, advantage
):
    """Room that is left after a rise, brought to zero by root finding."""
    gaps = list(zip(starts, closings, strict=False))

    def room_left_m(rise_m):
        between = [start - closing * rise_m - unusable_m for start, closing in gaps]
        return min(*between, walkway_m - advantage * rise_m)

    rise_m = stroke_m(
        gaps=gaps, unusable_m=unusable_m, walkway_m=walkway_m, ideal_advantage=advantage
    )

    assert rise_m == pytest.approx(brentq(room_left_m, 0, 50), rel=1e-6, abs=1e-9)


def test_moving_pulleys_of_the_complex_system_close_two_for_one():
    """Why 2: the moving pulley comes up by the rise, the extra one goes down by as much."""
    rise_m = stroke_m(gaps=[(8.0, 1), (5.0, 2)], unusable_m=0.5, walkway_m=None, ideal_advantage=5)

    assert rise_m == pytest.approx(2.25)


def test_second_stage_is_used_up_by_the_advantage_of_the_first():
    """3:1 pulled by 2:1: the first stage's haul strand moves three times the rise."""
    first_stage = haul_travel(simple([0.9, 0.9], haul_strand=HaulStrand.OFF_MOVING))

    rise_m = stroke_m(
        gaps=[(6.0, 1), (6.5, first_stage)], unusable_m=0.5, walkway_m=None, ideal_advantage=6
    )

    assert rise_m == pytest.approx(2.0)


def test_gap_shorter_than_what_cannot_be_used_leaves_no_stroke():
    rise_m = stroke_m(gaps=[(0.4, 1)], unusable_m=0.5, walkway_m=None, ideal_advantage=3)

    assert rise_m < 0
    with pytest.raises(ValueError, match="a stroke must raise the load, got -"):
        strokes_needed(lift_m=5, edge_m=0, stroke_m=rise_m)


def test_stroke_of_nothing_never_raises_the_load():
    with pytest.raises(ValueError, match=r"a stroke must raise the load, got 0 m"):
        strokes_needed(lift_m=5, edge_m=0, stroke_m=0.0)


def test_stroke_that_nothing_limits_is_refused():
    with pytest.raises(ValueError, match="at least one gap or a walkway, got none"):
        stroke_m(gaps=[], unusable_m=0.5, walkway_m=None, ideal_advantage=3)


@given(rise_m=st.floats(0.1, 5), strokes=st.integers(1, 60))
def test_lift_of_whole_strokes_takes_no_further_one(rise_m, strokes):
    exactly_m = rise_m * strokes

    assert strokes_needed(lift_m=exactly_m, edge_m=0, stroke_m=rise_m) == strokes
    assert strokes_needed(lift_m=exactly_m, edge_m=0.001, stroke_m=rise_m) == strokes + 1


def test_no_lift_still_takes_a_stroke():
    assert strokes_needed(lift_m=0, edge_m=0, stroke_m=1) == 1


@pytest.mark.parametrize(
    "harder",
    [
        {"unusable_m": 0.8},
        {"walkway_m": 10.0},
        {"ideal_advantage": 9},
        {"gaps": [(3.0, 1.0)]},
        {"gaps": [(6.0, 1.0), (4.0, 2.0)]},
    ],
)
def test_less_room_never_makes_a_longer_stroke(harder):
    assert stroke_m(**{**WORKED, **harder}) <= stroke_m(**WORKED)


@pytest.mark.parametrize("longer", ["lift_m", "ideal_advantage", "strokes", "edge_s", "rest_s"])
@given(extra=st.integers(0, 30))
def test_more_of_anything_never_shortens_the_raise(longer, extra):
    assert raise_time_s(**{**RAISE, longer: RAISE[longer] + extra}) >= raise_time_s(**RAISE)


@given(slower=st.floats(0.01, 1))
def test_slower_haulers_never_shorten_the_raise(slower):
    slow = {**RAISE, "haul_speed_m_per_s": 0.30 * slower}

    assert raise_time_s(**slow) >= raise_time_s(**RAISE)


def test_raise_without_stroke_or_movement_is_refused():
    with pytest.raises(ValueError, match="at least one stroke, got 0"):
        raise_time_s(**{**RAISE, "strokes": 0})
    with pytest.raises(ValueError, match=r"haul speed must be above 0 m/s, got 0"):
        raise_time_s(**{**RAISE, "haul_speed_m_per_s": 0})


def test_power_is_the_work_of_the_haul_shared_by_time_and_people():
    """By hand: 600 N over 60 m in 200 s are 180 W, 45 W for each of four."""
    hauling_s = hauling_time_s(lift_m=12, ideal_advantage=5, haul_speed_m_per_s=0.3)

    power_w = power_per_person_w(haul_force_n=600, haul_speed_m_per_s=0.3, people=4)

    assert hauling_s == pytest.approx(200)
    assert power_w == pytest.approx(600 * 60 / 200 / 4)


@given(
    power_w=st.floats(20, 600),
    sustained_w=st.sampled_from([75.0, 150.0]),
    hauling_s=st.floats(10, 900),
    pauses_s=st.floats(0, 300),
)
def test_rest_brings_the_mean_power_down_to_what_can_be_kept_up(
    power_w, sustained_w, hauling_s, pauses_s
):
    rest_s = rest_needed_s(
        power_w=power_w,
        sustained_power_w=sustained_w,
        hauling_s=hauling_s,
        pauses_s=pauses_s,
    )

    mean_w = power_w * hauling_s / (hauling_s + pauses_s + rest_s)
    assert mean_w <= sustained_w * (1 + 1e-9)
    assert rest_s == 0 or mean_w == pytest.approx(sustained_w)


@pytest.mark.parametrize(
    ("feet_per_minute", "metres_per_minute", "minutes"), [(13, 4, 3.8), (30, 9, 1.7)]
)
def test_50_feet_of_lift_by_hand_winch_take_the_usual_time(
    feet_per_minute, metres_per_minute, minutes
):
    """13 and 30 ft/min are usual hand-winch speeds: common practice, no source."""
    speed_m_per_s = feet_per_minute * 0.3048 / 60

    time_s = hauling_time_s(lift_m=50 * 0.3048, ideal_advantage=1, haul_speed_m_per_s=speed_m_per_s)

    assert round(speed_m_per_s * 60) == metres_per_minute
    assert round(time_s / 60, 1) == minutes


def test_block_of_four_parts_takes_48_20_m_of_rope():
    """Worked example; the same as four parts at their longest and the tail."""
    rope_m = tackle_line_m(
        parts=4, attachment_depth_m=9.0, head_height_m=2.4, block_m=0.6, tail_m=5.0
    )

    assert round(rope_m, 2) == 48.20


@given(sheaves=st.integers(1, 6), lift_m=st.floats(1, 20))
def test_rope_of_a_tackle_is_what_it_hauls_in_over_the_whole_lift_and_the_tail(sheaves, lift_m):
    """Hauled up until the blocks meet, all rope but the tail has come out."""
    tackle = simple([0.9] * sheaves, haul_strand=HaulStrand.OFF_FIXED)

    rope_m = tackle_line_m(
        parts=sheaves, attachment_depth_m=lift_m, head_height_m=0.6, block_m=0.6, tail_m=5
    )

    assert rope_m - 5 == pytest.approx(haul_travel(tackle) * lift_m)


def test_lines_of_a_gripping_system_reach_their_anchors():
    """By hand: 12 m up, 3 m back, knots of 1 m, 2 m of tails; 3:1 over 6 m, 15 m to walk."""
    assert main_line_m(lift_m=12, anchor_to_edge_m=3, knots_m=2, tails_m=2) == 19
    assert haul_line_m(own_advantage=3, start_m=6, walkway_m=15, tails_m=2) == 35


def test_18_m_of_rope_stretch_by_1_283_m_under_casualty_and_attendant():
    stretch_m = first_stroke_stretch_m(system_load_n=237.5 * 9.80665, length_m=18, modulus_n=32690)

    assert stretch_m == pytest.approx(1.283, abs=1e-3)


@pytest.mark.parametrize(("modulus_n", "stretch_mm"), [(32690, 420.0), (0.9e6, 15.25)])
def test_10_m_of_line_stretch_under_140_kg_as_in_the_worked_example(modulus_n, stretch_mm):
    stretch_m = first_stroke_stretch_m(
        system_load_n=140 * 9.80665, length_m=10, modulus_n=modulus_n
    )

    assert stretch_m * 1000 == pytest.approx(stretch_mm, rel=5e-4)


def test_four_people_on_a_nine_to_one_can_pull_17_kn_on_a_stuck_load():
    """By hand: 4 times 450 N times 9 is 16.2 kN; hitches slip from 7 kN on."""
    peak_n = peak_force_n(people=4, strongest_pull_n=450, ideal_advantage=9)

    assert peak_n == 16200
    assert most_people(ratings_n=[22000, 7000], strongest_pull_n=450, ideal_advantage=9) == 1


@pytest.mark.parametrize(
    "tackle",
    [
        simple([0.9] * 3, haul_strand=HaulStrand.OFF_FIXED),
        compound([[0.8, 0.9], [0.9]]),
        complex_five((0.9, 0.8, 0.7)),
    ],
)
def test_peak_without_losses_is_never_below_what_the_sheaves_let_through(tackle):
    pull = pull_of(tackle)

    peak_n = peak_force_n(people=3, strongest_pull_n=450, ideal_advantage=pull.ideal_advantage)

    assert peak_n >= 3 * 450 * pull.advantage


@given(
    ratings_n=st.lists(st.floats(500, 30e3), min_size=1, max_size=4),
    pull_n=st.floats(100, 600),
    advantage=st.integers(1, 9),
)
def test_one_more_than_the_most_people_would_pull_past_the_weakest_part(
    ratings_n, pull_n, advantage
):
    team = {"strongest_pull_n": pull_n, "ideal_advantage": advantage}

    people = most_people(ratings_n=ratings_n, **team)

    allowed_n = peak_force_n(people=people, **team)
    one_more_n = peak_force_n(people=people + 1, **team)
    assert allowed_n <= min(ratings_n) + 1e-6
    assert one_more_n > min(ratings_n)


def test_team_that_reaches_the_limit_exactly_is_still_within_it():
    """0.1 + 0.2 style: three people of 100.1 N on a 3:1 reach 900.9 N."""
    rating_n = 3 * 100.1 * 3

    assert most_people(ratings_n=[rating_n], strongest_pull_n=100.1, ideal_advantage=3) == 3


def test_over_pull_without_a_rating_is_refused():
    with pytest.raises(ValueError, match="rating of at least one part, got none"):
        most_people(ratings_n=[], strongest_pull_n=450, ideal_advantage=3)


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        pytest.param(
            lambda: stroke_m(
                gaps=[(6 * M, 1), (5 * M, 2)],
                unusable_m=0.5 * M,
                walkway_m=9 * M,
                ideal_advantage=3,
            ),
            "[length]",
            id="stroke_m",
        ),
        pytest.param(
            lambda: raise_time_s(
                lift_m=6 * M,
                ideal_advantage=3,
                haul_speed_m_per_s=0.3 * M / S,
                strokes=2,
                reset_s=30 * S,
                edge_s=20 * S,
                rest_s=5 * S,
            ),
            "[time]",
            id="raise_time_s",
        ),
        pytest.param(
            lambda: power_per_person_w(
                haul_force_n=600 * N, haul_speed_m_per_s=0.3 * M / S, people=3
            ),
            "[power]",
            id="power_per_person_w",
        ),
        pytest.param(
            lambda: main_line_m(lift_m=6 * M, anchor_to_edge_m=2 * M, knots_m=2 * M, tails_m=1 * M),
            "[length]",
            id="main_line_m",
        ),
        pytest.param(
            lambda: haul_line_m(own_advantage=3, start_m=6 * M, walkway_m=9 * M, tails_m=1 * M),
            "[length]",
            id="haul_line_m",
        ),
        pytest.param(
            lambda: tackle_line_m(
                parts=4,
                attachment_depth_m=9 * M,
                head_height_m=2 * M,
                block_m=0.6 * M,
                tail_m=5 * M,
            ),
            "[length]",
            id="tackle_line_m",
        ),
        pytest.param(
            lambda: first_stroke_stretch_m(
                system_load_n=2000 * N, length_m=18 * M, modulus_n=3e4 * N
            ),
            "[length]",
            id="first_stroke_stretch_m",
        ),
        pytest.param(
            lambda: peak_force_n(people=3, strongest_pull_n=400 * N, ideal_advantage=3),
            "[force]",
            id="peak_force_n",
        ),
    ],
)
def test_result_has_the_dimension_its_name_says(result, dimension):
    assert result().check(dimension)


def test_strokes_and_people_are_plain_numbers_whatever_the_unit():
    strokes = strokes_needed(lift_m=12 * M, edge_m=0 * M, stroke_m=300 * UNITS.cm)
    people = most_people(ratings_n=[7 * UNITS.kN], strongest_pull_n=450 * N, ideal_advantage=3)

    assert (strokes, people) == (4, 5)
    assert math.floor(7000 / 1350) == people
