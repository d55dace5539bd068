"""The casualty that a plan must be able to lift, pass and lay down: the worst of the entrants."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.lifting.reeving import advantage_past, line_parts
from planbuilder.checks.lifting.rope_systems import rope_pull_or_none
from planbuilder.checks.scene import Scene, Way, Working, derived, once_a_way, stated
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.haul.friction import edge_factor, measured_friction, roller_factor
from planbuilder.haul.load import line_mass_kg, weight_n
from planbuilder.haul.ropes import anchor_load_n, haul_force_n
from planbuilder.haul.strength import hanging_line_kg
from planbuilder.haul.survey import percentile_kg
from planbuilder.site.equipment import RopeSystem, SelfRetractingLine, Winch
from planbuilder.site.people import Person
from planbuilder.site.rescue import Survey
from planbuilder.site.rig import Edge, EdgeMaterial
from planbuilder.tables import table
from planbuilder.units import STANDARD_GRAVITY_M_PER_S2

QUARTER_TURN = math.pi / 2
LINE_MASS_FORMULA = "m_body + m_cloth + m_ppe + w*m_cloth + m_stretcher + m_att + m_rig"
GRAVITY = Quantity(
    symbol="g",
    label="standard gravity",
    value=STANDARD_GRAVITY_M_PER_S2,
    unit=Unit.M_PER_S2,
    source=Source(mark=Mark.READ, note="3rd General Conference on Weights and Measures, 1901"),
)


def body_size(person: Person, name: str, default: Quantity) -> Quantity:
    """A body size of *person* as measured, or the default where it was not."""
    amount = getattr(person, name.replace("-", "_"))
    if amount is None:
        return default
    label = default.label.partition(",")[0]
    key = f"person.{person.id}.{name.replace('-', '_')}"
    return stated(default.symbol, f"{label} of {person.name}", amount, default.unit, key)


def largest(scene: Scene, name: str) -> Quantity:
    """The largest value of one body size over the entrants."""
    default = scene.defaults.of(name)
    sizes = [body_size(person, name, default) for person in scene.entrants]
    return max(sizes, key=lambda one: one.value)


def body_mass(scene: Scene) -> Quantity:
    """The casualty planned for: the heaviest of entrants, a mass or a survey percentile as stated.

    Where an entrant's mass is not given and nothing else is stated, the default takes its place.
    """
    rescue, key = scene.space.rescue, scene.key("rescue.casualty_mass")
    masses = [
        stated("m_body", f"mass of {one.name}", one.mass, Unit.KG, f"person.{one.id}.mass")
        for one in scene.entrants
        if one.mass is not None
    ]
    if rescue.casualty_mass is not None:
        masses.append(stated("m_body", "casualty mass", rescue.casualty_mass, Unit.KG, key))
    if rescue.casualty_survey is not None:
        masses.append(_surveyed(rescue.casualty_survey))
    elif rescue.casualty_mass is None and len(masses) < len(scene.entrants):
        masses.append(scene.defaults.of("casualty-mass"))
    return max(masses, key=lambda one: one.value)


def _surveyed(survey: Survey) -> Quantity:
    rows = table("body_mass")[survey.group.value]
    printed = {float(key): value for key, value in rows["percentiles"].items()}
    note = f"{survey.group}, percentile {survey.percentile:g}; {rows['note']}"
    return Quantity(
        symbol="m_body",
        label="casualty mass by survey",
        value=percentile_kg(printed, survey.percentile),
        unit=Unit.KG,
        source=Source(mark=Mark.READ, document=rows["document"], note=note),
    )


@once_a_way
def line_load(way: Way) -> Working:
    """The weight on the line, with clothing, water, stretcher and whoever rides along."""
    parts = _mass_parts(way)
    mass_kg = line_mass_kg(
        body_kg=parts[0].value,
        clothing_kg=parts[1].value,
        protective_kg=parts[2].value,
        wet_ratio=parts[3].value,
        stretcher_kg=parts[4].value,
        attendant_kg=parts[5].value,
        rigging_kg=parts[6].value,
    )
    return Working(weight_n(mass_kg), f"({LINE_MASS_FORMULA})*g", (*parts, GRAVITY))


@once_a_way
def weight(way: Way) -> Quantity:
    """The weight on the line as one number; its working stands with the load on the device."""
    note = "worked out under Load on the lifting device"
    load = line_load(way)
    return derived("W", "weight on the line", load.value, Unit.N, note, load.inputs)


def _mass_parts(way: Way) -> tuple[Quantity, ...]:
    scene, rig = way.scene, way.rig
    wet = scene.space.shape.liquid_depth
    dry = derived("w", "water held by clothing", 0.0, Unit.RATIO, "no liquid in the space")
    stretcher = derived("m_stretcher", "stretcher", 0.0, Unit.KG, "none planned")
    if rig is not None and rig.stretcher_mass is not None:
        key = way.key("rig.stretcher_mass")
        stretcher = stated("m_stretcher", "stretcher", rig.stretcher_mass, Unit.KG, key)
    return (
        body_mass(scene),
        scene.defaults.of("clothing-mass"),
        scene.defaults.of("protective-mass"),
        dry if wet is not None and wet.m == 0 else scene.defaults.of("wet-ratio"),
        stretcher,
        _rider(way),
        _rigging(way),
    )


def _rigging(way: Way) -> Quantity:
    """Hook, block and carried line; from a depth on, the weight of the line that hangs as well.

    A depth that is not known blocks by itself.
    """
    scene, rig = way.scene, way.rig
    carried, deep = scene.defaults.of("rigging-mass"), scene.defaults.of("deep-line")
    below, _ = scene.down
    if rig is None or below is None or below.m < deep.value:
        return carried
    device = scene.device(rig.device)
    kind = "textile" if device.line_is == "textile" else "wire"
    names = {"wire": "line-density-wire", "textile": "line-density-textile"}
    density, line = scene.defaults.of(names[kind]), scene.defaults.of("line-diameter")
    if device.line_diameter is not None:
        key = f"device.{device.id}.line_diameter"
        line = stated("d", "line", device.line_diameter, Unit.M, key)
    parts = line_parts(device)
    hanging_m = parts.value * (below.m + (rig.hook_height.m if rig.hook_height else 0.0))
    hanging_kg = hanging_line_kg(
        length_m=hanging_m, density_kg_per_m3=density.value, line_diameter_m=line.value
    )
    note = f"with {hanging_m:.0f} m of {kind} line hanging, rho_l*d**2 a metre"
    of = (carried, deep, density, line, parts)
    return derived(
        "m_rig", "hook, block and hanging line", carried.value + hanging_kg, Unit.KG, note, of
    )


def _rider(way: Way) -> Quantity:
    rig, defaults = way.rig, way.scene.defaults
    if rig is None or rig.rides_along is None:
        return derived("m_att", "attendant riding along", 0.0, Unit.KG, "nobody rides along")
    person = way.scene.person(rig.rides_along)
    mass = body_size(person, "mass", defaults.of("casualty-mass"))
    kit = defaults.of("attendant-kit-mass")
    note = f"{person.name}, with {kit.value:g} kg of kit"
    return derived(
        "m_att",
        "attendant riding along, with kit",
        mass.value + kit.value,
        Unit.KG,
        note,
        (mass, kit),
    )


@once_a_way
def dynamic_factor(way: Way) -> Quantity:
    """The dynamic factor of the raise: a slow geared winch jerks less than hands on a rope."""
    device = way.scene.device(way.rig.device) if way.rig else None
    slow = isinstance(device, Winch | SelfRetractingLine)
    return way.scene.defaults.of("dynamic-factor-winch" if slow else "dynamic-factor")


@once_a_way
def head_factor(way: Way) -> Quantity:
    """How many times the hanging weight the head carries while the line is hauled.

    A winch on the mast or leg pulls inside the support: once, and the friction of an edge that may
    lie below the head. A line that goes on to haulers or to a winch elsewhere pulls the head with
    its other strand too, taken as straight down, the worst way. Where edges or rope system are not
    known, each of which blocks by itself, no edge and an advantage of one are taken.
    """
    led, edges = led_share(way), edge_load_factor(way)
    k_edge = edges.value if edges else 1.0
    value = anchor_load_n(system_load_n=k_edge, haul_force_n=k_edge * led.value)
    note = f"k_edge*(1 + k_led), {led.source.note}"
    if led.value == 0:
        note = "k_edge, the line is hauled inside the support"
    of = (*((edges,) if edges else ()), *led.of)
    return derived("k_head", "load on the head over the weight", value, Unit.RATIO, note, of)


def is_rope_hauled(way: Way) -> bool:
    """People pull a rope system: its haul strand leaves the support."""
    return way.rig is not None and isinstance(way.scene.device(way.rig.device), RopeSystem)


@once_a_way
def led_share(way: Way) -> Quantity:
    """Tension of the strand that leaves the head over that of the strands that hang there.

    0 for a line that is hauled inside the support.
    """
    rig, scene = way.rig, way.scene
    device = scene.device(rig.device) if rig else None
    value, note = 0.0, "no strand leaves the support"
    of: tuple[Quantity, ...] = ()
    if isinstance(device, RopeSystem):
        pull = rope_pull_or_none(scene, device)
        value = haul_force_n(system_load_n=1.0, advantage=pull.advantage.value) if pull else 1.0
        note, of = "1/PMA, the haul strand", (pull.advantage,) if pull else ()
    elif rig is not None and device is not None and rig.lead_distance is not None:
        line = advantage_past(way, device, 1)
        value, note, of = 1 / line.value, "1/A_line, line led off the head", (line,)
    return derived("k_led", "strand led off over those that hang", value, Unit.RATIO, note, of)


def load_cases(way: Way) -> Iterator[tuple[str, Quantity]]:
    """The vertical forces on the head: LC1 the lift, LC2 the backup's catch on the same head."""
    load, psi, head = weight(way), dynamic_factor(way), head_factor(way)
    note = f"LC1, W*psi*k_head = {load.value:.0f} N x {psi.value:g} x {head.value:.2f}"
    force_n = load.value * psi.value * head.value
    parts = (load, psi, head)
    yield "LC1", derived("F", "force on the head, lift", force_n, Unit.N, note, parts)
    rig = way.rig
    if rig is None or rig.backup is None or rig.backup_support not in (None, rig.support):
        return
    backup = way.scene.device(rig.backup)
    if isinstance(backup, SelfRetractingLine) and backup.arrest_force is not None:
        key = f"device.{backup.id}.arrest_force"
        yield "LC2", stated("F", "force on the head, catch", backup.arrest_force, Unit.N, key)


