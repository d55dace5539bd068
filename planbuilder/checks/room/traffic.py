"""Traffic beside the place: lane, barrier, buffer and taper."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import MEASURE, Needs
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.clearance.surroundings import (
    buffer_needed_m,
    fast_taper_m,
    is_slow,
    slow_taper_m,
)
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.outside import TriggerKind
from planbuilder.site.surroundings import Traffic

MANUAL = Source(mark=Mark.RECALLED, document="MUTCD", clause="temporary traffic control")
CHOICE = Source(mark=Mark.CHOICE, note="nobody is rescued in a lane in use")
STATE = Rule("clearance/traffic-not-stated", "Which lanes stay in use", Weight.BLOCKS, CHOICE)
LANE = Rule(
    "clearance/traffic-lane-too-near", "Distance from the lane in use", Weight.BLOCKS, CHOICE
)
BUFFER = Rule(
    "clearance/traffic-buffer-short", "Free length ahead of the place", Weight.BLOCKS, MANUAL
)
TAPER = Rule(
    "clearance/traffic-taper-short", "Length over which the lane closes", Weight.WARNS, MANUAL
)
BARRIER = Rule("clearance/traffic-no-barrier", "Barrier against traffic", Weight.WARNS, CHOICE)


def check_traffic(scene: Scene) -> Iterator[Finding]:
    """Vehicles that pass stay clear of everybody, and can stop before they reach the place."""
    traffic = scene.space.traffic
    if traffic is None:
        if any(one.kind is TriggerKind.TRAFFIC for one in scene.space.trigger):
            yield _stated(scene, Traffic())  # somebody watches for vehicles: where do they pass
        return
    yield _stated(scene, traffic)
    if traffic.lane == "road-closed":
        return
    yield _lane(scene, traffic)
    yield _buffer(scene, traffic)
    if traffic.lane != "lane-open":
        yield _taper(scene, traffic)
    yield _barrier(scene, traffic)


def _stated(scene: Scene, traffic: Traffic) -> Finding:
    outcome: Stated | Missing = Missing(because="not said")
    if traffic.lane is not None:
        outcome = Stated(holds=True, because=traffic.lane.replace("-", " "))
    return finding(
        STATE,
        outcome,
        settle_by="State whether road or lane is closed, or stays open beside the place.",
        keys=(scene.key("traffic.lane"),),
        space=scene.space,
    )


def _lane(scene: Scene, traffic: Traffic) -> Finding:
    needs, key = Needs(), scene.key("traffic.lane_distance")
    away = needs.take("d_live", "lane in use", traffic.lane_distance, Unit.M, key)
    least = scene.defaults.of("traffic-setback")
    outcome: Compared | Missing = Missing(because=needs.because)
    if not needs.missing:
        result = output("d", "distance from the lane in use", Unit.M)
        outcome = Working(away.value, "d_live", (away,)).against(
            Relation.AT_LEAST, least, result=result
        )
    return finding(
        LANE,
        outcome,
        settle_by=f"Keep opening, support, crew and landing place {least.value:.2f} m clear of the "
        "lane, on the side away from it, or close the lane.",
        keys=(key,),
        space=scene.space,
    )


def _buffer(scene: Scene, traffic: Traffic) -> Finding:
    needs, key = Needs(), scene.key("traffic.buffer")
    speed = needs.take("v", "speed", traffic.speed, Unit.M_PER_S, scene.key("traffic.speed"))
    free = needs.take("L_buf", "free length ahead", traffic.buffer, Unit.M, key)
    outcome: Compared | Missing
    if needs.missing:
        outcome, settle_by = Missing(because=needs.because), MEASURE
    else:
        value = buffer_needed_m(speed_m_per_s=speed.value)
        formula = "0.3048*5*ceil((1.47*v/0.44704*2.5 + 1.075*(v/0.44704)**2/11.2)/5)"
        result = output("L_stop", "free length needed to stop in", Unit.M)
        outcome = Working(value, formula, (speed,)).against(Relation.AT_MOST, free, result=result)
        settle_by = f"Keep {value + 0.01:.2f} m free ahead of the place, or slow the traffic."
    return finding(
        BUFFER,
        outcome,
        settle_by=settle_by,
        keys=tuple(needs.missing) or (key, scene.key("traffic.speed")),
        space=scene.space,
    )


def _taper(scene: Scene, traffic: Traffic) -> Finding:
    needs, key = Needs(), scene.key("traffic.taper")
    speed = needs.take("v", "speed", traffic.speed, Unit.M_PER_S, scene.key("traffic.speed"))
    wide = scene.key("traffic.lane_width")
    width = needs.take("W", "width of the lane", traffic.lane_width, Unit.M, wide)
    given = needs.take("L_given", "length of the taper", traffic.taper, Unit.M, key)
    outcome: Compared | Missing
    if needs.missing:
        outcome, settle_by = Missing(because=needs.because), MEASURE
    else:
        slow = is_slow(speed.value)
        length = slow_taper_m if slow else fast_taper_m
        value = length(speed_m_per_s=speed.value, lane_width_m=width.value)
        formula = "W*(v/0.44704)**2/60" if slow else "W*v/0.44704"
        result = output("L_tap", "taper needed", Unit.M)
        outcome = Working(value, formula, (speed, width)).against(
            Relation.AT_MOST, given, result=result
        )
        settle_by = f"Close the lane over {value + 0.01:.2f} m, or slow the traffic."
    return finding(
        TAPER,
        outcome,
        settle_by=settle_by,
        keys=tuple(needs.missing) or (key,),
        space=scene.space,
    )


def _barrier(scene: Scene, traffic: Traffic) -> Finding:
    outcome: Stated | Missing = Missing(because="not said")
    if traffic.barrier is not None:
        words = "a barrier stands" if traffic.barrier else "no barrier stands"
        outcome = Stated(holds=traffic.barrier, because=f"{words} between the lane and the place")
    return finding(
        BARRIER,
        outcome,
        settle_by="Put a barrier or a heavy vehicle between the lane and the place.",
        keys=(scene.key("traffic.barrier"),),
        space=scene.space,
    )
