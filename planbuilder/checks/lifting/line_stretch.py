"""How much the line gives: its modulus, and the stiffness of what lies between grip and load."""

from __future__ import annotations

from planbuilder.checks.asking import Needs
from planbuilder.checks.lifting.raise_time import parts_at_load
from planbuilder.checks.scene import AnyDevice, Way, derived, stated
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.haul.shock import rope_modulus_n, series_stiffness_n_per_m, wire_modulus_n
from planbuilder.site.equipment import Winch
from planbuilder.site.rig import Rig


def modulus(device: AnyDevice) -> Quantity | None:
    """The modulus of the line: as stated, by its label's elongation, or as wire of its diameter."""
    if device.line_stiffness is not None:
        key = f"device.{device.id}.line_stiffness"
        return stated("M", "modulus of the line", device.line_stiffness, Unit.N, key)
    if device.line_elongation is not None and device.line_elongation_at is not None:
        value = rope_modulus_n(
            force_step_n=device.line_elongation_at.value, elongation=device.line_elongation.value
        )
        note = f"{device.line_elongation.written} at {device.line_elongation_at.written}"
        return derived("M", "modulus of the line", value, Unit.N, note)
    if device.line_is == "wire" and device.line_diameter is not None:
        value = wire_modulus_n(line_diameter_m=device.line_diameter.m)
        return Quantity(
            symbol="M",
            label="modulus of the wire",
            value=value,
            unit=Unit.N,
            source=Source(mark=Mark.RECALLED, note="0.40*d**2 of metal, 90 GPa"),
        )
    return None


def stiffness(way: Way, rig: Rig, device: AnyDevice, needs: Needs) -> Quantity:
    """The stiffness of line and connectors where the line is shortest, which shocks hardest.

    That is with the casualty's attachment level with the rim: what hangs from the head, and what
    runs on to a drum. Several strands at the load share it side by side.
    """
    key = f"device.{device.id}"
    give = needs.keep(modulus(device), f"{key}.line_stiffness")
    top = needs.take("H", "hook height", rig.hook_height, Unit.M, way.key("rig.hook_height"))
    less = needs.take("h_con", "connectors", rig.connector, Unit.M, way.key("rig.connector"))
    on = derived("a", "head to drum", 0.0, Unit.M, "no drum")
    if isinstance(device, Winch):
        on = needs.take("a", "head to drum", rig.head_to_drum, Unit.M, way.key("rig.head_to_drum"))
    links = [
        (one.length.m, one.stiffness.value)
        for one in rig.link
        if one.length is not None and one.stiffness is not None
    ]

    def value() -> float:
        parts = parts_at_load(way.scene, device).value
        hanging_m = max(0.0, top.value - less.value) + on.value / parts
        return series_stiffness_n_per_m([(hanging_m, parts * give.value), *links])

    note = "shortest line: attachment level with the rim; strands side by side, links in series"
    return derived(
        "k", "stiffness of the line", needs.work(value), Unit.N_PER_M, note, (give, top, less, on)
    )
