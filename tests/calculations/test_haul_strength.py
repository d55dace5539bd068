"""Strength of the line as rigged: worked examples; a line loaded until a place gives as oracle."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from planbuilder.findings import Mark
from planbuilder.haul.factors import (
    DESIGN_FACTORS,
    LEAST_COUNTS,
    PERSONNEL_HOIST_FACTORS,
    SHEAVE_RATIOS,
    TERMINATIONS,
)
from planbuilder.haul.load import weight_n
from planbuilder.haul.strength import (
    bending_efficiency,
    breaking_needed_n,
    design_factor,
    hanging_line_kg,
    personnel_hoist_factor,
    shaft_rope_factor,
    weakest_efficiency,
)
from planbuilder.haul.winch import line_force_at_drum_n

UNITS: Any = pint.get_application_registry()
M, N = UNITS.metre, UNITS.newton
FOOT_M = 0.3048
share = st.floats(0.3, 1)


@pytest.mark.parametrize(
    ("ratio", "efficiency"), [(1, 0.5), (4, 0.75), (10, 0.842), (20, 0.888), (40, 0.921)]
)
def test_bend_keeps_the_share_of_the_sling_standard(ratio, efficiency):
    """EN 13414-3, recalled."""
    kept = bending_efficiency(sheave_diameter_m=0.005 * ratio, line_diameter_m=0.005)

    assert kept == pytest.approx(efficiency, abs=5e-4)


def test_18_kn_wire_holding_140_kg_over_one_sheave_has_the_factors_of_the_worked_example():
    bend = bending_efficiency(sheave_diameter_m=0.060, line_diameter_m=0.005)
    tension_n = line_force_at_drum_n(line_force_n=140 * 9.80665, efficiencies=[0.95])
    kept = weakest_efficiency(termination=0.80, bending=bend)

    assert round(bend, 4) == 0.8557
    assert round(tension_n) == 1445
    assert round(kept, 2) == 0.80
    assert design_factor(breaking_n=18000, efficiency=1, tension_n=tension_n) == pytest.approx(
        12.46, abs=0.005
    )
    assert design_factor(breaking_n=18000, efficiency=kept, tension_n=tension_n) == pytest.approx(
        9.964, abs=5e-4
    )
    needed_n = breaking_needed_n(tension_n=tension_n, factor=10, efficiency=kept)
    assert round(needed_n / 1000, 2) == 18.06


def test_gross_factor_of_the_worked_example_counts_no_sheave():
    """13.11 is strength over weight: without the loss in the sheave."""
    factor = design_factor(breaking_n=18000, efficiency=1, tension_n=140 * 9.80665)

    assert round(factor, 2) == 13.11


@given(breaking_n=st.floats(5e3, 50e3), tension_n=st.floats(500, 4000), end=share, bend=share)
def test_design_factor_is_the_growth_of_the_load_at_which_the_first_place_gives(
    breaking_n, tension_n, end, bend
):
    """Load grown until end or bend breaks, by root finding on the strength that is left."""

    def left_n(times):
        return min(breaking_n * end, breaking_n * bend) - tension_n * times

    factor = design_factor(
        breaking_n=breaking_n,
        efficiency=weakest_efficiency(termination=end, bending=bend),
        tension_n=tension_n,
    )

    assert factor == pytest.approx(brentq(left_n, 0, 1000), rel=1e-6)


@given(tension_n=st.floats(500, 4000), factor=st.floats(3, 15), kept=share)
def test_line_bought_as_strong_as_needed_has_exactly_the_factor(tension_n, factor, kept):
    breaking_n = breaking_needed_n(tension_n=tension_n, factor=factor, efficiency=kept)

    reached = design_factor(breaking_n=breaking_n, efficiency=kept, tension_n=tension_n)

    assert reached == pytest.approx(factor)


@given(sheave_m=st.floats(0.02, 0.3), smaller=st.floats(0.3, 1), line_m=st.floats(0.003, 0.006))
def test_smaller_sheave_or_thicker_line_never_keeps_more(sheave_m, smaller, line_m):
    kept = bending_efficiency(sheave_diameter_m=sheave_m, line_diameter_m=line_m)

    tighter = bending_efficiency(
        sheave_diameter_m=max(line_m, sheave_m * smaller), line_diameter_m=line_m
    )
    thicker = bending_efficiency(sheave_diameter_m=sheave_m, line_diameter_m=line_m * 1.2)

    assert tighter <= kept
    assert thicker < kept


@given(
    breaking_n=st.floats(5e3, 50e3),
    tension_n=st.floats(500, 4000),
    extra_n=st.floats(0, 500),
    kept=share,
    worn=st.floats(0.5, 1),
)
def test_heavier_load_or_weaker_place_never_betters_the_factor(
    breaking_n, tension_n, extra_n, kept, worn
):
    now = {"breaking_n": breaking_n, "efficiency": kept, "tension_n": tension_n}

    factor = design_factor(**now)

    assert design_factor(**{**now, "tension_n": tension_n + extra_n}) <= factor
    assert design_factor(**{**now, "efficiency": kept * worn}) <= factor
    assert design_factor(**{**now, "breaking_n": breaking_n * worn}) <= factor


@pytest.mark.parametrize("sheave_m", [0.0, 0.0049])
def test_bend_sharper_than_the_line_is_refused(sheave_m):
    with pytest.raises(
        ValueError, match=rf"at least as thick as the line \(0\.005 m\), got {sheave_m:g}"
    ):
        bending_efficiency(sheave_diameter_m=sheave_m, line_diameter_m=0.005)


def test_15_m_of_5_mm_wire_weigh_14_7_n():
    mass_kg = hanging_line_kg(length_m=15, density_kg_per_m3=4000, line_diameter_m=0.005)

    assert round(weight_n(mass_kg), 1) == 14.7


@pytest.mark.parametrize("suspended_m", [-1.0, 3000 * FOOT_M, 1000.0])
def test_shaft_rope_outside_the_formula_is_refused(suspended_m):
    with pytest.raises(ValueError, match="holds for 0 to 3000 ft of rope, got"):
        shaft_rope_factor(suspended_m=suspended_m)


@pytest.mark.parametrize(
    ("ft_per_min", "factor"), [(0, 7.60), (50, 7.60), (51, 7.75), (275, 9.20), (600, 10.70)]
)
def test_hoist_between_two_printed_speeds_takes_the_factor_of_the_faster(ft_per_min, factor):
    assert personnel_hoist_factor(rope_speed_m_per_s=ft_per_min * FOOT_M / 60) == factor


def test_hoist_faster_than_the_table_is_refused():
    with pytest.raises(ValueError, match="holds up to 600 ft/min, got 601 ft/min"):
        personnel_hoist_factor(rope_speed_m_per_s=601 * FOOT_M / 60)


def test_faster_hoists_never_need_less():
    factors = [factor for _, factor in PERSONNEL_HOIST_FACTORS]

    assert factors == sorted(factors)
    assert [speed for speed, _ in PERSONNEL_HOIST_FACTORS] == sorted(dict(PERSONNEL_HOIST_FACTORS))


@pytest.mark.parametrize(
    ("document", "clause", "factor"),
    [
        ("29 CFR 1926.451", "(a)(3)", 6),
        ("29 CFR 1926.451", "(a)(4)", 6),
        ("29 CFR 1910.66", "(f)(7)(ii)", 10),
    ],
)
def test_factor_stands_under_the_clause_that_prints_it(document, clause, factor):
    found = [one for one in DESIGN_FACTORS if (one.document, one.clause) == (document, clause)]

    assert [one.factor for one in found] == [factor]


@pytest.mark.parametrize(
    ("document", "clause", "count"),
    [
        ("29 CFR 1926.451", "(d)(6)", 4),
        ("29 CFR 1910.66", "(f)(7)(ix)", 3),
        ("30 CFR 75.1436", "(b)", 3),
        ("Army TB 43-0142", "(7)", 2),
        ("2006/42/EC", "Annex I 6.1.1: as a general rule", 2),
    ],
)
def test_count_stands_under_the_clause_that_prints_it(document, clause, count):
    found = [one for one in LEAST_COUNTS if (one.document, one.clause) == (document, clause)]

    assert [one.count for one in found] == [count]


def test_factors_of_machines_that_lift_persons_are_twice_the_printed_ones_as_a_general_rule():
    """2006/42/EC, Annex I: 5, 4, 7 and 4, doubled by 6.1.1."""
    rows = [one for one in DESIGN_FACTORS if one.document == "2006/42/EC"]

    assert [one.factor for one in rows] == [2 * 5, 2 * 4, 2 * 7, 2 * 4]
    assert all("as a general rule" in one.clause for one in rows)


def test_a_row_names_its_document_unless_it_is_a_choice_of_ours():
    rows = (*DESIGN_FACTORS, *LEAST_COUNTS, *TERMINATIONS, *SHEAVE_RATIOS)

    assert all((one.document == "") == (Mark(one.mark) is Mark.CHOICE) for one in rows)


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        pytest.param(
            lambda: design_factor(breaking_n=18e3 * N, efficiency=0.8, tension_n=1400 * N),
            "[]",
            id="design_factor",
        ),
        pytest.param(
            lambda: hanging_line_kg(
                length_m=60 * M,
                density_kg_per_m3=4000 * UNITS.kilogram / M**3,
                line_diameter_m=0.005 * M,
            ),
            "[mass]",
            id="hanging_line_kg",
        ),
        pytest.param(
            lambda: breaking_needed_n(tension_n=1400 * N, factor=10, efficiency=0.8),
            "[force]",
            id="breaking_needed_n",
        ),
    ],
)
def test_result_has_the_dimension_its_name_says(result, dimension):
    assert result().check(dimension)


@given(scale=st.floats(0.1, 10))
def test_bend_is_a_matter_of_the_ratio_alone(scale):
    """For the dimension: `math.sqrt` takes no quantity."""
    kept = bending_efficiency(sheave_diameter_m=0.06 * scale, line_diameter_m=0.005 * scale)

    assert math.isclose(
        kept, bending_efficiency(sheave_diameter_m=0.06, line_diameter_m=0.005), rel_tol=1e-9
    )
