"""Electric shock: from which voltage first aid must be near."""

LEAST_V = 50.0


def can_shock(voltage_v: float) -> bool:
    """Whether live parts at *voltage_v*, in V, ask for trained first aid nearby.

    29 CFR 1910.269(b)(1): employees exposed to 50 V or more.
    """
    return voltage_v >= LEAST_V
