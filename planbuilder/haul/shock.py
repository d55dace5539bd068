"""Shock on a line: slack that runs out, a sudden stop, an energy absorber.

Undamped, linear line without mass on a rigid anchor, derived (energy): an upper bound for textile,
whose damping lowers the peak, and close for wire. Wire is some 28 times as stiff as rope, so a
hand's breadth of slack on wire is a shock that rope would hardly feel. Keep wire taut, and put the
absorber on the casualty's side.
"""

import math
from collections.abc import Sequence

from planbuilder.haul.load import weight_n as weight_of_mass_n

WIRE_METAL_SHARE = 0.40
"""Metal area of round-strand wire rope over its diameter squared. Recalled."""

WIRE_ELASTICITY_N_PER_M2 = 90e9
"""Elastic modulus of a round-strand wire rope. Recalled."""


def rope_modulus_n(*, force_step_n: float, elongation: float) -> float:
    """Modulus of a rope, in N, from a label that gives its elongation (0.03 is 3 %) at a force.

    By definition dF/d(strain). A low elongation gives a stiff rope and a high shock; a high one
    gives a long stretch: for either question take the end of the label's range that gives more.
    """
    return force_step_n / elongation


def wire_modulus_n(*, line_diameter_m: float) -> float:
    """Modulus E A of a round-strand wire rope, in N; its area and E are recalled."""
    return WIRE_METAL_SHARE * line_diameter_m * line_diameter_m * WIRE_ELASTICITY_N_PER_M2


def series_stiffness_n_per_m(pieces: Sequence[tuple[float, float]]) -> float:
    """Stiffness, in N/m, of pieces of line one after the other, each (length in m, modulus in N).

    Derived: stretches add. Several strands side by side are one piece of so many times the modulus.
    Raises ValueError unless the pieces together have a length.
    """
    give_m_per_n = sum(length_m / modulus_n for length_m, modulus_n in pieces)
    if give_m_per_n <= 0:
        raise ValueError("between grip and load lies no line that could stretch")
    return 1 / give_m_per_n


def slack_drop_force_n(*, weight_n: float, stiffness_n_per_m: float, slack_m: float) -> float:
    """Peak force on line and anchor, in N, when the load falls through *slack_m* of slack.

    Derived (energy). Without slack it is twice the weight: a load let go onto a just-taut line.
    By fall factor: one metre of line has its modulus for stiffness and the factor for slack.
    """
    spring_n = 2 * stiffness_n_per_m * slack_m
    return weight_n + math.sqrt(weight_n * (weight_n + spring_n))


def least_peak_n(weight_n: float) -> float:
    """Least peak force that a load caught by an elastic line makes, in N: twice its weight.

    Derived. A force limit below it allows no slack at all, and the line must never be let go.
    """
    return 2 * weight_n


def sudden_stop_force_n(*, mass_kg: float, speed_m_per_s: float, stiffness_n_per_m: float) -> float:
    """Peak force on the line, in N, when a load moving down is stopped dead at the winch.

    Derived (energy, about the hanging rest): weight plus speed times the root of mass by stiffness.
    """
    surge_n = speed_m_per_s * math.sqrt(mass_kg * stiffness_n_per_m)
    return weight_of_mass_n(mass_kg) + surge_n


def absorber_travel_m(*, weight_n: float, free_fall_m: float, absorber_force_n: float) -> float:
    """How far an energy absorber runs out at its constant force, in m.

    Derived (energy): the load loses height through fall and travel, the absorber takes it up.
    Raises ValueError unless the absorber force is above the weight: else it never stops the load.
    """
    if absorber_force_n <= weight_n:
        raise ValueError(
            f"absorber force must be above the weight of {weight_n:g} N, got {absorber_force_n:g} N"
        )
    return weight_n * free_fall_m / (absorber_force_n - weight_n)


def largest_slack_m(*, weight_n: float, stiffness_n_per_m: float, force_limit_n: float) -> float:
    """Most slack that keeps the peak force within *force_limit_n*, in m.

    Derived: `slack_drop_force_n` solved for the slack; 0 at a limit of exactly twice the weight.
    Raises ValueError if the limit is below twice the weight, which no slack keeps.
    """
    if force_limit_n < least_peak_n(weight_n):
        raise ValueError(
            f"no slack keeps the peak below twice the weight, {least_peak_n(weight_n):g} N, "
            f"got a limit of {force_limit_n:g} N"
        )
    return force_limit_n * (force_limit_n - 2 * weight_n) / (2 * weight_n * stiffness_n_per_m)
