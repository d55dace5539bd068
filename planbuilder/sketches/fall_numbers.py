"""The lengths of a fall column, from the anchor down, in m. The checks have worked them out."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.fall_height import height_needed
from planbuilder.checks.room.falling import free_fall
from planbuilder.checks.room.obstacles import Met, nearest, obstacles
from planbuilder.checks.scene import Scene
from planbuilder.clearance.fall import hanging_by_dring_m, retractor_distance_m, rope_stretch_m
from planbuilder.clearance.swing import swing_angle_rad, swing_drop_m
from planbuilder.site.fall import CountedBy, Fall


@dataclass(frozen=True, slots=True)
class Column:
    """What a fall takes up below *top*, piece by piece, and the free height there is.

    Heights count from the walking surface, up positive. *needed_m* and *level_m* are down from it;
    *depth_m* is the D-ring under the anchor as the line comes taut, *dring_m* above the surface.
    """

    top_m: float
    pieces: tuple[tuple[str, float], ...]
    anchor_m: float
    dring_m: float
    offset_m: float
    free_fall_m: float
    depth_m: float
    drop_m: float
    angle_rad: float
    needed_m: float
    level_m: float
    level_said: str
    margin_m: float
    met: tuple[Met, ...]


def column(scene: Scene, fall: Fall) -> Column | Needs:
    """The column of *fall*, or what is missing for it."""
    needs = Needs()
    needed, level = height_needed(scene, fall, needs).needed, nearest(scene, fall, needs)
    met = obstacles(scene, fall, needs)
    falling_m = 0.0
    if fall.arrest != "self-retracting-line":
        falling_m = free_fall(scene, fall, needs).value
    for name in ("anchor_height", "dring_height", "offset"):
        needs.say(getattr(fall, name), scene.key(f"fall.{name}"))
    if needs.missing or needs.refused or not (fall.anchor_height and fall.dring_height):
        return needs
    value = {one.symbol: one.value for one in needed.inputs}
    offset_m = fall.offset.m if fall.offset else 0.0
    depth_m = fall.anchor_height.m - fall.dring_height.m + falling_m
    return Column(
        top_m=value["h_g"] if fall.arrest == "rope-grab" else fall.anchor_height.m,
        pieces=(*_arrest(fall, value), *_body(fall, value)),
        anchor_m=fall.anchor_height.m,
        dring_m=fall.dring_height.m,
        offset_m=offset_m,
        free_fall_m=falling_m,
        depth_m=depth_m,
        drop_m=swing_drop_m(depth_m=depth_m, offset_m=offset_m),
        angle_rad=swing_angle_rad(depth_m=depth_m, offset_m=offset_m),
        needed_m=needed.value,
        level_m=level.value,
        level_said=level.label,
        margin_m=value["SM"],
        met=met,
    )


def _arrest(fall: Fall, value: dict[str, float]) -> tuple[tuple[str, float], ...]:
    if fall.arrest == "lanyard":
        return (("connector", value["l"]), ("deceleration", value["DD"]))
    if fall.arrest == "self-retracting-line":
        out_m = retractor_distance_m(
            anchor_height_m=value["h_A"], dring_height_m=value["h_D0"], offset_m=value["x"]
        )
        return (("line out at the start", out_m), ("arrest distance", value["a"]))
    stretch_m = rope_stretch_m(
        strain=value["eps"], anchor_height_m=value["h_A"], grab_height_m=value["h_g"]
    )
    drop_m = swing_drop_m(depth_m=value["h_A"] - value["h_D0"], offset_m=value["x"])
    return (
        ("lanyard", value["l"]),
        ("grab slides", value["d_lock"]),
        ("rope stretch", stretch_m),
        ("swing drop", drop_m),
        ("deceleration", value["DD"]),
    )


def _body(fall: Fall, value: dict[str, float]) -> tuple[tuple[str, float], ...]:
    if fall.counted_by is CountedBy.WHOLE_BODY:
        return (("whole body", value["H"]), ("margin", value["SM"]))
    soles_m = hanging_by_dring_m(harness_stretch_m=0.0, hanging_dring_m=value["k_D"] * value["H"])
    return (
        ("harness stretch", value["h_sf"]),
        ("D-ring to soles", soles_m),
        ("margin", value["SM"]),
    )
