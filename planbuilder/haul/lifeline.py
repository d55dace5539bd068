"""Horizontal line as an overhead anchor: sag, tension, what each end takes.

Derived (statics of a line between two rigid ends at one height). Halving the sag doubles the
tension. Each end anchor takes the tension along the line, not
the load; end anchors of a lifeline are for an engineer to confirm. Loaded, the line is two straight
halves; by itself it hangs in a bow.
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


def bow_length_m(*, span_m: float, sag_m: float) -> float:
    """Length of a line that hangs *sag_m* by its own weight, in m: a parabola, exactly."""
    steep = 4 * sag_m / span_m
    return span_m / 2 * (math.hypot(1, steep) + math.asinh(steep) / steep)


def level_pull_n(*, weight_n: float, span_m: float, sag_m: float) -> float:
    """Level tension of a line of *weight_n* that hangs *sag_m* by itself, in N: w S^2 / (8 sag)."""
    return weight_n * span_m / (8 * sag_m)


def slack_of_hanging_m(*, span_m: float, sag_m: float, weight_n: float, modulus_n: float) -> float:
    """Length without tension, in m, of a line that hangs *sag_m* by its own weight.

    The bow, less the stretch under the pull it takes to hold it so flat: a taut line is shorter
    than its span. Raises ValueError unless the weight is above 0: without it nothing hangs. Sag up
    to about a tenth of the span.
    """
    if weight_n <= 0:
        raise ValueError(f"a line that hangs has a weight above 0, got {weight_n:g} N")
    pull_n = level_pull_n(weight_n=weight_n, span_m=span_m, sag_m=sag_m)
    return bow_length_m(span_m=span_m, sag_m=sag_m) / (1 + pull_n / modulus_n)


def hanging_sag_m(
    *, span_m: float, slack_length_m: float, weight_n: float, modulus_n: float
) -> float:
    """Sag of the line by its own weight, in m: what `slack_of_hanging_m` gives, the other way."""
    low_m, high_m = 0.0, span_m
    line = {"span_m": span_m, "weight_n": weight_n, "modulus_n": modulus_n}
    while slack_of_hanging_m(sag_m=high_m, **line) < slack_length_m:
        low_m, high_m = high_m, 2 * high_m
    while high_m - low_m > RELATIVE_SLACK * high_m:
        sag_m = (low_m + high_m) / 2
        if slack_of_hanging_m(sag_m=sag_m, **line) < slack_length_m:
            low_m = sag_m
        else:
            high_m = sag_m
    return low_m


def angle_for_tension_rad(*, load_n: float, tension_n: float) -> float:
    """Angle of the loaded line, in rad, at which it pulls with *tension_n*.

    Raises ValueError unless the tension is above half the load: a line that hangs straight down
    takes that much in each half.
    """
    if tension_n <= load_n / 2:
        raise ValueError(
            f"the tension must be above half the load ({load_n / 2:g} N), got {tension_n:g} N"
        )
    return math.asin(load_n / (2 * tension_n))


def _carried_n(sag_m: float, span_m: float, slack_length_m: float, modulus_n: float) -> float:
    """Load that the line stretched to *sag_m* carries in the middle."""
    half_m = math.hypot(span_m / 2, sag_m)
    tension_n = modulus_n * (2 * half_m - slack_length_m) / slack_length_m
    return 2 * tension_n * sag_m / half_m
