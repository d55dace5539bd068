"""The tension method on a described rope system: one unknown a strand, all solved together.

A strand is the rope between two devices. Derived (statics), while raising: every sheave passes on
its efficiency from the strand nearer to the haulers to the next one. Strands of one moving sheave
run parallel; sheave tread at least 4 rope diameters, sheaves turning, rope dry.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planbuilder.haul.linear import solve
from planbuilder.haul.redirect import resultant_n
from planbuilder.haul.tackle import Anchor, Grab, HaulEnd, Load, Place, Rope, Sheave, Tackle

Strand = tuple[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """What one unit of haul force does, and the rise it would give without friction.

    Without friction no work is lost, so *haul_travel*, the rope hauled in for one unit of rise and
    counted along the ropes, is *ideal_advantage*, which comes from the forces. Tensions are in
    order from the haul end. Several pulls on one anchor are added as if all went the same way:
    at least the true force.
    """

    advantage: float
    ideal_advantage: float
    haul_travel: float
    strand_tensions: Mapping[str, tuple[float, ...]]
    sheave_forces: Mapping[str, float]
    ideal_sheave_forces: Mapping[str, float]
    anchor_forces: Mapping[str, float]

    @property
    def efficiency(self) -> float:
        """Share of the haulers' work that reaches the load."""
        return self.advantage / self.ideal_advantage


def pull_of(tackle: Tackle) -> Pull:
    """Advantage, tensions and forces of *tackle* for one unit of haul force.

    Raises ValueError, naming what is not connected, where the description is no rope system.
    """
    travel = haul_travel(tackle)
    real = _tensions(tackle, {one.name: one.efficiency for one in tackle.sheaves})
    ideal = _tensions(tackle, {one.name: 1.0 for one in tackle.sheaves})
    at_load = _pulling(tackle)[Load()]
    ideal_advantage = sum(ideal[strand] for strand in at_load)
    if not math.isclose(travel, ideal_advantage):
        raise ValueError(
            f"work is lost without friction: {travel} of haul travel lift {ideal_advantage}"
        )
    return Pull(
        advantage=sum(real[strand] for strand in at_load),
        ideal_advantage=ideal_advantage,
        haul_travel=travel,
        strand_tensions={
            rope.name: tuple(real[strand] for strand in _strands(rope)) for rope in tackle.ropes
        },
        sheave_forces=dict(_sheave_forces(tackle, real)),
        ideal_sheave_forces=dict(_sheave_forces(tackle, ideal)),
        anchor_forces=_anchor_forces(tackle, real),
    )


def haul_travel(tackle: Tackle) -> float:
    """Rope hauled in for one unit of rise, counted along the ropes and not from any force.

    A sheave that rises with the load takes up two units of rope, a rope end one. Raises ValueError,
    naming it, where something is missing, or does not move when the load does.
    """
    _require_whole(tackle)
    for rope in tackle.ropes:
        if _movement(tackle, HaulEnd(rope.name), ()) == 0:
            raise ValueError(f"rope '{rope.name}' does not move when the load rises")
    return _movement(tackle, HaulEnd(tackle.ropes[0].name), ())


def _require_whole(tackle: Tackle) -> None:
    """Raise ValueError, naming all that is wrong, unless every part is there and joined."""
    faults = [*_not_once(tackle), *_not_joined(tackle)]
    if faults:
        raise ValueError("no rope system: " + "; ".join(faults))


def _not_once(tackle: Tackle) -> Iterator[str]:
    """What is not described once and met once."""
    met = Counter(item for rope in tackle.ropes for item in rope.path)
    sheaves = Counter(sheave.name for sheave in tackle.sheaves)
    ropes = Counter(rope.name for rope in tackle.ropes)
    for kind, described in (("rope", ropes), ("sheave", sheaves)):
        for name, times in described.items():
            if times > 1:
                yield f"{kind} '{name}' is described {times} times"
    for item, times in met.items():
        if times > 1:
            yield f"{_spoken(item)} is met {times} times"
        if isinstance(item, str) and item not in sheaves:
            yield f"{_spoken(item)} is not described"
    for name in sheaves:
        if name not in met:
            yield f"{_spoken(name)} is met by no rope"


def _not_joined(tackle: Tackle) -> Iterator[str]:
    """Places that are nowhere or where nothing pulls, and moving sheaves askew."""
    grabs = [item for rope in tackle.ropes for item in rope.path if isinstance(item, Grab)]
    to_pull: tuple[Place, ...] = (
        Load(),
        *grabs,
        *(HaulEnd(rope.name) for rope in tackle.ropes[1:]),
    )
    hangs_on: dict[str, Place] = {_spoken(one.name): one.hangs_on for one in tackle.sheaves}
    hangs_on |= {f"the end of rope '{rope.name}'": rope.made_off_on for rope in tackle.ropes}
    for what, place in hangs_on.items():
        if not isinstance(place, Anchor) and place not in to_pull:
            yield f"{what} hangs on {_spoken(place)}, which is not there to be pulled"
    for place in to_pull:
        if place not in hangs_on.values():
            yield f"nothing pulls on {_spoken(place)}"
    for sheave in tackle.sheaves:
        moves = not isinstance(sheave.hangs_on, Anchor)
        if moves and not math.isclose(sheave.turn_rad, math.pi):
            yield f"{_spoken(sheave.name)} moves, so it must turn the rope by pi rad"


