"""A vehicle that holds a line or a mast: is it held, does it slide, tip, keep its fumes."""

from __future__ import annotations

import math
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
from planbuilder.haul.vehicle import SURFACES, tip_pull_n
from planbuilder.site.supports import Braked, VehicleReceiver

STATICS = Source(mark=Mark.DERIVED, document="Statics")
FRICTION = Source(mark=Mark.READ, document="Noon 1994", note="secondary copy")
ROLLS = Rule("haul/vehicle-slides", "Vehicle on its slope", Weight.BLOCKS, FRICTION)
TIPS = Rule("haul/vehicle-tips", "Vehicle tipping over its rear axle", Weight.BLOCKS, STATICS)
HITCH = Rule("haul/hitch-overloaded", "Load on the receiver", Weight.BLOCKS, STATICS)
HELD = Rule(
    "haul/vehicle-not-held", "Vehicle braked on all wheels and chocked", Weight.BLOCKS, STATICS
)
ENGINE = Rule(
    "haul/engine-running",
    "Engine off beside the opening",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="exhaust sinks into openings; key held by the leader"),
)
LEVEL = Rule("haul/receiver-not-level", "Slope that the receiver levels", Weight.BLOCKS, STATICS)


def check_vehicle(scene: Scene) -> Iterator[Finding]:
    """Every question to a vehicle that holds a line."""
    for way in scene.ways():
        vehicle = scene.support(way.rig.support) if way.rig else None
        if not isinstance(vehicle, VehicleReceiver):
            continue
        yield _held(way, vehicle)
        yield _engine(way, vehicle)
        yield _slides(way, vehicle)
        if way.rig is not None and way.rig.pull_elevation is not None:
            continue  # no mast stands in it: see what the line pulls
        yield _level(way, vehicle)
        for case, force in load_cases(way):
            yield _tips(way, vehicle, case, force)
            yield _hitch(way, vehicle, case, force)


def _held(way: Way, vehicle: VehicleReceiver) -> Finding:
    needs, key = Needs(), f"support.{vehicle.id}"
    needs.say(vehicle.braked, f"{key}.braked")
    needs.say(vehicle.chocked, f"{key}.chocked")
    good = vehicle.braked is Braked.ALL and bool(vehicle.chocked)
    words = f"{vehicle.braked} braked, {'chocked' if vehicle.chocked else 'not chocked'}"
    return answer(
        HELD,
        way,
        needs,
        lambda: Stated(holds=good, because=words),
        settle_by="Park brake on all wheels, chocks on both sides of a wheel on each axle.",
        keys=(f"{key}.braked", f"{key}.chocked"),
    )


def _engine(way: Way, vehicle: VehicleReceiver) -> Finding:
    needs, key = Needs(), f"support.{vehicle.id}.engine_off"
    needs.say(vehicle.engine_off, key)
    words = "engine off, key held" if vehicle.engine_off else "engine runs near the opening"
    return answer(
        ENGINE,
        way,
        needs,
        lambda: Stated(holds=bool(vehicle.engine_off), because=words),
        settle_by="Switch the engine off and hold the key.",
        keys=(key,),
    )


def _slides(way: Way, vehicle: VehicleReceiver) -> Finding:
    """Grip over the pull of the slope, the casualty's weight hanging plumb behind."""
    needs, key = Needs(), f"support.{vehicle.id}"
    stand = way.rig.stand if way.rig else None
    surface = stand.surface if stand else None
    needs.say(surface, way.key("rig.stand.surface"))
    slope = needs.take(
        "s", "slope", stand.slope if stand else None, Unit.RAD, way.key("rig.stand.slope")
    )
    mass = needs.take("m_v", "vehicle", vehicle.vehicle_mass, Unit.KG, f"{key}.vehicle_mass")
    grip = SURFACES[surface].friction if surface else math.nan
    mu = Quantity(
        symbol="mu", label=f"grip on {surface}", value=grip, unit=Unit.RATIO, source=FRICTION
    )

    def working() -> Working:
        climb = max(math.tan(abs(slope.value)), 1e-6)
        steep = derived("k_s", "steepness", climb, Unit.RATIO, "tan(s)")
        return Working(grip / climb, "mu/k_s", (mu, steep, slope, mass))

    return compare(
        ROLLS,
        way,
        needs,
        working,
        Relation.AT_LEAST,
        way.scene.defaults.of("vehicle-factor"),
        result=("SF_s", "grip over the pull of the slope", Unit.RATIO),
        settle_by="Park on flatter or drier ground; chocks do not replace grip.",
        keys=(way.key("rig.stand.surface"), way.key("rig.stand.slope")),
    )


