"""The line of a winch: parts at the hook, and the sheaves that lead it on to the drum."""

from __future__ import annotations

from planbuilder.checks.lifting.rope_systems import pulley_efficiency
from planbuilder.checks.scene import AnyDevice, Way, derived
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.winch import line_force_at_drum_n, reeved_line_force_n
from planbuilder.site.equipment import PlateRates, RopeSystem, Winch


def line_parts(device: AnyDevice) -> Quantity:
    """Strands of the device's own line that carry the load: one, unless the winch is reeved."""
    stated_parts = device.parts if isinstance(device, Winch) else None
    note = "as reeved on the winch" if stated_parts else "a single line; no reeving is stated"
    return derived("n_parts", "parts of line", stated_parts or 1, Unit.COUNT, note)


def advantage_past(way: Way, device: AnyDevice, sheaves: int) -> Quantity:
    """Load at the hook over the pull of the line behind so many leading sheaves, while raising.

    Each sheave is counted with a half turn: a smaller turn loses less. A rope system counts its
    sheaves itself.
    """
    if isinstance(device, RopeSystem):
        return derived(
            "A_line", "load over line pull", 1.0, Unit.RATIO, "all the load on one strand"
        )
    parts, eta = line_parts(device), pulley_efficiency(way.scene, device)
    hook = reeved_line_force_n(load_n=1.0, parts=int(parts.value), efficiency=eta.value)
    pull = line_force_at_drum_n(line_force_n=hook, efficiencies=[eta.value] * sheaves)
    note = f"tension method, {parts.value:g} parts, then {sheaves} leading sheaves, "
    note += f"{eta.value:g} a sheave"
    return derived("A_line", "load over line pull", 1 / pull, Unit.RATIO, note, (parts, eta))


def advantage_at_drum(way: Way, device: AnyDevice) -> Quantity:
    """The same at the drum: past the head sheave of a winch, and past every redirect."""
    head = 1 if isinstance(device, Winch) else 0
    return advantage_past(way, device, head + len(way.rig.redirect if way.rig else ()))


def plate_share(way: Way, winch: Winch) -> Quantity:
    """What share of the load at the hook the plate's load is held against.

    A plate rates the load lifted, or the pull of the line at the drum. Where nobody says which,
    the one that asks for more counts.
    """
    line = advantage_at_drum(way, winch)
    pull = 1 / line.value
    match winch.plate_rates:
        case PlateRates.LIFTED_LOAD:
            share, note = 1.0, "the plate rates the load lifted"
        case PlateRates.LINE_PULL:
            share, note = pull, "1/A_line: the plate rates the pull of the line"
        case None:
            share, note = max(1.0, pull), "max(1, 1/A_line): plate_rates is not stated"
    return derived("k_plate", "part of the load on the plate", share, Unit.RATIO, note, (line,))
