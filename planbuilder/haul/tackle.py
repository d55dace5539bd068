"""A rope system described: ropes, sheaves, rope grabs and what each hangs on; the usual systems.

Sheaves of a system are always given in the order in which the rope meets them from the haulers on,
so that a poor one can be put in its place: the nearer to the haulers, the more it costs.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from planbuilder.haul.friction import turn_efficiency
from planbuilder.haul.ropes import Reeving, ideal_advantage


@dataclass(frozen=True, slots=True)
class Anchor:
    """A point that does not move, by name."""

    name: str


@dataclass(frozen=True, slots=True)
class Load:
    """What is raised."""


@dataclass(frozen=True, slots=True)
class Grab:
    """A rope grab, by name: it grips the rope in whose path it stands, and things hang on it.

    It pulls its rope toward the haul end, so the strand beyond it carries more. The other way
    round it would work against the haulers.
    """

    name: str


@dataclass(frozen=True, slots=True)
class HaulEnd:
    """The haul end of a rope, by the rope's name, for another system to pull on."""

    rope: str


Place = Anchor | Load | Grab | HaulEnd


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheave:
    """A pulley: what it hangs on, what it passes on at a half turn, how far it turns the rope."""

    name: str
    hangs_on: Place
    half_turn_efficiency: float
    turn_rad: float

    @property
    def efficiency(self) -> float:
        """Share of the tension passed on at this turn."""
        return turn_efficiency(
            half_turn_efficiency=self.half_turn_efficiency, turn_rad=self.turn_rad
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rope:
    """A rope from its haul end on: sheaves (by name) and grabs it meets, then where it ends."""

    name: str
    path: tuple[str | Grab, ...]
    made_off_on: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Tackle:
    """Ropes and sheaves. People haul on the first rope; things that hang there pull the others."""

    ropes: tuple[Rope, ...]
    sheaves: tuple[Sheave, ...]


class HaulStrand(StrEnum):
    """Which block the haul strand leaves last: the moving one, or the fixed one at the anchor."""

    OFF_MOVING = "off the moving block"
    OFF_FIXED = "off the fixed block"


def tackle_of(
    *, reeving: Reeving, parts: Sequence[int], efficiency: float, redirects: int
) -> Tackle:
    """The usual system of that reeving, all its sheaves alike, the redirects turning by pi rad.

    In the terms of `ropes.advantage`. Raises ValueError if *parts* does not fit the reeving.
    """
    ideal_advantage(reeving=reeving, parts=parts)  # refuses parts that do not fit
    match reeving:
        case Reeving.SIMPLE | Reeving.COMPOUND:
            tackle = compound([[efficiency] * (one - 1) for one in parts])
        case Reeving.COMPLEX_5:
            tackle = complex_five((efficiency, efficiency, efficiency))
    for number in range(1, redirects + 1):
        tackle = redirected(
            tackle,
            anchor=f"redirect anchor {number}",
            half_turn_efficiency=efficiency,
            turn_rad=math.pi,
        )
    return tackle


def simple(efficiencies: Sequence[float], *, haul_strand: HaulStrand) -> Tackle:
    """One rope between anchor and load: sheaves on moving and fixed block in turn.

    k sheaves give k + 1 parts of rope at the load off the moving block, k parts off the fixed one.
    """
    rope, sheaves = _stage("1", efficiencies, haul_strand, Load())
    return Tackle(ropes=(rope,), sheaves=sheaves)


def compound(stages: Sequence[Sequence[float]]) -> Tackle:
    """Simple systems off the moving block, each pulling on the haul end of the one before.

    The first stage raises the load, the last one is hauled. Raises ValueError if there is none.
    """
    if not stages:
        raise ValueError("a compound system has at least one stage, got none")
    ropes: tuple[Rope, ...] = ()
    sheaves: tuple[Sheave, ...] = ()
    pulled: Place = Load()
    for number, efficiencies in enumerate(stages, start=1):
        rope, blocks = _stage(str(number), efficiencies, HaulStrand.OFF_MOVING, pulled)
        ropes, sheaves = (rope, *ropes), (*blocks, *sheaves)
        pulled = HaulEnd(rope.name)
    return Tackle(ropes=ropes, sheaves=sheaves)


def complex_five(efficiencies: tuple[float, float, float]) -> Tackle:
    """The complex 5:1: a 3:1 whose haul strand turns once more, through a pulley on a grab.

    The grab grips the strand between moving and anchor pulley and pulls it away from the anchor.
    """
    grab = Grab("grab 1")
    extra, moving, fixed = efficiencies
    return Tackle(
        ropes=(
            Rope(
                name="rope 1",
                path=("sheave 1.1", "sheave 1.2", grab, "sheave 1.3"),
                made_off_on=Load(),
            ),
        ),
        sheaves=(
            _block("sheave 1.1", grab, extra),
            _block("sheave 1.2", Load(), moving),
            _block("sheave 1.3", Anchor("anchor 1"), fixed),
        ),
    )


def redirected(
    tackle: Tackle, *, anchor: str, half_turn_efficiency: float, turn_rad: float
) -> Tackle:
    """*tackle* with the haul strand led over one more sheave, on the anchor of that name.

    Called again, it adds one nearer to the haulers.
    """
    hauled, *others = tackle.ropes
    sheave = Sheave(
        name=f"redirect {len(tackle.sheaves) + 1}",
        hangs_on=Anchor(anchor),
        half_turn_efficiency=half_turn_efficiency,
        turn_rad=turn_rad,
    )
    return Tackle(
        ropes=(replace(hauled, path=(sheave.name, *hauled.path)), *others),
        sheaves=(sheave, *tackle.sheaves),
    )


def _stage(
    number: str, efficiencies: Sequence[float], haul_strand: HaulStrand, pulled: Place
) -> tuple[Rope, tuple[Sheave, ...]]:
    """The rope and the sheaves of one simple system that pulls on *pulled*."""
    fixed = Anchor(f"anchor {number}")
    ends: tuple[Place, Place]
    match haul_strand:
        case HaulStrand.OFF_MOVING:
            ends = (pulled, fixed)
        case HaulStrand.OFF_FIXED:
            ends = (fixed, pulled)
    sheaves = tuple(
        _block(f"sheave {number}.{met + 1}", ends[met % 2], efficiency)
        for met, efficiency in enumerate(efficiencies)
    )
    # The rope ends on the block it did not meet last; without any sheave it runs to the load.
    made_off_on = fixed if sheaves and sheaves[-1].hangs_on == pulled else pulled
    path = tuple(sheave.name for sheave in sheaves)
    return Rope(name=f"rope {number}", path=path, made_off_on=made_off_on), sheaves


def _block(name: str, hangs_on: Place, efficiency: float) -> Sheave:
    return Sheave(name=name, hangs_on=hangs_on, half_turn_efficiency=efficiency, turn_rad=math.pi)
