"""What the people on a haul line pull against, how fast they pull, and what work that is."""

from __future__ import annotations

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.rope_systems import rope_pull_or_none
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, counted, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.ropes import haul_force_n
from planbuilder.haul.strokes import power_per_person_w
from planbuilder.site.equipment import RopeSystem
from planbuilder.site.method import CrewRole


def line_speed(scene: Scene, device: AnyDevice) -> Quantity | None:
    """The speed of the line under load: as stated, or by default where people haul it."""
    if device.line_speed is not None:
        key = f"device.{device.id}.line_speed"
        return stated("v_line", "line speed under load", device.line_speed, Unit.M_PER_S, key)
    return scene.defaults.of("hand-haul-speed") if isinstance(device, RopeSystem) else None


def people_named(way: Way) -> Quantity:
    """The people that the crew names for the haul line."""
    key = way.key("crew")
    return counted("n_haul", "people named to haul", len(way.crew(CrewRole.HAUL)), key)


def haul_pull(way: Way, device: RopeSystem, needs: Needs) -> Working:
    """The force on the haul line: edge friction first, then the losses in the sheaves."""
    load, psi = weight(way), dynamic_factor(way)
    edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
    rope = rope_pull_or_none(way.scene, device)
    advantage = needs.keep(rope.advantage if rope else None, f"device.{device.id}.reeving")
    value = haul_force_n(
        system_load_n=load.value * psi.value * edges.value, advantage=advantage.value
    )
    return Working(value, "W*psi*k_edge/PMA", (load, psi, edges, advantage))


def hauler_power(way: Way, device: RopeSystem, needs: Needs) -> Working:
    """The power of each of the people named while the line moves."""
    pull, people = haul_pull(way, device, needs), people_named(way)
    speed = needs.keep(line_speed(way.scene, device), f"device.{device.id}.line_speed")
    if people.value < 1:
        needs.say(None, way.key("crew"))
    value = needs.work(
        lambda: power_per_person_w(
            haul_force_n=pull.value, haul_speed_m_per_s=speed.value, people=int(people.value)
        )
    )
    return Working(value, f"{pull.formula}*v_line/n_haul", (*pull.inputs, speed, people))
