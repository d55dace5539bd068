"""Clearance: the ring that a casualty sweeps round the mast, against what is drawn there."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room import landing
from planbuilder.checks.room.drawn import HALF_TURN_RAD, OnFeet, corners, on_feet
from planbuilder.checks.room.set_back import CORNERS
from planbuilder.checks.scene import Scene, Working, derived
from planbuilder.clearance.ground_plan import path_apart_m
from planbuilder.findings import Finding, Relation, Unit
from planbuilder.site.layout import Outline, Patch


def check_sweep_drawn(scene: Scene) -> Iterator[Finding]:
    """The hook's path keeps half a casualty and a gap to everything that is drawn."""
    for one in on_feet(scene):
        rig = one.rig
        if rig.swing_from is not None and rig.swing_from != rig.swing_to:
            for thing in scene.space.layout.obstacle:
                yield _kept(scene, one, thing)


def _kept(scene: Scene, one: OnFeet, thing: Patch) -> Finding:
    needs = Needs()
    path_m = needs.work(_path(one, needs, thing.outline))
    drawn = derived("d_path", "path of the hook to it", path_m, Unit.M, "off the layout")
    half, off, gap = (
        landing.half_casualty(scene),
        one.off_centre(),
        scene.defaults.of("landing-gap"),
    )
    least_m = half.value + gap.value
    lacking_m = max(0.0, least_m - path_m + off.value) + 0.01
    return compare(
        landing.SWEEP,
        one.way,
        needs,
        lambda: Working(path_m - off.value, "d_path - e", (drawn, off)),
        Relation.AT_LEAST,
        derived("g_swept", "casualty and gap", least_m, Unit.M, "b_c + g_l", (half, gap)),
        result=("g_path", "path of the hook to what stands there", Unit.M),
        settle_by=CORNERS
        if needs.refused
        else f"Move it {lacking_m:.2f} m out of the ring that the casualty sweeps, or narrow the "
        "permitted swing.",
        keys=(scene.key("layout.obstacle"), one.way.key("rig.swing_to")),
        about=thing.name,
    )


def _path(one: OnFeet, needs: Needs, outline: Outline) -> Callable[[], float]:
    """The boom at angle nought points from the mast over the opening."""
    rig, key, mast = one.rig, one.way.key("rig.swing_to"), one.mast(needs)
    first = needs.take("psi_from", "turn one way", rig.swing_from, Unit.RAD, key)
    last = needs.take("psi_to", "turn the other way", rig.swing_to, Unit.RAD, key)
    own = Needs()  # asked for with the mast already
    towards = own.take("theta", "direction", rig.stands_towards, Unit.RAD, key)
    reach = own.take("a", "reach", rig.reach, Unit.M, key)
    return lambda: path_apart_m(
        mast=mast(),
        radius_m=reach.value,
        from_rad=towards.value + HALF_TURN_RAD + first.value,
        to_rad=towards.value + HALF_TURN_RAD + last.value,
        outline=corners(outline),
    )
