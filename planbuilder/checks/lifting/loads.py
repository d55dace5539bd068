"""Haul capacity: does every part take the load, does the line reach, are there enough people."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.casualty import (
    body_mass,
    dynamic_factor,
    edge_load_factor,
    head_factor,
    line_load,
    weight,
)
from planbuilder.checks.lifting.drum import working_load
from planbuilder.checks.lifting.reeving import plate_share
from planbuilder.checks.lifting.rope_systems import rope_pull_or_none
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Way,
    Working,
    finding,
    listed,
    output,
    stated,
)
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.equipment import RatedAt, RopeSystem, Winch

NO_EDGES = "edges of the line's path, or the rope system, not given"
UNMEASURED = (
    "a measured edge needs a turn, raised_by and held_by, and holding never takes more than raising"
)
FOLLOW_LINE = (
    "Follow the line from casualty to device and list each edge with material and turn; "
    "edges = [] where it hangs free."
)
STATICS = Source(mark=Mark.DERIVED, document="Statics")

DEVICE_LOAD = Rule("haul/device-overloaded", "Load on the lifting device", Weight.BLOCKS, STATICS)
BACKUP_LOAD = Rule("haul/backup-overloaded", "Load on the backup device", Weight.BLOCKS, STATICS)
SUPPORT_LOAD = Rule("haul/support-overloaded", "Load on the support", Weight.BLOCKS, STATICS)
EDGES = Rule(
    "haul/edges-not-stated",
    "Edges that the line runs over are stated",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="Delaney 2022", clause="p. 88"),
)
LAYER = Rule(
    "haul/rated-layer-not-stated",
    "Drum layer that the rating plate means",
    Weight.WARNS,
    STATICS,
)
MASS = Rule(
    "haul/casualty-mass-assumed",
    "Masses of the people who go in",
    Weight.WARNS,
    Source(mark=Mark.READ, document="NHANES 2009-2012"),
)


def check_device_load(scene: Scene) -> Iterator[Finding]:
    """The line load at the device, edges included, is within its working load."""
    for way in scene.ways():
        if way.rig is None:
            continue
        device = scene.device(way.rig.device)
        limit, factor = working_load(device), edge_load_factor(way)
        keys = (f"device.{device.id}.rated_load", way.key("rig.device"))
        if isinstance(limit, tuple):
            yield finding(
                DEVICE_LOAD,
                Missing(because=f"{device.name}: {listed(limit)} not given"),
                settle_by="Read the rating plate and measure drum and line, or have the plate's "
                'drum layer confirmed and state rated_at = "full-drum".',
                keys=limit,
                space=scene.space,
                about=way.name,
            )
        elif factor is None:
            yield finding(
                DEVICE_LOAD,
                Missing(because=NO_EDGES),
                settle_by=FOLLOW_LINE,
                keys=(way.key("rig.edges"),),
                space=scene.space,
                about=way.name,
            )
        else:
            yield finding(
                DEVICE_LOAD,
                _device_load(way, device, factor).against(
                    Relation.AT_MOST, limit, result=output("T", "load on the line", Unit.N)
                ),
                settle_by=f"Use a device with a higher working load than {device.name}, take "
                "the edge out of the line's path, or send in a lighter load.",
                keys=keys,
                space=scene.space,
                about=way.name,
            )


def _device_load(way: Way, device: AnyDevice, edges: Quantity) -> Working:
    """What the plate of the device is held against: of a winch, by what its plate rates."""
    load = line_load(way)
    plain = Working(load.value * edges.value, f"{load.formula}*k_edge", (*load.inputs, edges))
    if not isinstance(device, Winch):
        return plain
    share = plate_share(way, device)
    return Working(plain.value * share.value, f"{plain.formula}*k_plate", (*plain.inputs, share))


def check_backup_load(scene: Scene) -> Iterator[Finding]:
    """The backup takes the casualty alone if the lifting line lets go."""
    for way in scene.ways():
        if way.rig is None or way.rig.backup is None:
            continue
        backup, load = scene.device(way.rig.backup), weight(way)
        limit = working_load(backup)
        outcome: Compared | Missing
        if isinstance(limit, tuple):
            outcome = Missing(because=f"{backup.name}: {listed(limit)} not given")
        else:
            outcome = Working(load.value, "W", (load,)).against(
                Relation.AT_MOST, limit, result=output("T_b", "load on the backup", Unit.N)
            )
        yield finding(
            BACKUP_LOAD,
            outcome,
            settle_by=f"Read the plate of {backup.name}, or use a backup that takes the load.",
            keys=limit if isinstance(limit, tuple) else (f"device.{backup.id}.rated_load",),
            space=scene.space,
            about=way.name,
        )


def check_support_load(scene: Scene) -> Iterator[Finding]:
    """What hangs on the support, haulers' pull included, is within its rated load."""
    for way in scene.ways():
        if way.rig is None:
            continue
        support = scene.support(way.rig.support)
        key = f"support.{support.id}.rated_load"
        if support.rated_load is None:
            yield finding(
                SUPPORT_LOAD,
                Missing(because=f"{support.name}: rated load not given"),
                settle_by="Read the rated load for one line from the plate, or have a qualified "
                "person rate the anchor.",
                keys=(key,),
                space=scene.space,
                about=way.name,
            )
        elif (load := _head_load(way)) is None:
            yield finding(
                SUPPORT_LOAD,
                Missing(because=NO_EDGES),
                settle_by=FOLLOW_LINE,
                keys=(way.key("rig.edges"),),
                space=scene.space,
                about=way.name,
            )
        else:
            limit = stated("F_rated", "rated load", support.rated_load, Unit.N, key)
            yield finding(
                SUPPORT_LOAD,
                load.against(
                    Relation.AT_MOST,
                    limit,
                    result=output("F_head", "load on the support", Unit.N),
                ),
                settle_by=f"Use a support with a higher rated load than {support.name}.",
                keys=(key, way.key("rig.support")),
                space=scene.space,
                about=way.name,
            )


