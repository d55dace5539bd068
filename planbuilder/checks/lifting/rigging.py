"""Does the line reach, does it stay inside the base, who answers for the support."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.lifting.drum import first_layer_radius
from planbuilder.checks.lifting.raise_time import drag_length
from planbuilder.checks.lifting.reeving import line_parts
from planbuilder.checks.lifting.rope_length import rope_needed
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Way,
    Working,
    absent,
    derived,
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
from planbuilder.haul.drum import line_required_m
from planbuilder.site.equipment import RopeSystem, Winch
from planbuilder.site.supports import Basis, Support, SupportKind

LINE_LENGTH = Rule(
    "haul/line-too-short",
    "Line from drum to a casualty on the floor",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="30 CFR 75.1436", clause="(b), dead wraps"),
)
REACH = Rule(
    "haul/reach-beyond-rating",
    "Reach for which the support is rated",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)
CONFIRMED = Rule(
    "haul/support-not-confirmed",
    "Support answered for by a qualified person",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(13)(ii)"),
)
WITH_ARM = frozenset(
    (
        SupportKind.LEGGED_BASE_DAVIT,
        SupportKind.WALL_CLAMP_SLEEVE,
        SupportKind.FLOOR_SLEEVE,
        SupportKind.WALL_SLEEVE,
        SupportKind.OPENING_COLLAR,
        SupportKind.VEHICLE_RECEIVER,
    )
)
# What holds these upright is computed here or is plain; every other kind leans on a wall, a
# floor, a vehicle or a structure, whose strength a person has to answer for.
STANDS_ALONE = frozenset((SupportKind.TRIPOD, SupportKind.LEGGED_BASE_DAVIT))


def check_line_length(scene: Scene) -> Iterator[Finding]:
    """Every line reaches a casualty on the floor, with dead wraps and some line in hand."""
    for way in scene.ways():
        if way.rig is None:
            continue
        yield _line_finding(way, scene.device(way.rig.device), way.name)
        if way.rig.backup is not None:
            yield _line_finding(way, scene.device(way.rig.backup), f"{way.name}, backup")


def _line_finding(way: Way, device: AnyDevice, about: str) -> Finding:
    needed, length_key = _line_needed(way, device), f"device.{device.id}.line_length"
    keys = needed if isinstance(needed, tuple) else ()
    keys += (length_key,) if device.line_length is None else ()
    outcome: Compared | Missing
    if device.line_length is None or isinstance(needed, tuple):
        outcome = Missing(because=f"{device.name}: {listed(keys)} not given")
    else:
        outcome = needed.against(
            Relation.AT_MOST,
            stated("l_line", f"line on {device.name}", device.line_length, Unit.M, length_key),
            result=output("l_need", "line needed", Unit.M),
        )
    return finding(
        LINE_LENGTH,
        outcome,
        settle_by="Measure what is missing, or fit a line at least as long as needed.",
        keys=keys or (length_key,),
        space=way.scene.space,
        about=about,
    )


def _line_needed(way: Way, device: AnyDevice) -> Working | tuple[str, ...]:
    scene, rig = way.scene, way.rig
    if rig is not None and isinstance(device, RopeSystem):
        return rope_needed(way, rig, device)
    below, tail = scene.down
    radius = first_layer_radius(device) if isinstance(device, Winch) else None
    hook, connector = (rig.hook_height, rig.connector) if rig else (None, None)
    missing = absent(hook_height=hook, connector=connector)
    keys = tuple(way.key(f"rig.{one}") for one in missing)
    keys += () if below else (scene.key(tail),)
    if isinstance(device, Winch):
        keys += () if rig and rig.head_to_drum else (way.key("rig.head_to_drum"),)
        keys += () if radius else (f"device.{device.id}.drum_diameter",)
    if keys or below is None or hook is None or connector is None:
        return keys
    fixed = (
        scene.given("z", "depth or height below", below, Unit.M, tail),
        scene.defaults.of("lying-attachment-height"),
        stated("H", "hook height", hook, Unit.M, way.key("rig.hook_height")),
        stated("h_con", "connectors", connector, Unit.M, way.key("rig.connector")),
        scene.defaults.of("line-allowance"),
    )
    needs = Needs()
    dragged = drag_length(way, rig, needs) if rig else None
    return tuple(needs.missing) or _with_drum(way, device, fixed, radius, dragged)


def _with_drum(
    way: Way,
    device: AnyDevice,
    fixed: tuple[Quantity, ...],
    radius: Quantity | None,
    dragged: Quantity | None,
) -> Working:
    depth, lying, hook, connector, spare = (one.value for one in fixed)
    parts, wraps = line_parts(device), _wraps(way, device)
    run = derived("a", "head to drum", 0.0, Unit.M, "no drum")
    if radius is not None and way.rig is not None and way.rig.head_to_drum is not None:
        key = way.key("rig.head_to_drum")
        run = stated("a", "head to drum", way.rig.head_to_drum, Unit.M, key)
    first = radius or derived("r_1", "radius of the first layer", 0.0, Unit.M, "no drum")
    value = line_required_m(
        parts=parts.value,
        attachment_depth_m=depth - lying + (dragged.value if dragged else 0.0),
        head_height_m=hook,
        connector_m=connector,
        head_to_drum_m=run.value,
        dead_wraps=int(wraps.value),
        first_layer_radius_m=first.value,
        allowance_m=spare,
    )
    along = " + l_drag" if dragged else ""
    formula = f"n_parts*(z - h_lying + H - h_con{along}) + a + n_dead*2*pi*r_1 + l_spare"
    more = (dragged,) if dragged else ()
    return Working(value, formula, (parts, *fixed, *more, run, wraps, first))


def _wraps(way: Way, device: AnyDevice) -> Quantity:
    if isinstance(device, Winch):
        return way.scene.defaults.of("dead-wraps")
    return derived("n_dead", "dead wraps", 0, Unit.COUNT, "no drum")


def check_rated_reach(scene: Scene) -> Iterator[Finding]:
    """The rated load of a mast with an arm holds up to one reach, which its plate states."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if way.rig is None or support is None or support.kind not in WITH_ARM:
            continue
        if support.kind is SupportKind.VEHICLE_RECEIVER and way.rig.pull_elevation is not None:
            continue  # the line leaves the hitch itself
        needs, key = Needs(), f"support.{support.id}.rated_reach"
        rated = needs.take("a_max", "reach of the rating", support.rated_reach, Unit.M, key)
        reach = needs.take("a", "reach", way.rig.reach, Unit.M, way.key("rig.reach"))
        yield compare(
            REACH,
            way,
            needs,
            partial(Working, reach.value, "a", (reach,)),
            Relation.AT_MOST,
            rated,
            result=("a", "reach", Unit.M),
            settle_by="Set the arm to the reach that the plate rates, or shorter.",
            keys=(key, way.key("rig.reach")),
        )


def check_support_confirmed(scene: Scene) -> Iterator[Finding]:
    """A support that leans on something else is answered for by a named qualified person."""
    for way in scene.ways():
        for support in scene.supports_of(way):
            if support.kind not in STANDS_ALONE or support.basis is Basis.JUDGED:
                yield _confirmed(way, support)


def _confirmed(way: Way, support: Support) -> Finding:
    outcome: Stated | Missing = Missing(
        because=f"{support.name} ({support.kind}): nobody named who answers for it here"
    )
    if support.judged_by:
        words = f"{support.name}: {support.judged_by}; engineer to confirm on site"
        outcome = Stated(holds=True, because=words)
    return finding(
        CONFIRMED,
        outcome,
        settle_by="Have a qualified person judge wall, floor, vehicle or structure at this "
        "place, and state judged_by with the name.",
        keys=(f"support.{support.id}.judged_by",),
        space=way.scene.space,
        about=f"{way.name}, {support.name}",
    )
