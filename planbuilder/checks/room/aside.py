"""Where a casualty lies who is not under the hook, and the line that goes there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.lifting.raise_time import drag_length
from planbuilder.checks.room.place import clear_sides
from planbuilder.checks.scene import Scene, Way, derived, once_a_way
from planbuilder.findings import Quantity, Unit
from planbuilder.site.method import MethodKind
from planbuilder.site.rig import Rig
from planbuilder.site.travel import Carrying


@dataclass(frozen=True, slots=True)
class Aside:
    """A casualty beside the axis: how far, how far after the drag, and the line from the head.

    *depth* is that of the attachment of somebody who lies on the floor.
    """

    way: Way
    needs: Needs
    lies: Quantity
    dragged: Quantity
    off: Quantity
    hook: Quantity
    depth: Quantity

    @property
    def left_m(self) -> float:
        """What the planned drag leaves of the offset from under the opening, in m."""
        return max(0.0, self.lies.value - self.dragged.value)

    @property
    def from_hook_m(self) -> float:
        """The same from under the hook, which may hang off on the other side, in m."""
        return self.left_m + self.off.value

    @property
    def line_m(self) -> float:
        """From the head down to the attachment, in m."""
        return self.hook.value + self.depth.value

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """Everything that places the line."""
        return self.lies, self.dragged, self.off, self.hook, self.depth


def is_raised_from_above(way: Way) -> bool:
    """A rig lifts out of a space through an opening over it."""
    space = way.scene.space
    return way.rig is not None and space.is_confined and not space.opening.from_side


@once_a_way
def casualty_aside(way: Way) -> Aside | None:
    """The casualty of *way* where they may lie aside; None where the floor is not wider."""
    if way.rig is None or not is_raised_from_above(way) or not _may_lie_aside(way.scene):
        return None
    scene, rig, needs, key = way.scene, way.rig, Needs(), way.key("rig.hook_height")
    lies = _lies(way, needs)
    hook = needs.take("h_h", "hook height", rig.hook_height, Unit.M, key)
    down, tail = scene.down
    floor = needs.take("z", "depth", down, Unit.M, scene.key(tail))
    lying = scene.defaults.of("lying-attachment-height")
    depth_m, note = floor.value - lying.value, "z - h_lying, lying on the floor"
    depth = derived("z_a", "depth of the attachment", depth_m, Unit.M, note, (floor, lying))
    return Aside(way, needs, lies, _dragged(way, rig, needs), _off(way, rig), hook, depth)


def asides(scene: Scene) -> Iterator[Aside]:
    """The casualty of every way out where they may lie aside."""
    found = (casualty_aside(way) for way in scene.ways())
    return (one for one in found if one is not None)


def _may_lie_aside(scene: Scene) -> bool:
    """True unless the plan says where, or the floor is known to be no wider than the opening."""
    shape, opening = scene.space.shape, scene.space.opening
    inside = [one.m for one in (shape.inside_width, shape.inside_length) if one]
    clear = [one.m for one in (opening.diameter, opening.length, opening.width) if one]
    whole = len(inside) == (2 if opening.diameter is None and shape.inside_is != "round" else 1)
    wider = not whole or not clear or max(inside) > max(clear)
    return scene.space.lies_off is not None or wider


def _lies(way: Way, needs: Needs) -> Quantity:
    """Where the casualty lies when the line is tightened: where they fell, or were brought to."""
    label, scene = "casualty from under the opening", way.scene
    if _is_brought(way):
        return derived("x_c", label, 0.0, Unit.M, "brought there by those who go in")
    return needs.take("x_c", label, scene.space.lies_off, Unit.M, scene.key("lies_off"))


def _is_brought(way: Way) -> bool:
    """Whether those who go in bring the casualty along the route before the line lifts."""
    carried = [one.coming_out for one in way.scene.space.route]
    enters = way.method.method is MethodKind.ENTRY
    return enters and any(one not in (None, Carrying.RAISED) for one in carried)


def _dragged(way: Way, rig: Rig, needs: Needs) -> Quantity:
    dragged = drag_length(way, rig, needs)
    if dragged is not None:
        return dragged
    return derived("l_drag", "way along the floor", 0.0, Unit.M, "no drag is planned")


def _off(way: Way, rig: Rig) -> Quantity:
    label, key = "hook off the centre", way.key("rig.off_centre")
    if rig.off_centre is None:
        return derived("e", label, 0.0, Unit.M, "the hook hangs over the centre")
    return Needs().take("e", label, rig.off_centre, Unit.M, key)


def rim(aside: Aside, needs: Needs) -> tuple[Quantity, Quantity]:
    """Half the least clear way of the opening, and how deep its lower edge lies."""
    scene = aside.way.scene
    sides, opening = clear_sides(scene, needs), scene.space.opening
    least = sides if isinstance(sides, Quantity) else sides[1]
    half = derived("R_op", "centre to the rim", least.value / 2, Unit.M, "least way/2", (least,))
    neck_key = scene.key("opening.neck")
    return half, needs.take("e_n", "length of the neck", opening.neck, Unit.M, neck_key)
