"""Anchor post on a platform: its allowed force falls with the height of the attachment.

Derived: the moment at the foot governs, the same post in the same direction. Says nothing about
the platform below, which the maker or an engineer answers for.
"""


def base_moment_nm(*, force_n: float, height_m: float) -> float:
    """Moment at the foot of the post, in N m, of a level force at a height above it."""
    return force_n * height_m


def allowed_force_n(*, rated_force_n: float, rated_height_m: float, height_m: float) -> float:
    """Level force allowed at *height_m* of a post rated at *rated_height_m*, in N.

    Falls as 1 over height. Lower down it stays at the rating: bolts or welds in shear may govern
    there. An extension counts in the height. Raises ValueError unless both heights are above 0.
    """
    if min(rated_height_m, height_m) <= 0:
        raise ValueError(
            f"heights must be above 0 m, got rated {rated_height_m:g} m and {height_m:g} m"
        )
    return rated_force_n * min(1.0, rated_height_m / height_m)


def highest_attachment_m(*, rated_force_n: float, rated_height_m: float, force_n: float) -> float:
    """Greatest height at which the post still takes *force_n*, in m.

    Raises ValueError unless the force is above 0 and at most the rating: no height helps then.
    """
    if not 0 < force_n <= rated_force_n:
        raise ValueError(
            f"force must be above 0 and at most the rating ({rated_force_n:g} N), got {force_n:g} N"
        )
    return rated_height_m * rated_force_n / force_n
