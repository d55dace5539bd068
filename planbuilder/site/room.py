"""The room round a rig and in a shaft, as a site file states it."""

from __future__ import annotations

from planbuilder.site.fields import Distance, Size, Strict


class Overhead(Strict):
    """What hangs over the whole place of a rig: a roof, a pipe rack, a beam.

    *clear_height* is from the rim up to its underside; *head_above_hook* is how far the top of the
    support stands above the hook height; *hinge_height* is that of the hinge about which a mast is
    raised, above the surface that the hook height counts from.
    """

    clear_height: Size
    head_above_hook: Distance | None = None
    hinge_height: Distance | None = None


class Landing(Strict):
    """Level clear place where the casualty is put down; *from_opening* is edge to edge."""

    length: Size
    width: Size
    from_opening: Distance
