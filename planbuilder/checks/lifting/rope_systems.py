"""Rope systems by the tension method: usual reevings, and any other that is described."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from planbuilder.checks.scene import AnyDevice, Scene, Way, derived
from planbuilder.findings import Quantity, Source, Unit
from planbuilder.haul.ropes import Reeving
from planbuilder.haul.strands import pull_of
from planbuilder.haul.tackle import (
    Anchor,
    Grab,
    HaulEnd,
    Load,
    Place,
    Rope,
    Sheave,
    Tackle,
    tackle_of,
)
from planbuilder.site.equipment import ReevingKind, RopeSystem, Winch

# Many checks of many spaces ask about one system.
_solved, _usual = lru_cache(maxsize=64)(pull_of), lru_cache(maxsize=64)(tackle_of)


@dataclass(frozen=True, slots=True)
class RopePull:
    """What a rope system gives, with the losses at its sheaves and without."""

    advantage: Quantity
    ideal: Quantity
    hardest: Quantity
    hardest_ideal: Quantity
    sheaves: Quantity


def rope_systems(scene: Scene) -> Iterator[tuple[Way, RopeSystem]]:
    """The ways out whose line is hauled through a rope system."""
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if isinstance(device, RopeSystem):
            yield way, device


def pulley_efficiency(scene: Scene, device: AnyDevice) -> Quantity:
    """The efficiency of one pulley, as stated or by default."""
    default = scene.defaults.of("pulley-efficiency")
    stated = device.pulley_efficiency if isinstance(device, RopeSystem | Winch) else None
    if stated is None:
        return default
    return Quantity(
        symbol="eta",
        label=default.label,
        value=stated,
        unit=Unit.RATIO,
        source=Source.site(f"device.{device.id}.pulley_efficiency"),
    )


def rope_pull(scene: Scene, device: RopeSystem) -> RopePull:
    """The advantage of the system, one tension a strand, all solved together.

    Raises ValueError, saying what is wrong, where parts do not fit the reeving or a description
    is no rope system.
    """
    key = (rope_pull, device.id)
    if key not in scene.known:
        scene.known[key] = _pulled(scene, device)
    found: RopePull = scene.known[key]
    return found


def _pulled(scene: Scene, device: RopeSystem) -> RopePull:
    eta = pulley_efficiency(scene, device)
    if device.reeving is None:
        raise ValueError("the reeving is not stated")
    tackle = _tackle(device, device.reeving, eta.value)
    pull = _solved(tackle)
    shape = device.reeving.value
    of: tuple[Quantity, ...] = ()
    if device.reeving is not ReevingKind.DESCRIBED:
        of = (eta,)
        shape += f" {' on '.join(str(one) for one in device.parts)}, {eta.value:g} a pulley"
        shape += f" ({eta.source.mark}), {device.redirects} redirects"
    note = f"tension method, {shape}"
    return RopePull(
        derived("PMA", "advantage of the rope system", pull.advantage, Unit.RATIO, note, of),
        derived("TMA", "advantage without losses", pull.ideal_advantage, Unit.RATIO, shape),
        derived(
            "k_s", "hardest sheave over the haul", _most(pull.sheave_forces), Unit.RATIO, note, of
        ),
        derived(
            "k_s0",
            "hardest sheave over the haul, without losses",
            _most(pull.ideal_sheave_forces),
            Unit.RATIO,
            shape,
        ),
        derived("n_sh", "sheaves", len(tackle.sheaves), Unit.COUNT, shape),
    )


def _most(forces: Mapping[str, float]) -> float:
    """The greatest of *forces*; none where no sheave is in the system."""
    return max(forces.values(), default=0.0)


def rope_pull_or_none(scene: Scene, device: RopeSystem) -> RopePull | None:
    """The advantage, or None where it is no rope system: a check of its own says why."""
    try:
        return rope_pull(scene, device)
    except ValueError:
        return None


def _tackle(device: RopeSystem, reeving: ReevingKind, efficiency: float) -> Tackle:
    if reeving is not ReevingKind.DESCRIBED:
        if device.redirects is None:
            raise ValueError("redirects is not stated: how often the haul line turns, 0 if never")
        return _usual(
            reeving=Reeving(reeving.value),
            parts=tuple(device.parts),
            efficiency=efficiency,
            redirects=device.redirects,
        )
    sheaves = tuple(
        Sheave(
            name=one.name,
            hangs_on=_place(one.on),
            half_turn_efficiency=one.efficiency,
            turn_rad=one.turn.rad if one.turn else math.pi,
        )
        for one in device.sheave
    )
    ropes = tuple(
        Rope(
            name=one.name,
            path=tuple(_met(step) for step in one.path),
            made_off_on=_place(one.ends_on),
        )
        for one in device.rope
    )
    if not ropes:
        raise ValueError("a described rope system needs at least one rope")
    return Tackle(ropes=ropes, sheaves=sheaves)


def _met(step: str) -> str | Grab:
    kind, _, name = step.partition(" ")
    return Grab(name) if kind == "grab" and name else step


def _place(text: str) -> Place:
    kind, _, name = text.partition(" ")
    match kind:
        case "load" if not name:
            return Load()
        case "anchor" if name:
            return Anchor(name)
        case "grab" if name:
            return Grab(name)
        case "rope" if name:
            return HaulEnd(name)
    raise ValueError(f'"{text}" must be load, or anchor, grab or rope with a name')
