"""A sleeve clamped over a wall: kind of wall, grip, couple, hold, strip. Engineer to confirm."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.load import weight_n
from planbuilder.haul.sleeves import (
    clamp_force_n,
    couple_n,
    wall_overturning_nm,
    wall_stabilising_nm,
    wall_strip_weight_n,
)
from planbuilder.site.space import WallKind
from planbuilder.site.supports import WallClampSleeve, WallSleeve

ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
WALL = Rule("haul/wall-not-solid", "Wall that the sleeve holds on to", Weight.BLOCKS, ENGINEER)
GRIP = Rule("haul/grip-out-of-range", "Wall thickness in the clamp's grip", Weight.BLOCKS, ENGINEER)
COUPLE = Rule("haul/clamp-overloaded", "Couple on the faces of the clamp", Weight.BLOCKS, ENGINEER)
HOLD = Rule("haul/clamp-slips", "Clamp held by friction alone", Weight.BLOCKS, ENGINEER)
STRIP = Rule("haul/wall-strip-tips", "Strip of wall under the clamp", Weight.BLOCKS, ENGINEER)
STRIP_M = 1.0  # the strip of wall that is counted on


def _sleeves(scene: Scene) -> Iterator[tuple[Way, WallClampSleeve | WallSleeve]]:
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, WallClampSleeve | WallSleeve):
            yield way, support


def check_wall(scene: Scene) -> Iterator[Finding]:
    """Parapets, hollow blocks and veneers hold nobody without an engineer's word."""
    for way, support in _sleeves(scene):
        needs, key = Needs(), way.key("rig.stand.wall")
        wall = way.rig.stand.wall if way.rig else None
        needs.say(wall, key)
        bad = wall is WallKind.HOLLOW
        judged = f"; {support.judged_by}" if support.judged_by else ""
        yield answer(
            WALL,
            way,
            needs,
            lambda: Stated(
                holds=not bad or bool(judged), because=f"{wall}{judged}; engineer to confirm"
            ),
            settle_by="Hold on to a solid wall, or have an engineer write that this one will do.",
            keys=(key, f"support.{support.id}.judged_by"),
        )


def check_grip(scene: Scene) -> Iterator[Finding]:
    """The wall is as thick as the clamp grips: not thinner, not thicker."""
    for way, support in _sleeves(scene):
        if not isinstance(support, WallClampSleeve):
            continue
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
    for way, support in _sleeves(scene):
        if not isinstance(support, WallClampSleeve):
            continue
        key = f"support.{support.id}"
        for case, force in load_cases(way):
            needs, clamp = Needs(), _Clamp(way, support, force)
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
        yield _strip(way, support)


class _Clamp:
    """A clamp on a wall with one load at its reach from the middle of the wall."""

    def __init__(self, way: Way, support: WallClampSleeve, force: Quantity) -> None:
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

    def couple(self) -> Working:
        """The push on each face."""
        moment = self.force.value * self.reach.value + self.own.value * self.offset.value
        value = couple_n(moment_nm=moment, spacing_m=self.spacing.value)
        inputs = (self.force, self.reach, self.own, self.offset, self.spacing)
        return Working(value, "(F*e + W_c*e_c)/s", inputs)


def _hold(way: Way, support: WallClampSleeve, clamp: _Clamp, case: str) -> Finding:
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


def _strip(way: Way, support: WallClampSleeve) -> Finding:
    stand, needs, key = way.rig.stand if way.rig else None, Needs(), f"support.{support.id}"
    _, force = next(load_cases(way))
    clamp = _Clamp(way, support, force)
    needs.also(clamp.needs)
    thick = needs.take(
        "t",
        "wall thickness",
        stand.wall_thickness if stand else None,
        Unit.M,
        way.key("rig.stand.wall_thickness"),
    )
    height = needs.take(
        "h_w",
        "free height of the wall",
        stand.wall_height if stand else None,
        Unit.M,
        way.key("rig.stand.wall_height"),
    )
    density = way.scene.defaults.of("concrete-density")
    if support.judged_by:
        words = f"{support.judged_by}; engineer to confirm on site"
        return answer(
            STRIP,
            way,
            Needs(),
            lambda: Stated(holds=True, because=words),
            settle_by="Nothing; have the engineer confirm it on site.",
            keys=(f"{key}.judged_by",),
        )

    def working() -> Working:
        strip_n = wall_strip_weight_n(
            unit_weight_n_per_m3=weight_n(density.value),
            height_m=height.value,
            width_m=STRIP_M,
            thickness_m=thick.value,
        )
        held = wall_stabilising_nm(strip_weight_n=strip_n, thickness_m=thick.value)
        loads = ((force.value, clamp.reach.value), (clamp.own.value, clamp.offset.value))
        over = wall_overturning_nm(
            loads=loads, thickness_m=thick.value, level_pull_n=0.0, pull_height_m=0.0
        )
        note = "strip of 1 m, not tied to anything"
        stab = derived("M_st", "moment that holds the strip", held, Unit.N_M, note)
        tips = derived("M_ov", "moment that tips the strip", max(over, 1e-9), Unit.N_M, note)
        inputs = (stab, tips, thick, height, density, force, clamp.reach)
        return Working(stab.value / tips.value, "M_st/M_ov", inputs)

    return compare(
        STRIP,
        way,
        needs,
        working,
        Relation.AT_LEAST,
        way.scene.defaults.of("base-factor"),
        result=("SF_w", "factor of the wall strip, LC1", Unit.RATIO),
        settle_by="A free strip of wall seldom holds: have an engineer judge the wall and state "
        "judged_by.",
        keys=(f"{key}.judged_by",),
    )
