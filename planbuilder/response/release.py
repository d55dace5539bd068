"""Air that goes bad in a closed space: gas let out, or people breathing. Well mixed, no fan.

A gas that is let out pushes air of the space out at the opening; without an opening the pressure
rises and the same part is reached a little later. Near the leak it is worse than in the mean.
"""

import math

from planbuilder.response.ventilation import lacking_oxygen

OUTSIDE_CARBON_DIOXIDE = 400e-6
"""Part of carbon dioxide in outside air."""


def displaced_part(*, oxygen: float, oxygen_of_air: float) -> float:
    """Part of the air that a gas without oxygen has displaced when *oxygen* is left."""
    return lacking_oxygen(oxygen) / oxygen_of_air


def rise_time_s(*, volume_m3: float, release_m3_per_s: float, start: float, danger: float) -> float:
    """Time in which a release brings its part from *start* to *danger*, in s; 0 if it is there.

    V/G ln((1 - C_0)/(1 - C)): for oxygen by an inert gas V/G ln(F_0/F), from clean air to a share
    of the lower flammable limit -V/G ln(1 - x LFL). Raises ValueError without a release or if the
    gas would fill the space.
    """
    if not release_m3_per_s > 0:
        raise ValueError(f"the release must be above 0 m3/s, got {release_m3_per_s:g}")
    if not max(start, danger) < 1:
        raise ValueError("a part of the air must be below the whole of it")
    return max(volume_m3 / release_m3_per_s * math.log((1 - start) / (1 - danger)), 0.0)


def oxygen_falls_s(*, volume_m3: float, loss_m3_per_s: float, start: float, danger: float) -> float:
    """Time in which oxygen lacking grows from *start* to *danger*, in s; 0 if it is there.

    V (C - C_0)/G: what rust or people use up is not replaced by another gas. Raises ValueError
    where nothing uses up oxygen.
    """
    if not loss_m3_per_s > 0:
        raise ValueError(f"the loss of oxygen must be above 0 m3/s, got {loss_m3_per_s:g}")
    return max(volume_m3 * (danger - start) / loss_m3_per_s, 0.0)


def oxygen_used_s(
    *, volume_m3: float, people: float, uptake_m3_per_s: float, oxygen: float
) -> float:
    """Time until *people* have breathed a closed space down to *oxygen*, in s."""
    return volume_m3 * lacking_oxygen(oxygen) / (people * uptake_m3_per_s)


def carbon_dioxide_built_up_s(
    *, volume_m3: float, people: float, output_m3_per_s: float, carbon_dioxide: float
) -> float:
    """Time until *people* have brought a closed space up to *carbon_dioxide*, in s.

    It comes long before oxygen runs low.
    """
    room = volume_m3 * (carbon_dioxide - OUTSIDE_CARBON_DIOXIDE)
    return room / (people * output_m3_per_s)
