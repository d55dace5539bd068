"""The line with everything that hangs on it: block, connector, casualty at full lift and below."""

from __future__ import annotations

from planbuilder.checks.casualty import largest
from planbuilder.findings import Unit
from planbuilder.sketches.measures import Picture
from planbuilder.sketches.shapes import Dimension, Disc, Lane, Part, Pen, Stroke, box

HEAD_RADIUS_M = 0.11
BLOCK_HALF_M = 0.05


def hanging(picture: Picture, *, lies_below: bool = True) -> Part:
    """Line, chain of lengths from hook to toes, casualty, and the room above the rim.

    Where the casualty lies aside, another part draws them on the floor.
    """
    m, rig = picture.measures, picture.way.rig
    if rig is None or m.hook is None:
        return Part()
    lying = picture.way.scene.defaults.of("lying-attachment-height").value
    attach = m.hook - sum(one.m for one in (rig.block, rig.connector, rig.sling) if one)
    shapes: list[Stroke | Disc] = [Stroke(((0.0, m.hook), (0.0, -m.depth + lying)), Pen.LINE)]
    if rig.block:
        shapes.append(box(-BLOCK_HALF_M, m.hook - rig.block.m, BLOCK_HALF_M, m.hook, Pen.SOLID))
    stature = largest(picture.way.scene, "stature").value
    shapes += body(0.0, attach - picture.to_toe_m, stature, Pen.BODY)
    shapes += _lying(picture) if lies_below else []
    return Part(tuple(shapes), _chain(picture, m.hook) + _feet(picture))


def body(x: float, toe: float, stature: float, pen: Pen) -> list[Stroke | Disc]:
    """Somebody who hangs limp by the back, toes at the level *toe*."""
    hip, shoulder = toe + 0.13 + 0.48 * stature, toe + 0.13 + 0.82 * stature
    outline = (
        (x - 0.12, shoulder),
        (x + 0.14, shoulder),
        (x + 0.15, hip),
        (x + 0.11, toe + 0.05),
        (x + 0.08, toe),
        (x - 0.06, toe),
        (x - 0.10, hip),
    )
    head = (x + 0.03, shoulder + 0.10 * stature)
    return [Disc(head, HEAD_RADIUS_M, pen), Stroke(outline, pen, closed=True)]


def _lying(picture: Picture) -> list[Stroke | Disc]:
    m = picture.measures
    length = min(largest(picture.way.scene, "stature").value, 0.92 * m.inside)
    x, floor = m.middle - length / 2, -m.depth
    return [
        Disc((x + HEAD_RADIUS_M, floor + HEAD_RADIUS_M), HEAD_RADIUS_M, Pen.GHOST),
        box(x + 2.2 * HEAD_RADIUS_M, floor, x + length, floor + 0.22, Pen.GHOST),
    ]


def _chain(picture: Picture, hook: float) -> tuple[Dimension, ...]:
    """Hook to toes, length by length; only where every length is known."""
    rig = picture.way.rig
    if rig is None or picture.feet_m is None:
        return ()
    rows, top = [], hook
    named = (("hook block", rig.block), ("connector", rig.connector), ("sling", rig.sling))
    parts = [(name, one.m) for name, one in named if one]
    for name, length in (*parts, (f"{picture.attachment} attachment to toes", picture.to_toe_m)):
        if length > 0:
            label = f"{name} {picture.words(length, Unit.M)}"
            rows.append(Dimension(Lane.RIGHT, top - length, top, 0.0, label))
        top -= length
    return tuple(rows)


def _feet(picture: Picture) -> tuple[Dimension, ...]:
    """Where the feet come at full lift, and dashed where they have to come."""
    m, feet = picture.measures, picture.feet_m
    if feet is None or not picture.way.scene.space.is_confined:
        return ()
    mark = picture.marks.of("clearance/feet-below-rim", "clearance/casualty-blocked")
    needed = picture.way.scene.defaults.of("swing-aside").value
    side = "above" if feet >= 0 else "BELOW"
    has = mark.after(f"feet {side} rim {picture.words(abs(feet), Unit.M)}")
    least = f"needed above rim {picture.words(needed, Unit.M)}"
    rim, half = m.coaming, m.opening / 2
    low, high = sorted((rim, rim + feet))
    return (
        Dimension(Lane.LEFT, low, high, -half, has, fails=mark.fails),
        Dimension(Lane.LEFT, rim, rim + needed, -half, least, required=True),
    )
