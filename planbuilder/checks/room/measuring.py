"""Clearance: whether the opening was measured at its narrowest ring, in the unit meant."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.room.rings import Clear, rings
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Quantity, Rule, Source, Stated, Weight
from planbuilder.units import Dimension, Length, QuantityError, parse

COVER = Rule(
    "clearance/opening-measured-at-cover",
    "Where the opening was measured",
    Weight.WARNS,
    Source(
        mark=Mark.DERIVED,
        note="gasket, bolts, hinge, an open cover and a ladder stub leave less than the cover says",
    ),
)
UNIT = Rule(
    "clearance/opening-size-implausible",
    "Sizes of the opening in the unit that was meant",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a size far from any opening for people is often a slipped unit"),
)
_ONE_PART = re.compile(r"\s*([\d./ -]*\d\.?)\s*([A-Za-z'\"′″]+)\s*\Z")
_OTHERS = ("in", "mm", "cm", "ft")


def check_measured(scene: Scene) -> Iterator[Finding]:
    """The smallest ring was measured, or the rings under the cover are stated."""
    if not scene.space.is_confined:
        return
    opening, key = scene.space.opening, scene.key("opening.measured")
    outcome: Stated | Missing = Missing(because="nobody says where it was measured")
    if opening.measured == "smallest-ring":
        outcome = Stated(holds=True, because="measured at its smallest ring")
    elif opening.measured == "cover":
        below = ", ".join(one.name for one in opening.ring)
        outcome = Stated(holds=bool(below), because=f"cover measured, and: {below or 'nothing'}")
    yield finding(
        COVER,
        outcome,
        settle_by="Open the cover as far as it opens, measure inside gasket, bolts, hinge and "
        'ladder stub, and state measured = "smallest-ring"; or measured = "cover", and each ring '
        "below it under ring.",
        keys=(key,),
        space=scene.space,
    )


def check_units(scene: Scene) -> Iterator[Finding]:
    """No ring is smaller than a head or larger than a hatch ever is, as written."""
    smallest = scene.defaults.of("opening-implausibly-small")
    largest = scene.defaults.of("opening-implausibly-large")
    for ring in rings(scene) if scene.space.is_confined else ():
        sizes = _short_first(ring)
        wrong = [
            (name, size)
            for number, (name, size) in enumerate(sizes)
            if size.m < smallest.value or (number == 0 and size.m > largest.value)
        ]
        if not sizes:
            continue
        words = "; ".join(f"{name} {_doubted(size, smallest, largest)}" for name, size in wrong)
        said = ", ".join(f"{name} {size.written}" for name, size in sizes)
        yield finding(
            UNIT,
            Stated(holds=not wrong, because=words or said),
            settle_by="Measure it again, and write the size with the unit of the tape: openings "
            f"for people have {up(smallest.value)} to {down(largest.value)} m.",
            keys=tuple(f"{ring.key}.{name}" for name, _size in wrong or sizes),
            space=scene.space,
            about=ring.ring.name,
        )


def _short_first(ring: Clear) -> list[tuple[str, Length]]:
    """The sizes of a ring that are stated; a trench is long, so that only the shortest is large."""
    names = ("diameter", "width", "length")
    given = [(name, getattr(ring.ring, name)) for name in names]
    return sorted(((name, one) for name, one in given if one), key=lambda pair: pair[1].m)


def _doubted(size: Length, smallest: Quantity, largest: Quantity) -> str:
    """The size as written, and as it would be in a unit that makes it an opening for people."""
    words = f"{size.written} is {size.m / INCH_M:.3g} in or {size.m:.3g} m"
    split = _ONE_PART.match(size.written)
    read = [_read(split[1], unit) for unit in _OTHERS] if split else []
    others = [
        f"{one.written} would be {one.m:.3g} m"
        for one in read
        if one is not None and smallest.value <= one.m <= largest.value
    ]
    return ": ".join((words, ", ".join(others))) if others else words


INCH_M = 0.0254


def _read(number: str, unit: str) -> Length | None:
    try:
        amount = parse(f"{number} {unit}", Dimension.LENGTH)
    except QuantityError:
        return None
    return amount if isinstance(amount, Length) else None
