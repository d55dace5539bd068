"""Gaps to a power line, against swept shapes and the worked example of the design."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from planbuilder.checks.room.approach_tables import approach_tables
from planbuilder.clearance.approach import (
    farthest_point_m,
    standing_gap_m,
    standing_line_distance_m,
    tabled_distance_m,
    toppling_gap_m,
    toppling_line_distance_m,
)
from planbuilder.findings import Mark
from planbuilder.tables import documents

LENGTH = st.floats(0.1, 20)


def test_worked_example_of_both_envelopes() -> None:
    """W26. Line 6.0 m off at 7.5 m; reach 1.2 m, top 3.2 m, farthest point 3.35 m from the foot."""
    line = {"line_distance_m": 6.0, "line_height_m": 7.5}

    assert standing_gap_m(**line, reach_m=1.2, top_m=3.2) == pytest.approx(6.444, abs=5e-4)
    gap_m = toppling_gap_m(**line, base_m=0, farthest_m=3.35)
    assert gap_m == pytest.approx(6.255, abs=5e-4)


@given(LENGTH, LENGTH, LENGTH, LENGTH)
def test_standing_gap_is_the_distance_to_the_section_of_the_cylinder(
    off: float, high: float, reach: float, top: float
) -> None:
    swept = box(-reach, 0, reach, top)

    gap = standing_gap_m(line_distance_m=off, line_height_m=high, reach_m=reach, top_m=top)

    assert gap == pytest.approx(swept.distance(Point(off, high)), abs=1e-9)


@given(LENGTH, LENGTH, LENGTH, LENGTH, LENGTH)
def test_no_fall_comes_nearer_than_the_toppling_gap(
    off: float, high: float, reach: float, top: float, base: float
) -> None:
    """A boom pointing away or towards the line, falling over the foot on its side."""
    farthest = farthest_point_m(top_m=top, reach_m=reach, base_m=base)
    gap = toppling_gap_m(line_distance_m=off, line_height_m=high, base_m=base, farthest_m=farthest)
    foot = np.array([base, 0.0])
    for tip in (-reach, reach):
        arm = np.array([tip, top]) - foot
        for turn in np.linspace(0, math.pi, 60):
            over = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
            fallen = LineString([foot, foot + over @ arm])
            assert fallen.distance(Point(off, high)) >= gap - 1e-9


@given(LENGTH, LENGTH, LENGTH, LENGTH, st.floats(0.1, 15))
def test_the_distance_named_leaves_what_is_needed(
    high: float, reach: float, top: float, base: float, needed: float
) -> None:
    off = standing_line_distance_m(needed_m=needed, line_height_m=high, reach_m=reach, top_m=top)
    gap = standing_gap_m(line_distance_m=off, line_height_m=high, reach_m=reach, top_m=top)
    assert gap >= needed - 1e-9

    off = toppling_line_distance_m(needed_m=needed, line_height_m=high, base_m=base, farthest_m=top)
    gap = toppling_gap_m(line_distance_m=off, line_height_m=high, base_m=base, farthest_m=top)
    assert gap >= needed - 1e-9


@pytest.mark.parametrize("name", approach_tables())
@given(pair=st.tuples(st.floats(1, 1.2e6), st.floats(1, 1.2e6)))
def test_a_higher_voltage_never_asks_for_less(name: str, pair: tuple[float, float]) -> None:
    table = approach_tables()[name]
    for insulated in (False, True):
        asked = []
        for volts in sorted(pair):
            try:
                one = tabled_distance_m(
                    table.rows, table.step, voltage_v=volts, insulated=insulated
                )
            except ValueError:
                one = math.inf
            asked.append(one)
        assert asked[0] <= asked[1]


@pytest.mark.parametrize("name", approach_tables())
def test_an_unknown_voltage_is_held_to_the_strictest_row(name: str) -> None:
    table = approach_tables()[name]

    assert table.unknown_m >= max(row.distance_m for row in table.rows)
    assert all(row.insulated_m <= row.distance_m for row in table.rows)


@pytest.mark.parametrize("name", approach_tables())
def test_every_distance_has_a_document_or_says_how_it_follows(name: str) -> None:
    table = approach_tables()[name]

    assert table.source.document in documents()
    unknown = table.unknown_source
    assert unknown.document in documents() or (unknown.mark is Mark.DERIVED and unknown.note)
