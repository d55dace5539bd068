"""Horizontal line as an overhead anchor: sag, tension, what each end takes.

Derived (statics of a line between two rigid ends at one height). Halving the sag doubles the
tension. Each end anchor takes the tension along the line, not
the load; end anchors of a lifeline are for an engineer to confirm.
"""

import math

RELATIVE_SLACK = 1e-10


def midspan_tension_n(*, load_n: float, span_m: float, sag_m: float) -> float:
    """Tension of a line with *load_n* in the middle, in N; *sag_m* is that under the load."""
    return load_n * math.hypot(span_m / 2, sag_m) / (2 * sag_m)


def own_weight_at_midspan_n(weight_n: float) -> float:
    """Load in the middle, in N, that bends the line as its own weight does: half of it.

    Both have the same moment at midspan: w L / 2 in the middle pulls with w L^2 / (8 sag). Flat
    parabola, sag up to about a tenth of the span.
    """
    return weight_n / 2


def sag_angle_rad(*, span_m: float, sag_m: float) -> float:
    """Angle between the level and each half of the line, in rad."""
    return math.atan2(sag_m, span_m / 2)


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


def length_for_angle_m(
    *, load_n: float, span_m: float, angle_rad: float, modulus_n: float
) -> float:
    """Length of slack line, in m, that hangs at *angle_rad* under *load_n* in the middle.

    What `elastic_sag_m` gives, the other way round: the length along that sag, less the stretch
    under its tension. Raises ValueError unless the angle is above 0 and below a quarter turn.
    """
    if not 0 < angle_rad < math.pi / 2:
        raise ValueError(f"sag angle must be above 0 and below pi/2 rad, got {angle_rad:g}")
    sag_m = span_m / 2 * math.tan(angle_rad)
    tension_n = midspan_tension_n(load_n=load_n, span_m=span_m, sag_m=sag_m)
    return 2 * math.hypot(span_m / 2, sag_m) / (1 + tension_n / modulus_n)


def _carried_n(sag_m: float, span_m: float, slack_length_m: float, modulus_n: float) -> float:
    """Load that the line stretched to *sag_m* carries in the middle."""
    half_m = math.hypot(span_m / 2, sag_m)
    tension_n = modulus_n * (2 * half_m - slack_length_m) / slack_length_m
    return 2 * tension_n * sag_m / half_m
