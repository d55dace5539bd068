"""The wall that a sleeve holds on to: what it is made of, and whether a strip of it tips."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived, stated
from planbuilder.checks.supports.clamps import Clamp, clamps_of
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
from planbuilder.haul.mast import level_part_n
from planbuilder.haul.sleeves import wall_overturning_nm, wall_stabilising_nm, wall_strip_weight_n
from planbuilder.site.standing import WallKind
from planbuilder.site.supports import WallClampSleeve, WallSleeve

ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
WALL = Rule("haul/wall-not-solid", "Wall that the sleeve holds on to", Weight.BLOCKS, ENGINEER)
STRIP = Rule("haul/wall-strip-tips", "Strip of wall under the clamp", Weight.BLOCKS, ENGINEER)
WEAK = frozenset((WallKind.HOLLOW, WallKind.CORRODED, WallKind.PARAPET))
STRIP_M = 1.0  # the strip of wall that is counted on
NOT_TIED = "strip of 1 m, not tied to anything"


def check_wall(scene: Scene) -> Iterator[Finding]:
    """Parapets, hollow blocks, veneers and rust hold nobody without an engineer's word."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if not isinstance(support, WallClampSleeve | WallSleeve):
            continue
        needs, key = Needs(), way.key("rig.stand.wall")
        wall = way.rig.stand.wall if way.rig else None
        needs.say(wall, key)
        bad = wall in WEAK
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


def check_strip(scene: Scene) -> Iterator[Finding]:
    """The strip of wall under the clamp, unless somebody who may judge walls has judged it."""
    for way, support in clamps_of(scene):
        yield from _strip(way, support)


def _strip(way: Way, support: WallClampSleeve) -> Iterator[Finding]:
    key = f"support.{support.id}.judged_by"
    if support.judged_by:
        words = f"{support.judged_by}; engineer to confirm on site"
        yield answer(
            STRIP,
            way,
            Needs(),
            lambda: Stated(holds=True, because=words),
            settle_by="Nothing; have the engineer confirm it on site.",
            keys=(key,),
        )
        return
    for case, force in load_cases(way):
        strip = _Strip(way, support, force)
        yield compare(
            STRIP,
            way,
            strip.needs,
            strip.working,
            Relation.AT_LEAST,
            way.scene.defaults.of("base-factor"),
            result=("SF_w", f"factor of the wall strip, {case}", Unit.RATIO),
            settle_by="A free strip of wall seldom holds: have an engineer judge the wall and "
            "state judged_by.",
            keys=(key,),
            about=case,
        )


class _Strip:
    """A strip of wall not tied to anything, with the clamp on it and the line leaning outward."""

    def __init__(self, way: Way, support: WallClampSleeve, force: Quantity) -> None:
        self.clamp, self.needs = Clamp(way, support, force), Needs()
        self.needs.also(self.clamp.needs)
        rig, take = way.rig, self.needs.take
        stand, hook = (rig.stand if rig else None), (rig.hook_height if rig else None)
        self.thick = take(
            "t",
            "wall thickness",
            stand.wall_thickness if stand else None,
            Unit.M,
            way.key("rig.stand.wall_thickness"),
        )
        self.height = take(
            "h_w",
            "free height of the wall",
            stand.wall_height if stand else None,
            Unit.M,
            way.key("rig.stand.wall_height"),
        )
        self.hook = take(
            "H", "hook height over the wall's foot", hook, Unit.M, way.key("rig.hook_height")
        )
        self.density = way.scene.defaults.of("concrete-density")
        self.lean = way.scene.defaults.of("planned-lean")
        if rig and rig.line_lean and abs(rig.line_lean.rad) > self.lean.value:
            key = way.key("rig.line_lean")
            self.lean = stated("delta", "lean of the line", rig.line_lean, Unit.RAD, key)

    def working(self) -> Working:
        """How many times the tipping moment is held."""
        held = derived("M_st", "moment that holds the strip", self._held_nm(), Unit.N_M, NOT_TIED)
        over_nm = max(self._tips_nm(), 1e-9)
        over = derived("M_ov", "moment that tips the strip", over_nm, Unit.N_M, NOT_TIED)
        rest = (self.thick, self.height, self.hook, self.lean, self.density)
        inputs = (held, over, *rest, self.clamp.force, self.clamp.reach)
        return Working(held.value / over.value, "M_st/M_ov", inputs)

    def _held_nm(self) -> float:
        strip_n = wall_strip_weight_n(
            unit_weight_n_per_m3=weight_n(self.density.value),
            height_m=self.height.value,
            width_m=STRIP_M,
            thickness_m=self.thick.value,
        )
        return wall_stabilising_nm(strip_weight_n=strip_n, thickness_m=self.thick.value)

    def _tips_nm(self) -> float:
        """A leaning line pulls down a little less than a plumb one; that is not counted on."""
        level_n = level_part_n(line_force_n=self.clamp.force.value, lean_rad=abs(self.lean.value))
        return wall_overturning_nm(
            loads=self.clamp.loads,
            thickness_m=self.thick.value,
            level_pull_n=level_n,
            pull_height_m=self.hook.value,
        )
