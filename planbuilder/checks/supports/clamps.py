"""A sleeve clamped over a wall: grip, couple, hold. Engineer to confirm."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.haul.load import weight_n
from planbuilder.haul.sleeves import (
    Offset,
    clamp_force_n,
    couple_n,
    offset_moment_nm,
)
from planbuilder.site.supports import WallClampSleeve

ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
GRIP = Rule("haul/grip-out-of-range", "Wall thickness in the clamp's grip", Weight.BLOCKS, ENGINEER)
COUPLE = Rule("haul/clamp-overloaded", "Couple on the faces of the clamp", Weight.BLOCKS, ENGINEER)
HOLD = Rule("haul/clamp-slips", "Clamp held by friction alone", Weight.BLOCKS, ENGINEER)


def clamps_of(scene: Scene) -> Iterator[tuple[Way, WallClampSleeve]]:
    """Every way out that hangs on a clamp."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, WallClampSleeve):
            yield way, support


def check_grip(scene: Scene) -> Iterator[Finding]:
    """The wall is as thick as the clamp grips: not thinner, not thicker."""
    for way, support in clamps_of(scene):
        key, stand_key = f"support.{support.id}", way.key("rig.stand.wall_thickness")
        thick = way.rig.stand.wall_thickness if way.rig else None
        for amount, name, relation in (
            (support.grip_least, "grip_least", Relation.AT_LEAST),
            (support.grip_most, "grip_most", Relation.AT_MOST),
        ):
            needs = Needs()
            wall = needs.take("t", "wall thickness", thick, Unit.M, stand_key)
            limit = needs.take("t_grip", name.replace("_", " "), amount, Unit.M, f"{key}.{name}")
            yield compare(
                GRIP,
                way,
                needs,
                lambda: Working(wall.value, "t", (wall,)),
                relation,
                limit,
                result=("t", "wall thickness", Unit.M),
                settle_by="Use a clamp whose grip takes this wall.",
                keys=(stand_key, f"{key}.{name}"),
                about=name.replace("_", " "),
            )


def check_clamp(scene: Scene) -> Iterator[Finding]:
    """The faces of the clamp take the couple; without a seat, friction takes the weight."""
    for way, support in clamps_of(scene):
        key = f"support.{support.id}"
        for case, force in load_cases(way):
            needs, clamp = Needs(), Clamp(way, support, force)
            needs.also(clamp.needs)
            rating = needs.take(
                "R_max", "rating of a face", support.face_rating, Unit.N, f"{key}.face_rating"
            )
            yield compare(
                COUPLE,
                way,
                needs,
                clamp.couple,
                Relation.AT_MOST,
                rating,
                result=("R", f"push on a face, {case}", Unit.N),
                settle_by="Shorten the reach, or use a clamp with faces farther apart.",
                keys=(f"{key}.face_rating", way.key("rig.reach")),
                about=case,
            )
            if not support.seated:
                yield _hold(way, support, clamp, case)


class Clamp:
    """A clamp on a wall with one load at its reach from the middle of the wall."""

    def __init__(self, way: Way, support: WallClampSleeve, force: Quantity) -> None:
        """Whatever is not stated is asked for."""
        key, self.force, self.needs = f"support.{support.id}", force, Needs()
        reach = way.rig.reach if way.rig else None
        take = self.needs.take
        self.reach = take(
            "e", "load from the middle of the wall", reach, Unit.M, way.key("rig.reach")
        )
        self.spacing = take(
            "s", "spacing of the faces", support.face_spacing, Unit.M, f"{key}.face_spacing"
        )
        self.mass = take("m_c", "clamp and mast", support.clamp_mass, Unit.KG, f"{key}.clamp_mass")
        self.offset = take(
            "e_c",
            "clamp from the middle of the wall",
            support.clamp_offset,
            Unit.M,
            f"{key}.clamp_offset",
        )

    @property
    def own(self) -> Quantity:
        """The weight of clamp and mast."""
        return derived(
            "W_c", "weight of clamp and mast", weight_n(self.mass.value), Unit.N, "m_c*g"
        )

    @property
    def loads(self) -> tuple[Offset, ...]:
        """Load and own weight, each with its distance from the middle of the wall."""
        return (self.force.value, self.reach.value), (self.own.value, self.offset.value)

    def couple(self) -> Working:
        """The push on each face."""
        value = couple_n(moment_nm=offset_moment_nm(self.loads), spacing_m=self.spacing.value)
        inputs = (self.force, self.reach, self.own, self.offset, self.spacing)
        return Working(value, "(F*e + W_c*e_c)/s", inputs)


def _hold(way: Way, support: WallClampSleeve, clamp: Clamp, case: str) -> Finding:
    needs, key = Needs(), f"support.{support.id}"
    needs.also(clamp.needs)
    needs.say(support.seated, f"{key}.seated")
    grip = needs.take("N", "grip force", support.grip_force, Unit.N, f"{key}.grip_force")
    mu = needs.number(
        "mu", "friction on the faces", support.face_friction, Unit.RATIO, f"{key}.face_friction"
    )
    factor = way.scene.defaults.of("clamp-factor")

    def working() -> Working:
        vertical = clamp.force.value + clamp.own.value
        value = clamp_force_n(vertical_n=vertical, friction=mu.value, safety_factor=factor.value)
        return Working(value, "SF*(F + W_c)/(2*mu)", (factor, clamp.force, clamp.own, mu))

    return compare(
        HOLD,
        way,
        needs,
        working,
        Relation.AT_MOST,
        grip,
        result=("N_need", f"grip force needed, {case}", Unit.N),
        settle_by="Seat the clamp on the coping (seated = true), or use one with more grip.",
        keys=(f"{key}.seated", f"{key}.grip_force"),
        about=case,
    )
