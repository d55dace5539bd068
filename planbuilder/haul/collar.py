"""Collar seated in a round opening: how the ring bears, when it lifts and tips.

Derived (thin ring on a rigid even ledge). The neck that reaches into the opening takes the couple
once the ring has begun to lift.
"""

import math
from enum import StrEnum

# Of the mean radius: eccentricity up to which a thin ring bears all round (its kern).
KERN_SHARE = 0.5
BISECTIONS = 60


class Contact(StrEnum):
    """How much of the ring bears on the ledge."""

    FULL = "full"
    PARTIAL = "partial"
    TIPS = "tips"


def eccentricity_m(*, moment_nm: float, vertical_n: float) -> float:
    """Distance from the ring's middle to where the load presses on it, in m."""
    return moment_nm / vertical_n


def contact(*, eccentricity_m: float, radius_m: float) -> Contact:
    """Full up to half the mean radius, partial up to the radius, from there on the collar tips."""
    if eccentricity_m >= radius_m:
        return Contact.TIPS
    return Contact.FULL if eccentricity_m <= KERN_SHARE * radius_m else Contact.PARTIAL


def ring_bearing_n_per_m(
    *, vertical_n: float, moment_nm: float, radius_m: float, from_load_rad: float
) -> float:
    """Bearing along the ring, in N/m, at an angle from the side of the load.

    Straight-line distribution: holds while the contact is full. A result below 0 is where the ring
    would lift.
    """
    even_n_per_m = vertical_n / (2 * math.pi * radius_m)
    return even_n_per_m + moment_nm * math.cos(from_load_rad) / (math.pi * radius_m**2)


def peak_bearing_n_per_m(*, vertical_n: float, moment_nm: float, radius_m: float) -> float:
    """Greatest bearing of the ring, in N/m, where it can press but not pull and no neck helps.

    In full contact that of `ring_bearing_n_per_m`. In partial contact the bearing falls in
    proportion to distance, to nothing at the angle where the ring lifts; the load settles that
    angle. Raises ValueError if the collar tips.
    """
    ratio = moment_nm / (vertical_n * radius_m)
    if ratio >= 1:
        raise ValueError(
            f"the load must press inside the ring ({radius_m:g} m), got {ratio * radius_m:g} m"
        )
    if ratio <= KERN_SHARE:
        return ring_bearing_n_per_m(
            vertical_n=vertical_n, moment_nm=moment_nm, radius_m=radius_m, from_load_rad=0.0
        )
    lifts_rad = _lift_angle_rad(ratio)
    share = (1 - math.cos(lifts_rad)) / (
        2 * (math.sin(lifts_rad) - lifts_rad * math.cos(lifts_rad))
    )
    return vertical_n / radius_m * share


def neck_couple_n(*, moment_nm: float, neck_depth_m: float) -> float:
    """Level force of the neck on the opening, top one way and bottom the other, in N.

    The whole moment on the neck: what a partly lifted ring still takes is left out.
    """
    return moment_nm / neck_depth_m


def _lift_angle_rad(ratio: float) -> float:
    """Angle from the load side at which the ring lifts, for eccentricity over radius *ratio*."""
    near_rad, far_rad = 0.0, math.pi
    for _ in range(BISECTIONS):
        middle_rad = (near_rad + far_rad) / 2
        sine, cosine = math.sin(middle_rad), math.cos(middle_rad)
        pressed = 2 * (sine - middle_rad * cosine)
        if middle_rad - sine * cosine > ratio * pressed:
            near_rad = middle_rad
        else:
            far_rad = middle_rad
    return (near_rad + far_rad) / 2
