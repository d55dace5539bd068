"""How hard it is to get at a casualty through an opening, by the marks of a practice space."""

ELEVATED_M = 1.2192  # 4 ft


def is_elevated(above_ground_m: float) -> bool:
    """Whether an opening so high above the ground, in m, asks for skill at height.

    29 CFR 1910.146 App F B.10(2): 4 ft or more; guidance.
    """
    return above_ground_m >= ELEVATED_M - 1e-9
