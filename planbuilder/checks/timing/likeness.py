"""Was a drill held where it is no easier than here, by the marks of the place?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.scene import Scene
from planbuilder.response.representative import is_elevated
from planbuilder.site.opening import Opening
from planbuilder.site.people import Drill
from planbuilder.site.space import Space
from planbuilder.units import Length

SAME_M = 1e-9  # binary fractions only


@dataclass(frozen=True, slots=True)
class Likeness:
    """In what the place of a drill was easier than the space, and what of it is not known."""

    easier: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def is_like(self) -> bool:
        """Whether the drill shows as much as the plan needs."""
        return not self.easier and not self.unknown


@dataclass(frozen=True, slots=True)
class _Marks:
    """What makes a place hard: each None where it is not stated."""

    opening_m: float | None
    depth: Length | None
    from_side: bool | None
    above_ground: Length | None
    obstructed: bool | None


def likeness(scene: Scene, drill: Drill) -> Likeness:
    """The place of *drill* against this space, and its breathing sets against those of the plan."""
    easier: list[str] = []
    unknown: list[str] = []
    if drill.held_in != scene.space.id:
        for mark, words, is_easier in _compared(scene, drill):
            easier += [words] if is_easier else []
            unknown += [mark] if is_easier is None else []
    if _in_sets(scene, drill) and drill.sets_worn is not True:
        easier.append("no breathing sets")
    return Likeness(tuple(easier), tuple(unknown))


def _compared(scene: Scene, drill: Drill) -> Iterator[tuple[str, str, bool | None]]:
    """Each mark, the words for an easier place, and whether the drill's was: None, not known."""
    own, there = _marks_of(scene.space), _marks_of_drill(scene, drill)
    if scene.space.is_confined:
        turned = "entered from above" if own.from_side else "entered from the side"
        yield "opening", "a wider opening", _wider(own, there)
        yield "from side", turned, _other_side(own, there)
        yield "above ground", "an opening near the ground", _lower(own, there)
    yield "depth", "less depth", _shallower(own, there)
    yield "obstructed", "nothing in the way", _freer(own, there)


def _wider(own: _Marks, there: _Marks) -> bool | None:
    if there.opening_m is None:
        return None
    return own.opening_m is not None and there.opening_m > own.opening_m + SAME_M


def _shallower(own: _Marks, there: _Marks) -> bool | None:
    if there.depth is None:
        return None
    return own.depth is not None and there.depth.m < own.depth.m - SAME_M


def _other_side(own: _Marks, there: _Marks) -> bool | None:
    return None if there.from_side is None else there.from_side is not own.from_side


def _lower(own: _Marks, there: _Marks) -> bool | None:
    if own.above_ground is None or not is_elevated(own.above_ground.m):
        return False
    return None if there.above_ground is None else not is_elevated(there.above_ground.m)


def _freer(own: _Marks, there: _Marks) -> bool | None:
    if not own.obstructed:
        return False
    return None if there.obstructed is None else not there.obstructed


def _in_sets(scene: Scene, drill: Drill) -> bool:
    rescue = scene.space.rescue
    method = rescue.fallback if drill.way == "fallback" and rescue.fallback else rescue.primary
    return method.breathing_set is not None


def _marks_of(place: Space) -> _Marks:
    height = place.fall.below if place.fall and not place.is_confined else None
    return _Marks(
        _narrowest_m(place.opening),
        height or place.shape.depth,
        place.opening.from_side,
        place.opening.above_ground,
        bool(place.obstruction or place.bend or place.shape.obstructed),
    )


def _marks_of_drill(scene: Scene, drill: Drill) -> _Marks:
    """What the record says of the place, and where it is silent, the space it was held in."""
    place = next((one for one in scene.site.space if one.id == drill.held_in), None)
    known = _marks_of(place) if place else _Marks(None, None, None, None, None)
    return _Marks(
        drill.opening.m if drill.opening else known.opening_m,
        drill.depth or known.depth,
        known.from_side if drill.from_side is None else drill.from_side,
        drill.above_ground or known.above_ground,
        known.obstructed if drill.obstructed is None else drill.obstructed,
    )


def _narrowest_m(opening: Opening) -> float | None:
    rings = opening.ring if opening.measured == "cover" else (opening, *opening.ring)
    sizes = [
        one.m
        for ring in rings
        for one in (ring.diameter, ring.length, ring.width)
        if one is not None
    ]
    return min(sizes, default=None)
