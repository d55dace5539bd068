"""Who passes the opening: sizes of people, and the opening that their outline needs."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planbuilder.checks.casualty import body_size
from planbuilder.checks.room.rings import Clear
from planbuilder.checks.scene import Scene, Way, Working, derived, stated
from planbuilder.clearance.outline import Outline, enclosing_diameter_m, short_side_needed_m
from planbuilder.clearance.oval import short_axis_needed_m
from planbuilder.findings import Quantity, Unit
from planbuilder.site.people import Person

_WHERE = {True: "oval", False: "opening over all rotations"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Breadth as a formula over its inputs, depth, allowance; a set, and somebody in front."""

    breadth_m: float
    breadth: str
    inputs: tuple[Quantity, ...]
    depth: Quantity
    allowance: Quantity
    carried: tuple[Quantity, Quantity] | None = None
    front: tuple[Quantity, Quantity] | None = None

    def outline(self, allowance_m: float) -> Outline:
        """The outline with *allowance_m* on breadth and depth of each body."""
        set_m = [one.value for one in self.carried] if self.carried else [0.0, 0.0]
        front_m = [one.value + allowance_m for one in self.front] if self.front else [0.0, 0.0]
        return Outline(
            breadth_m=self.breadth_m + allowance_m,
            depth_m=self.depth.value + allowance_m,
            set_width_m=set_m[0],
            set_depth_m=set_m[1],
            front_breadth_m=front_m[0],
            front_depth_m=front_m[1],
        )

    @property
    def all_inputs(self) -> tuple[Quantity, ...]:
        """Everything that goes into its outline."""
        return (
            *self.inputs,
            self.depth,
            self.allowance,
            *(self.front or ()),
            *(self.carried or ()),
        )

    @property
    def words(self) -> str:
        """What is turned and fitted."""
        parts = ["body ellipse B x D"]
        parts += ["casualty B_c x D_c in front"] if self.front else []
        parts += ["set w_set x d_set on its back"] if self.carried else []
        return ", ".join(parts)


def arms_down(scene: Scene, person: Person | None) -> Body:
    """A person with the arms down; None: nobody is named, so that the defaults count."""
    breadth = size_of(scene, person, "shoulder-breadth")
    return Body(
        breadth_m=breadth.value,
        breadth="B",
        inputs=(breadth,),
        depth=size_of(scene, person, "body-depth"),
        allowance=scene.defaults.of("opening-allowance"),
    )


def arms_up(scene: Scene, person: Person) -> Body:
    """A person whose arms are drawn up: shoulders narrow to the bones, hips may be broader."""
    bone, hip = (size_of(scene, person, name) for name in ("bone-breadth", "hip-breadth"))
    tissue = scene.defaults.of("shoulder-tissue")
    return Body(
        breadth_m=max(bone.value + tissue.value, hip.value),
        breadth="max(B_bone + c_t, B_hip)",
        inputs=(bone, tissue, hip),
        depth=size_of(scene, person, "body-depth"),
        allowance=scene.defaults.of("opening-allowance"),
    )


def with_casualty(body: Body, scene: Scene, person: Person) -> Body:
    """*body* with a casualty held in front, chest to chest."""
    breadth, depth = (size_of(scene, person, one) for one in ("shoulder-breadth", "body-depth"))
    front = (replace(breadth, symbol="B_c"), replace(depth, symbol="D_c"))
    return replace(body, front=front)


def with_set(body: Body, way: Way) -> Body:
    """*body* with the breathing set of *way* on the back."""
    return replace(body, carried=_breathing_set(way))


def passage(ring: Clear, body: Body) -> Working:
    """The clear diameter or short side that *body* needs at *ring*."""
    allowance_m = body.allowance.value
    outline = body.outline(allowance_m)
    if ring.is_round:
        if outline.is_plain:
            value_m = enclosing_diameter_m(outline)
            return Working(value_m, f"max({body.breadth}, D) + c", body.all_inputs)
        circle_m = enclosing_diameter_m(body.outline(0.0))
        note = f"smallest circle round {body.words}"
        circle = derived("d_circle", "circle round the outline", circle_m, Unit.M, note)
        return Working(circle_m + allowance_m, "d_circle + c", (*body.all_inputs, circle))
    side = ring.long_side
    if not ring.is_oval and outline.is_plain:
        breadth = body.breadth
        formula = (
            f"max(min({breadth}, D) + c, sqrt(max(0, ({breadth} + c)**2 + (D + c)**2 - L_side**2)))"
        )
        if (needed_m := short_side_needed_m(outline, long_side_m=side.value)) <= side.value:
            return Working(needed_m, formula, (*body.all_inputs, side))
    function = short_axis_needed_m if ring.is_oval else None
    turned_m = (
        function(outline, long_axis_m=side.value)
        if function
        else short_side_needed_m(outline, long_side_m=side.value)
    )
    note = f"least short side of the {_WHERE[ring.is_oval]} round {body.words}, with c"
    turned = derived("d_turned", "short side for the outline", turned_m, Unit.M, note)
    return Working(turned_m, "d_turned", (*body.all_inputs, side, turned))


def size_of(scene: Scene, person: Person | None, name: str) -> Quantity:
    """A size of *person* as measured, or the default."""
    default = scene.defaults.of(name)
    return default if person is None else body_size(person, name, default)


def _breathing_set(way: Way) -> tuple[Quantity, Quantity]:
    scene = way.scene
    width, depth = scene.defaults.of("set-width"), scene.defaults.of("set-depth")
    item = scene.equipment(way.method.breathing_set) if way.method.breathing_set else None
    key = f"equipment.{item.id}" if item else ""
    if item and item.width:
        width = stated("w_set", "width of the set", item.width, Unit.M, f"{key}.width")
    if item and item.depth:
        depth = stated("d_set", "depth of the set", item.depth, Unit.M, f"{key}.depth")
    return width, depth
