"""Horizontal line as an overhead anchor: sag, tension, what each end takes.

Derived (statics of a line between two rigid ends at one height, its own weight left out unless
said). Halving the sag doubles the tension. Each end anchor takes the tension along the line, not
the load; end anchors of a lifeline are for an engineer to confirm.
"""

import math

RELATIVE_SLACK = 1e-10


def midspan_tension_n(*, load_n: float, span_m: float, sag_m: float) -> float:
    """Tension of a line with *load_n* in the middle, in N; *sag_m* is that under the load."""
    return load_n * math.hypot(span_m / 2, sag_m) / (2 * sag_m)


def flat_tension_n(*, load_n: float, span_m: float, sag_m: float) -> float:
    """Level part of the same tension, in N; close to all of it while the sag is small."""
    return load_n * span_m / (4 * sag_m)


def uniform_tension_n(*, load_n_per_m: float, span_m: float, sag_m: float) -> float:
    """Level tension of a line under an even load such as its own weight, in N. Flat parabola."""
    return load_n_per_m * span_m**2 / (8 * sag_m)


def sag_angle_rad(*, span_m: float, sag_m: float) -> float:
    """Angle between the level and each half of the line, in rad."""
    return math.atan2(sag_m, span_m / 2)


def tension_ratio(*, angle_rad: float) -> float:
    """Tension over load at a sag angle: 1 at 30 degrees, about 2 at 15, about 6 at 5."""
    return 1 / (2 * math.sin(angle_rad))


def elastic_sag_m(
    *, load_n: float, span_m: float, slack_length_m: float, modulus_n: float
) -> float:
    """Sag under *load_n* in the middle of an elastic line, in m.

    *slack_length_m* is the line's length without tension, *modulus_n* its E A. The load of the
    stretched line grows with the sag; halving finds where it is *load_n*, to 1e-10 of the sag.
    Raises ValueError unless load, span, length and modulus are above 0.
    """
    if min(load_n, span_m, slack_length_m, modulus_n) <= 0:
        raise ValueError(
            "load, span, length and modulus must be above 0, got "
            f"{load_n:g} N, {span_m:g} m, {slack_length_m:g} m and {modulus_n:g} N"
        )
    low_m = math.sqrt(max(0.0, slack_length_m**2 - span_m**2)) / 2
    high_m = low_m + span_m
    while _carried_n(high_m, span_m, slack_length_m, modulus_n) < load_n:
        low_m, high_m = high_m, 2 * high_m
    while high_m - low_m > RELATIVE_SLACK * high_m:
        sag_m = (low_m + high_m) / 2
        if _carried_n(sag_m, span_m, slack_length_m, modulus_n) < load_n:
            low_m = sag_m
        else:
            high_m = sag_m
    return high_m


def _carried_n(sag_m: float, span_m: float, slack_length_m: float, modulus_n: float) -> float:
    """Load that the line stretched to *sag_m* carries in the middle."""
    half_m = math.hypot(span_m / 2, sag_m)
    tension_n = modulus_n * (2 * half_m - slack_length_m) / slack_length_m
    return 2 * tension_n * sag_m / half_m
