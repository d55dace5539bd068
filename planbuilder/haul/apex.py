"""Where the head of a tripod with three equal legs stands, feet level or not.

Derived (geometry). On uneven ground the plane of the feet leans and the head leans with it: it
stands over the middle of the circle through the feet, square to their plane, not over their middle.
"""

import math
from collections.abc import Sequence

Vector = tuple[float, float, float]


def apex_m(*, feet: Sequence[Vector], leg_length_m: float) -> Vector:
    """The head of three legs of *leg_length_m* that stand on *feet*; z is up.

    Raises ValueError if the feet lie in one line, or the legs are too short to meet.
    """
    first, second, third = feet
    u, v = _minus(second, first), _minus(third, first)
    normal = _cross(u, v)
    area2 = _dot(normal, normal)
    if area2 <= 0:
        raise ValueError(f"three feet must not stand in one line, got {list(feet)}")
    # Middle of the circle through the feet, from the first foot.
    along_u = _dot(v, v) * (_dot(u, u) - _dot(u, v)) / (2 * area2)
    along_v = _dot(u, u) * (_dot(v, v) - _dot(u, v)) / (2 * area2)
    radius2 = sum((along_u * a + along_v * b) ** 2 for a, b in zip(u, v, strict=True))
    if radius2 >= leg_length_m**2:
        raise ValueError(
            f"legs of {leg_length_m:g} m are too short for a foot circle of "
            f"{math.sqrt(radius2):g} m"
        )
    height = math.sqrt((leg_length_m**2 - radius2) / area2)
    up = height if normal[2] >= 0 else -height
    x, y, z = (
        f + along_u * a + along_v * b + up * n
        for f, a, b, n in zip(first, u, v, normal, strict=True)
    )
    return x, y, z


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _cross(one: Vector, other: Vector) -> Vector:
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )
