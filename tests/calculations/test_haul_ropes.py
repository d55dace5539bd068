"""Rope systems against a linear solve of strand tensions, and worked examples.

The printed advantages are worked examples, derived and cross-checked. The oracle knows no closed
form: it writes one equation for each sheave and each joint and lets numpy solve them together.
"""

import numpy as np
import pytest

from planbuilder.haul.friction import edge_factor, roller_factor
from planbuilder.haul.ropes import (
    Reeving,
    advantage,
    haul_force_n,
    ideal_advantage,
    people_needed,
)

SIMPLE, COMPOUND, COMPLEX_5 = Reeving.SIMPLE, Reeving.COMPOUND, Reeving.COMPLEX_5

SYSTEMS = {
    "2:1": (SIMPLE, (2,)),
    "3:1": (SIMPLE, (3,)),
    "4:1 simple": (SIMPLE, (4,)),
    "5:1 simple": (SIMPLE, (5,)),
    "6:1 simple": (SIMPLE, (6,)),
    "4:1 compound": (COMPOUND, (2, 2)),
    "6:1 compound": (COMPOUND, (2, 3)),
    "9:1 compound": (COMPOUND, (3, 3)),
    "5:1 complex": (COMPLEX_5, (5,)),
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


class Strands:
    """Unknown tensions and their equations; the haul strand is number 0 with tension 1."""

    def __init__(self, efficiency):
        self.efficiency = efficiency
        self.rows = [({0: 1.0}, 1.0)]
        self.count = 1

    def joint(self, *pulling):
        """A new strand that carries the sum of the strands *pulling* on it."""
        strand = self.count
        self.count += 1
        self.rows.append(({strand: 1.0, **dict.fromkeys(pulling, -1.0)}, 0.0))
        return strand

    def sheave(self, hauled):
        """A new strand on the load side of a sheave."""
        strand = self.count
        self.count += 1
        self.rows.append(({strand: 1.0, hauled: -self.efficiency}, 0.0))
        return strand

    def tension(self, strand):
        matrix, right = np.zeros((self.count, self.count)), np.zeros(self.count)
        for row, (terms, value) in enumerate(self.rows):
            right[row] = value
            for column, factor in terms.items():
                matrix[row, column] = factor
        return np.linalg.solve(matrix, right)[strand]


def simple_stage(strands, haul, parts):
    """Strand that feels a simple tackle of *parts* pulled at the strand *haul*."""
    at_load = [haul]
    while len(at_load) < parts:
        at_load.append(strands.sheave(at_load[-1]))
    return strands.joint(*at_load)


def tension_at_load(reeving, parts, efficiency, redirects=0):
    strands, end = Strands(efficiency), 0
    for _ in range(redirects):
        end = strands.sheave(end)
    match reeving:
        case Reeving.SIMPLE | Reeving.COMPOUND:
            for stage in parts:
                end = simple_stage(strands, end, stage)
        case Reeving.COMPLEX_5:
            # haul -> A -> a -> moving pulley B -> b -> anchor pulley C -> c -> load.
            # A hangs on b and pulls it away from C; B hangs on the load.
            strand_a = strands.sheave(end)
            strand_b = strands.sheave(strand_a)
            beyond_a = strands.joint(strand_b, end, strand_a)
            strand_c = strands.sheave(beyond_a)
            end = strands.joint(strand_c, strand_a, strand_b)
    return strands.tension(end)


@pytest.mark.parametrize(("name", "efficiency", "printed"), TABLE)
def test_advantage_is_the_one_of_the_table_and_of_the_strand_tensions(name, efficiency, printed):
    reeving, parts = SYSTEMS[name]

    ours = advantage(reeving=reeving, parts=parts, efficiency=efficiency, redirects=0)

    # Three entries lie exactly half-way (2.5725, 3.0625, 3.8025); the table rounds them up.
    assert ours == pytest.approx(printed, abs=0.0005 + 1e-9)
    assert ours == pytest.approx(tension_at_load(reeving, parts, efficiency), rel=1e-12)


@pytest.mark.parametrize("name", SYSTEMS)
def test_without_friction_it_is_the_ideal_advantage(name):
    reeving, parts = SYSTEMS[name]
    ideal = ideal_advantage(reeving=reeving, parts=parts)

    assert f"{ideal}:1" == name.split()[0]
    assert tension_at_load(reeving, parts, 1.0) == pytest.approx(ideal)
    assert advantage(reeving=reeving, parts=parts, efficiency=1.0, redirects=3) == ideal


@pytest.mark.parametrize("redirects", [0, 1, 2])
@pytest.mark.parametrize("name", SYSTEMS)
def test_each_redirect_costs_one_more_sheave(name, redirects):
    reeving, parts = SYSTEMS[name]

    ours = advantage(reeving=reeving, parts=parts, efficiency=0.9, redirects=redirects)

    assert ours == pytest.approx(tension_at_load(reeving, parts, 0.9, redirects), rel=1e-12)


def test_compound_takes_more_than_two_stages():
    ours = advantage(reeving=COMPOUND, parts=(2, 3, 2), efficiency=0.9, redirects=0)

    assert ours == pytest.approx(tension_at_load(COMPOUND, (2, 3, 2), 0.9), rel=1e-12)
    assert ideal_advantage(reeving=COMPOUND, parts=(2, 3, 2)) == 12


def test_compound_of_one_stage_is_that_simple_system():
    ours = advantage(reeving=COMPOUND, parts=(3,), efficiency=0.9, redirects=0)

    assert ours == pytest.approx(tension_at_load(SIMPLE, (3,), 0.9), rel=1e-12)


def test_one_part_of_rope_gains_nothing():
    for reeving, parts in ((SIMPLE, (1,)), (COMPOUND, (1, 1))):
        assert advantage(reeving=reeving, parts=parts, efficiency=0.9, redirects=0) == 1


@pytest.mark.parametrize(
    ("name", "force_n"),
    [
        ("2:1", 774.2),
        ("3:1", 542.8),
        ("4:1 simple", 427.7),
        ("5:1 simple", 359.2),
        ("6:1 simple", 313.9),
        ("4:1 compound", 407.5),
        ("6:1 compound", 285.7),
        ("9:1 compound", 200.3),
        ("5:1 complex", 354.5),
    ],
)
def test_150_kg_need_the_haul_force_of_the_worked_example(name, force_n):
    reeving, parts = SYSTEMS[name]
    real = advantage(reeving=reeving, parts=parts, efficiency=0.9, redirects=0)

    assert round(haul_force_n(system_load_n=150 * 9.80665, advantage=real), 1) == force_n


@pytest.mark.parametrize(
    ("force_per_person_n", "people"), [(225, 3), (133.4, 5), (188, 4), (130, 6)]
)
def test_casualty_with_attendant_on_a_five_to_one(force_per_person_n, people):
    """Worked example: 2329 N over a roller of 0.95, then 5:1 and one redirect at 0.90."""
    real = advantage(reeving=SIMPLE, parts=(5,), efficiency=0.9, redirects=1)
    load_n = 237.5 * 9.80665 * roller_factor(efficiency=0.95)
    force_n = haul_force_n(system_load_n=load_n, advantage=real)

    assert round(real, 3) == 3.686
    assert round(load_n) == 2452
    assert round(force_n, 1) == 665.2
    assert people_needed(haul_force_n=force_n, force_per_person_n=force_per_person_n) == people


def test_four_part_block_pulled_off_the_fixed_block_needs_448_3_n():
    """Worked example: 141.5 kg, sheaves at 0.90."""
    real = advantage(reeving=SIMPLE, parts=(4,), efficiency=0.9, redirects=1)

    assert round(haul_force_n(system_load_n=141.5 * 9.80665, advantage=real), 1) == 448.3


def test_concrete_edge_brings_a_three_to_one_down_to_1_358():
    """Worked example: 150 kg, friction 0.44 over 90 degrees, then 3:1 at 0.90."""
    weight_n = 150 * 9.80665
    load_n = weight_n * edge_factor([(0.44, np.pi / 2)])
    real = advantage(reeving=SIMPLE, parts=(3,), efficiency=0.9, redirects=0)
    force_n = haul_force_n(system_load_n=load_n, advantage=real)

    assert round(force_n) == 1083
    assert round(weight_n / force_n, 3) == 1.358


@pytest.mark.parametrize(
    ("force_n", "people"), [(675.0, 3), (225 * 3 * (1 + 1e-12), 3), (675.1, 4), (0.3, 1)]
)
def test_people_are_rounded_up_but_not_by_a_binary_fraction(force_n, people):
    assert people_needed(haul_force_n=force_n, force_per_person_n=225.0) == people


@pytest.mark.parametrize(
    ("reeving", "parts"),
    [
        (SIMPLE, ()),
        (SIMPLE, (3, 3)),
        (SIMPLE, (0,)),
        (COMPOUND, ()),
        (COMPOUND, (3, 0)),
        (COMPLEX_5, (3,)),
        (COMPLEX_5, (5, 2)),
    ],
)
def test_parts_that_do_not_fit_the_reeving_are_refused(reeving, parts):
    with pytest.raises(ValueError, match=f"{reeving} reeving takes .*, got "):
        advantage(reeving=reeving, parts=parts, efficiency=0.9, redirects=0)
    with pytest.raises(ValueError, match=f"{reeving} reeving takes .*, got "):
        ideal_advantage(reeving=reeving, parts=parts)


def test_simple_systems_on_carabiners_never_pass_two_to_one():
    """Each carabiner passes on half: the sum of 1, 1/2, 1/4 ... stays below 2."""
    best = max(
        advantage(reeving=SIMPLE, parts=(n,), efficiency=0.5, redirects=0) for n in range(1, 12)
    )

    assert best < 2
    assert best > advantage(reeving=COMPLEX_5, parts=(5,), efficiency=0.5, redirects=0)