def _spoken(item: Place | str) -> str:
    """How a message calls a place, or a sheave by its name."""
    match item:
        case str():
            return f"sheave '{item}'"
        case Anchor(name):
            return f"anchor '{name}'"
        case Load():
            return "the load"
        case Grab(name):
            return f"grab '{name}'"
        case HaulEnd(rope):
            return f"the haul end of rope '{rope}'"


def _movement(tackle: Tackle, place: Place, passed: tuple[Place, ...]) -> float:
    """How far *place* moves for one unit of rise; *passed* has led here."""
    match place:
        case Anchor():
            return 0.0
        case Load():
            return 1.0
        case Grab() | HaulEnd():
            if place in passed:
                raise ValueError(f"{_spoken(place)} hangs on itself")
            return _taken_up(tackle, place, (*passed, place))


def _taken_up(tackle: Tackle, start: Grab | HaulEnd, passed: tuple[Place, ...]) -> float:
    """Rope that comes past *start*: what its rope beyond takes up, as far as the next grab."""
    hangs_on = {sheave.name: sheave.hangs_on for sheave in tackle.sheaves}
    rope = next(rope for rope in tackle.ropes if start in (HaulEnd(rope.name), *rope.path))
    beyond = rope.path[rope.path.index(start) + 1 :] if isinstance(start, Grab) else rope.path
    taken_up = 0.0
    for item in beyond:
        if isinstance(item, Grab):
            return taken_up + _movement(tackle, item, passed)
        taken_up += 2 * _movement(tackle, hangs_on[item], passed)
    return taken_up + _movement(tackle, rope.made_off_on, passed)


def _tensions(tackle: Tackle, efficiencies: Mapping[str, float]) -> dict[Strand, float]:
    """Tension in every strand for one unit of haul force."""
    equations = dict(_equations(tackle, efficiencies))
    matrix = [
        [(strand == other) - shares.get(other, 0.0) for other in equations]
        for strand, shares in equations.items()
    ]
    hauled = (tackle.ropes[0].name, 0)
    right = [float(strand == hauled) for strand in equations]
    return dict(zip(equations, solve(matrix, right), strict=True))


def _equations(
    tackle: Tackle, efficiencies: Mapping[str, float]
) -> Iterator[tuple[Strand, Mapping[Strand, float]]]:
    """For each strand the others that it carries, and the share of each."""
    pulling = _pulling(tackle)
    for rope in tackle.ropes:
        shares: Counter[Strand] = Counter(pulling.get(HaulEnd(rope.name), ()))
        yield (rope.name, 0), dict(shares)
        for before, item in zip(_strands(rope), rope.path, strict=False):
            if isinstance(item, Grab):
                carried = Counter([before, *pulling[item]])
                yield (rope.name, before[1] + 1), dict(carried)
            else:
                yield (rope.name, before[1] + 1), {before: efficiencies[item]}


def _strands(rope: Rope) -> list[Strand]:
    """The strands of *rope*, from the haul end on."""
    return [(rope.name, number) for number in range(len(rope.path) + 1)]


def _pulling(tackle: Tackle) -> dict[Place, list[Strand]]:
    """The strands that pull on each place: two for a sheave, one where a rope is made off."""
    pulling: dict[Place, list[Strand]] = {}
    for sheave, near, far in _turns(tackle):
        pulling.setdefault(sheave.hangs_on, []).extend((near, far))
    for rope in tackle.ropes:
        pulling.setdefault(rope.made_off_on, []).append(_strands(rope)[-1])
    return pulling


def _turns(tackle: Tackle) -> Iterator[tuple[Sheave, Strand, Strand]]:
    """Each sheave with its strand nearer to the haulers and the one beyond."""
    by_name = {sheave.name: sheave for sheave in tackle.sheaves}
    for rope in tackle.ropes:
        strands = _strands(rope)
        for near, item in zip(strands, rope.path, strict=False):
            if isinstance(item, str):
                yield by_name[item], near, strands[near[1] + 1]


def _sheave_forces(tackle: Tackle, tensions: Mapping[Strand, float]) -> Iterator[tuple[str, float]]:
    """Force on each sheave: both strands, by the angle between them."""
    for sheave, near, far in _turns(tackle):
        yield (
            sheave.name,
            resultant_n(
                first_n=tensions[near],
                second_n=tensions[far],
                between_rad=math.pi - sheave.turn_rad,
            ),
        )


def _anchor_forces(tackle: Tackle, tensions: Mapping[Strand, float]) -> dict[str, float]:
    """Force on each anchor: its sheaves and the ropes made off on it."""
    forces: dict[str, float] = {}
    on_sheaves = dict(_sheave_forces(tackle, tensions))
    pulls = [(sheave.hangs_on, on_sheaves[sheave.name]) for sheave in tackle.sheaves]
    pulls += [(rope.made_off_on, tensions[_strands(rope)[-1]]) for rope in tackle.ropes]
    for place, force in pulls:
        if isinstance(place, Anchor):
            forces[place.name] = forces.get(place.name, 0.0) + force
    return forces