def second_person(way: Way) -> Quantity:
    """The weight of a second person on a line of the same head, dressed and equipped."""
    scene = way.scene
    parts = [body_mass(scene)] + [
        scene.defaults.of(one) for one in ("clothing-mass", "protective-mass", "rigging-mass")
    ]
    note = "heaviest entrant with clothes, harness and hook, on a line of their own"
    return derived(
        "W_2",
        "weight on the second line",
        weight_n(sum(one.value for one in parts)),
        Unit.N,
        note,
        tuple(parts),
    )


@once_a_way
def edge_load_factor(way: Way) -> Quantity | None:
    """How much the edges between casualty and device multiply the line load; None if unstated.

    A measured edge without its two pulls, or with pulls that cannot be, is not stated.
    """
    edges = way.rig.edges if way.rig else None
    if edges is None:
        return None
    roller = way.scene.defaults.of("roller-efficiency")  # for a quarter turn
    factor = 1.0
    for edge in edges:
        one = _over(edge, roller)
        if one is None:
            return None
        factor *= one
    names = ", ".join(f"{one.material} {one.turn.written}" for one in edges)
    rolled = any(one.material is EdgeMaterial.ROLLER for one in edges)
    note = f"exp(mu*beta) over {names}; Delaney 2022 p. 88" if names else "no edge"
    of = (roller,) if rolled else ()
    return derived("k_edge", "edge friction", factor, Unit.RATIO, note, of)


def _over(edge: Edge, roller: Quantity) -> float | None:
    """The factor of one edge; None where it is called measured and is not."""
    turn_rad = abs(edge.turn.rad)
    if edge.material is EdgeMaterial.ROLLER:
        return math.pow(roller_factor(efficiency=roller.value), turn_rad / QUARTER_TURN)
    if edge.material is not EdgeMaterial.MEASURED:
        mu: float = table("friction")[edge.material]["mu"]
        return edge_factor([(mu, turn_rad)])
    if edge.raised_by is None or edge.held_by is None:
        return None
    try:
        mu = measured_friction(
            raise_n=edge.raised_by.value, lower_n=edge.held_by.value, turn_rad=turn_rad
        )
    except ValueError:
        return None
    return edge_factor([(mu, turn_rad)])
