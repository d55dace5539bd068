"""How long the lift takes."""


def lift_time_s(*, lift_m: float, line_speed_m_per_s: float, parts: float) -> float:
    """Time to raise the hook by *lift_m*, in s; the hook moves at line speed over *parts*.

    Derived. *line_speed_m_per_s* is the speed with the casualty on the line, not the unloaded one.
    Raises ValueError unless the line moves.
    """
    if line_speed_m_per_s <= 0:
        raise ValueError(f"line speed must be above 0 m/s, got {line_speed_m_per_s}")
    return lift_m * parts / line_speed_m_per_s
