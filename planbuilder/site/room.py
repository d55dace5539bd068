"""The room round a rig and in a shaft, as a site file states it."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, ValidationInfo

from planbuilder.site.fields import Distance, Size, Strict, Text, Turn, refusal
from planbuilder.units import Length


class Overhead(Strict):
    """What hangs over the whole place of a rig: a roof, a pipe rack, a beam.

    *clear_height* is from the rim up to its underside; *head_above_hook* is how far the top of the
    support stands above the hook height; *hinge_height* is that of the hinge about which a mast is
    raised, above the surface that the hook height counts from, *from_hinge* how far beside that
    hinge it begins, in plan and in the plane in which the mast is raised.
    """

    clear_height: Size
    head_above_hook: Distance | None = None
    hinge_height: Distance | None = None
    from_hinge: Distance | None = None


class BackupStand(Strict):
    """How the support of a backup stands where that is not the support of the lift.

    *apart* is in plan between the middles of the two; heights and reach are as those of a rig.
    """

    apart: Distance | None = None
    top_height: Size | None = None
    reach: Distance | None = None
    hinge_height: Distance | None = None


class Landing(Strict):
    """Level clear place where the casualty is put down; *from_opening* is edge to edge.

    *to_line* is in plan from the place to the outermost conductor of the nearest power line.
    """

    length: Size
    width: Size
    from_opening: Distance
    to_line: Distance | None = None


def _not_higher(value: Length, info: ValidationInfo) -> Length:
    top = info.data.get("from_depth")
    if top is not None and value.m < top.m:
        raise refusal("depth_order", "must not lie above from_depth")
    return value


class Obstruction(Strict):
    """A ladder, pipe or ledge in a shaft: between which depths below the rim, and where.

    *reaches_in* is from the wall to its innermost point; *towards* is the direction from the
    centre, counted as that of *plumb_at*: nought along the first coordinate.
    """

    name: Text
    from_depth: Distance
    to_depth: Annotated[Size, AfterValidator(_not_higher)]
    reaches_in: Size
    towards: Turn
