"""The mast of a davit: the couple in its socket, and the stress in its tube where stated."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.supports.davit_base import davits
from planbuilder.checks.supports.head_pull import Pulled, pulled
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.load import weight_n
from planbuilder.haul.mast import bending_stress_pa, mast_moment_nm, socket_forces
from planbuilder.haul.tube import tube_section_modulus_m3
from planbuilder.site.supports import LeggedBaseDavit

STATICS = Source(mark=Mark.DERIVED, document="Statics")
ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
SOCKET = Rule("haul/socket-overloaded", "Socket of the mast", Weight.BLOCKS, STATICS)
TUBE = Rule("haul/mast-overstressed", "Mast as a tube", Weight.BLOCKS, ENGINEER)


class _Mast:
    """One load case on a mast with its boom."""

    def __init__(self, way: Way, support: LeggedBaseDavit, case: str, force: Quantity) -> None:
        self.needs, self.case, rig = Needs(), case, way.rig
        take, key = self.needs.take, f"support.{support.id}"
        self.boom = take("m_boom", "boom", support.boom_mass, Unit.KG, f"{key}.boom_mass")
        self.reach = take("a", "reach", rig.reach if rig else None, Unit.M, way.key("rig.reach"))
        hook = rig.hook_height if rig else None
        self.hook = take("z_h", "hook height", hook, Unit.M, way.key("rig.hook_height"))
        self.pull: Pulled = pulled(way, case, force, self.needs)

    @property
    def moment_nm(self) -> float:
        """At the foot of the mast, lower than its top bearing: the safe side."""
        pull = self.pull.at(self.hook.value)
        return mast_moment_nm(
            line_force_n=pull.size_n,
            lean_rad=pull.lean_rad,
            reach_m=self.reach.value,
            boom_weight_n=weight_n(self.boom.value),
            boom_arm_m=self.reach.value / 2,
            head_height_m=self.hook.value,
        )

    @property
    def parts(self) -> tuple[Quantity, ...]:
        """What the moment is worked out from."""
        pull, boom_n = self.pull.at(self.hook.value), weight_n(self.boom.value)
        return (
            derived("V", "pull down at the boom tip", pull.down_n, Unit.N, "of all strands"),
            derived("H", "side pull at the boom tip", pull.level_n, Unit.N, "of lean and lead"),
            derived("W_b", "weight of the boom", boom_n, Unit.N, "at half the reach"),
            self.reach,
            self.hook,
            *self.pull.inputs,
        )


MOMENT = "(V*a + H*z_h + W_b*a/2)"


def check_socket(scene: Scene) -> Iterator[Finding]:
    """The two bearings of the mast hold the moment of boom and load as a couple."""
    for way, support in davits(scene):
        if support.socket_rating is None:
            continue  # part of a marked davit: its rating covers the socket it came with
        for case, force in load_cases(way):
            yield _socket(way, support, _Mast(way, support, case, force))


def _socket(way: Way, support: LeggedBaseDavit, mast: _Mast) -> Finding:
    key, take = f"support.{support.id}", mast.needs.take
    rating = take(
        "R_s", "rating of the socket", support.socket_rating, Unit.N, f"{key}.socket_rating"
    )
    depth = take(
        "s", "spacing of the bearings", support.socket_depth, Unit.M, f"{key}.socket_depth"
    )

    def couple() -> Working:
        forces = socket_forces(
            moment_nm=mast.moment_nm,
            level_pull_n=mast.pull.at(mast.hook.value).level_n,
            bearing_spacing_m=depth.value,
        )
        return Working(forces.top_n, f"{MOMENT}/s + H", (*mast.parts, depth))

    return compare(
        SOCKET,
        way,
        mast.needs,
        couple,
        Relation.AT_MOST,
        rating,
        result=("R", f"push of a bearing on the mast, {mast.case}", Unit.N),
        settle_by="Shorten the reach, keep the line plumb, or use a davit with a deeper socket.",
        keys=(f"{key}.socket_rating", way.key("rig.reach")),
        about=mast.case,
    )


def check_mast_tube(scene: Scene) -> Iterator[Finding]:
    """Where tube and permitted stress of the mast are stated, its bending stays below."""
    for way, support in davits(scene):
        if support.mast_tube or support.mast_wall or support.mast_stress:
            for case, force in load_cases(way):
                yield _tube(way, support, _Mast(way, support, case, force))


def _tube(way: Way, support: LeggedBaseDavit, mast: _Mast) -> Finding:
    key, take = f"support.{support.id}", mast.needs.take
    outer = take("D_t", "tube of the mast", support.mast_tube, Unit.M, f"{key}.mast_tube")
    wall = take("t_w", "wall of the tube", support.mast_wall, Unit.M, f"{key}.mast_wall")
    permitted = take(
        "sigma_a", "permitted stress", support.mast_stress, Unit.PA, f"{key}.mast_stress"
    )

    def stress() -> Working:
        modulus_m3 = tube_section_modulus_m3(outer_m=outer.value, wall_m=wall.value)
        value = bending_stress_pa(moment_nm=mast.moment_nm, section_modulus_m3=modulus_m3)
        section = "pi*(D_t**4 - (D_t - 2*t_w)**4)/(32*D_t)"
        return Working(value, f"{MOMENT}/({section})", (*mast.parts, outer, wall))

    return compare(
        TUBE,
        way,
        mast.needs,
        stress,
        Relation.AT_MOST,
        permitted,
        result=("sigma", f"bending stress of the mast, {mast.case}", Unit.PA),
        settle_by="Shorten the reach, keep the line plumb, or use a stouter mast; have an engineer "
        "confirm.",
        keys=(f"{key}.mast_tube", f"{key}.mast_wall", f"{key}.mast_stress"),
        about=mast.case,
    )