def _head_load(way: Way) -> Working | None:
    load, factor = weight(way), edge_load_factor(way)
    if way.rig is None or factor is None:
        return None
    device = way.scene.device(way.rig.device)
    if isinstance(device, RopeSystem):
        pull = rope_pull_or_none(way.scene, device)
        if pull is None:
            return None
        advantage, psi = pull.advantage, dynamic_factor(way)
        head = head_factor(way)
        value = load.value * psi.value * head.value
        inputs = (load, psi, factor, advantage)
        return Working(value, "W*psi*k_edge*(1 + 1/PMA)", inputs)
    head = head_factor(way)
    return Working(load.value * head.value, "W*k_head", (load, head))


def check_edges(scene: Scene) -> Iterator[Finding]:
    """The plan says which edges the line turns over; none is an answer, silence is not."""
    for way in scene.ways():
        if way.rig is None:
            continue
        key = way.key("rig.edges")
        outcome: Stated | Missing = Missing(because=NO_EDGES)
        if way.rig.edges is not None and edge_load_factor(way) is None:
            outcome = Missing(because=UNMEASURED)
        elif way.rig.edges is not None:
            said = f"{len(way.rig.edges)} edges" if way.rig.edges else "no edge"
            outcome = Stated(holds=True, because=f"the line turns over {said}")
        yield finding(
            EDGES,
            outcome,
            settle_by=FOLLOW_LINE,
            keys=(key,),
            space=scene.space,
            about=way.name,
        )


def check_rated_layer(scene: Scene) -> Iterator[Finding]:
    """The plate of a winch says for which drum layer its load holds."""
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if not isinstance(device, Winch):
            continue
        key = f"device.{device.id}.rated_at"
        words = f"{device.name} is rated at {device.rated_at}"
        outcome: Stated | Missing = Stated(holds=True, because=words)
        if device.rated_at not in (RatedAt.BARE_DRUM, RatedAt.FULL_DRUM):
            outcome = Missing(because=f"{device.name}: plate read as rating the bare drum")
        yield finding(
            LAYER,
            outcome,
            settle_by="Read on the plate or in the instructions whether the load is for the bare "
            "or the full drum, and state rated_at.",
            keys=(key,),
            space=scene.space,
            about=way.name,
        )


def check_masses_known(scene: Scene) -> Iterator[Finding]:
    """Everybody who goes in has been weighed; otherwise the default mass is used."""
    unweighed = [one for one in scene.entrants if one.mass is None]
    names = ", ".join(one.name for one in unweighed)
    mass = body_mass(scene)
    words = f"heaviest entrant {mass.written}"
    outcome: Stated | Missing = Stated(holds=True, because=words)
    if unweighed:
        outcome = Missing(because=f"{names}: mass not given, {mass.value:g} kg planned on")
    yield finding(
        MASS,
        outcome,
        settle_by="Weigh the entrants with boots and work clothes and state their mass.",
        keys=tuple(f"person.{one.id}.mass" for one in unweighed or scene.entrants),
        space=scene.space,
    )