def _tips(way: Way, vehicle: VehicleReceiver, case: str, force: Quantity) -> Finding:
    needs, key = Needs(), f"support.{vehicle.id}"
    stand, reach_amount = (way.rig.stand, way.rig.reach) if way.rig else (None, None)
    mass = needs.take("m_v", "vehicle", vehicle.vehicle_mass, Unit.KG, f"{key}.vehicle_mass")
    centre = needs.take(
        "b",
        "centre of mass ahead of the rear axle",
        vehicle.centre_ahead,
        Unit.M,
        f"{key}.centre_ahead",
    )
    high = needs.take(
        "h_m", "height of the centre of mass", vehicle.centre_height, Unit.M, f"{key}.centre_height"
    )
    height = needs.take(
        "h_p", "height of the receiver", vehicle.hitch_height, Unit.M, f"{key}.hitch_height"
    )
    behind = needs.take(
        "c", "receiver behind the rear axle", vehicle.hitch_behind, Unit.M, f"{key}.hitch_behind"
    )
    reach = needs.take("a", "reach from the receiver", reach_amount, Unit.M, way.key("rig.reach"))
    slope = needs.take(
        "s", "slope", stand.slope if stand else None, Unit.RAD, way.key("rig.stand.slope")
    )

    def working() -> Working:
        # A slope that falls to the rear moves the plumb line through the centre toward the axle,
        # and the receiver away from it. The worst way is taken: no direction is asked for.
        steep_rad = abs(slope.value)
        lever = centre.value * math.cos(steep_rad) - high.value * math.sin(steep_rad)
        pull_n = tip_pull_n(
            weight_n=weight_n(mass.value),
            centre_to_axle_m=max(lever, 0.0),
            hitch_height_m=height.value,
            overhang_m=behind.value + reach.value,
            rise_rad=steep_rad - math.pi / 2,
        )
        note = "load hanging at c + a behind the rear axle, both plumb lines moved by the slope"
        tip = derived("T_tip", "load that tips the vehicle", min(pull_n, 1e9), Unit.N, note)
        inputs = (tip, force, mass, centre, high, height, behind, reach, slope)
        return Working(tip.value / force.value, "T_tip/F", inputs)

    return compare(
        TIPS,
        way,
        needs,
        working,
        Relation.AT_LEAST,
        way.scene.defaults.of("vehicle-factor"),
        result=("SF_t", f"load that tips the vehicle over the load, {case}", Unit.RATIO),
        settle_by="Shorten the reach, or use a heavier vehicle.",
        keys=(way.key("rig.reach"), f"{key}.vehicle_mass"),
        about=case,
    )


def _hitch(way: Way, vehicle: VehicleReceiver, case: str, force: Quantity) -> Finding:
    needs, key = Needs(), f"support.{vehicle.id}.hitch_rating"
    rating = needs.take("F_hitch", "rating of the receiver", vehicle.hitch_rating, Unit.N, key)
    return compare(
        HITCH,
        way,
        needs,
        lambda: Working(force.value, "F", (force,)),
        Relation.AT_MOST,
        rating,
        result=("F", f"load on the receiver, {case}", Unit.N),
        settle_by="Use a receiver rated for this load.",
        keys=(key,),
        about=case,
    )


def _level(way: Way, vehicle: VehicleReceiver) -> Finding:
    needs, key = Needs(), f"support.{vehicle.id}.levels_to"
    own = way.rig.stand.slope if way.rig else None
    slope = needs.take("s", "slope", own, Unit.RAD, way.key("rig.stand.slope"))
    limit = needs.take("s_max", "slope the receiver levels", vehicle.levels_to, Unit.RAD, key)
    return compare(
        LEVEL,
        way,
        needs,
        lambda: Working(slope.value, "s", (slope,)),
        Relation.AT_MOST,
        limit,
        result=("s", "slope of the lane", Unit.RAD),
        settle_by="Park on flatter ground, or use an adapter that levels this slope.",
        keys=(key, way.key("rig.stand.slope")),
    )
