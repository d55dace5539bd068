"""A parked vehicle as the anchor of a line that leaves its hitch for a head elsewhere."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, counted, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.load import weight_n
from planbuilder.haul.redirect import hauled_side_n
from planbuilder.haul.vehicle import (
    SURFACES,
    Vehicle,
    allowable_pull_n,
    rear_axle_pull_n,
    slide_pull_n,
    tip_or_lift_pull_n,
    vehicle_mass_needed_kg,
)
from planbuilder.site.supports import Braked, VehicleReceiver

PULL = Rule(
    "haul/vehicle-pulled-away",
    "Line pull on the parked vehicle",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)
FRICTION = Source(mark=Mark.READ, document="Noon 1994", note="secondary copy")
FLATTER = "Park on flatter ground with more grip, or use another anchor."


def check_pull(scene: Scene) -> Iterator[Finding]:
    """Sliding, tipping and the hitch decide what a vehicle holds as an anchor."""
    for way in scene.ways():
        vehicle = scene.support(way.rig.support) if way.rig else None
        if not isinstance(vehicle, VehicleReceiver) or way.rig is None:
            continue
        if way.rig.pull_elevation is not None:
            for case, force in load_cases(way):
                yield _pulled(way, vehicle, case, force)


def _pulled(way: Way, vehicle: VehicleReceiver, case: str, force: Quantity) -> Finding:
    anchor = _Anchor(way, vehicle, force, caught=case == "LC2")
    held = anchor.held()
    return compare(
        PULL,
        way,
        anchor.needs,
        anchor.working,
        Relation.AT_MOST,
        held,
        result=("T", f"pull of the line on the hitch, {case}", Unit.N),
        settle_by=anchor.advice(),
        keys=(way.key("rig.pull_elevation"), f"support.{vehicle.id}.vehicle_mass"),
        about=case,
    )


class _Anchor:
    """A vehicle with the line of one load case at its hitch, straight behind it."""

    def __init__(
        self, way: Way, vehicle: VehicleReceiver, force: Quantity, *, caught: bool
    ) -> None:
        self.way, self.support, self.force, self.needs = way, vehicle, force, Needs()
        key, rig, take = f"support.{vehicle.id}", way.rig, self.needs.take
        stand = rig.stand if rig else None
        surface, rise = (stand.surface if stand else None), (rig.pull_elevation if rig else None)
        self.needs.say(surface, way.key("rig.stand.surface"))
        self.needs.say(vehicle.braked, f"{key}.braked")
        self.needs.say((rig and rig.redirect) or None, way.key("rig.redirect"))
        grip = SURFACES[surface].friction if surface else math.nan
        self.mu = Quantity(
            symbol="mu", label=f"grip on {surface}", value=grip, unit=Unit.RATIO, source=FRICTION
        )
        slope_key, rise_key = way.key("rig.stand.slope"), way.key("rig.pull_elevation")
        self.slope = take("s", "slope", stand.slope if stand else None, Unit.RAD, slope_key)
        self.rise = take("psi_v", "rise of the line at the hitch", rise, Unit.RAD, rise_key)
        self.mass = take("m_v", "vehicle", vehicle.vehicle_mass, Unit.KG, f"{key}.vehicle_mass")
        self.lengths = [
            take(symbol, name.replace("_", " "), getattr(vehicle, name), Unit.M, f"{key}.{name}")
            for symbol, name in _LENGTHS
        ]
        self.rating = take(
            "F_hitch", "rating of the hitch", vehicle.hitch_rating, Unit.N, f"{key}.hitch_rating"
        )
        self.factor = way.scene.defaults.of("vehicle-factor")
        self.eta = way.scene.defaults.of("pulley-efficiency")
        # In a catch the line runs out over the sheaves, whose friction then holds with the anchor.
        count = 0 if caught or rig is None else len(rig.redirect)
        self.turns = counted("n_r", "sheaves that cost pull", count, way.key("rig.redirect"))

    def working(self) -> Working:
        """The pull in the line at the hitch."""
        value = hauled_side_n(
            load_side_n=self.force.value,
            efficiency=self.eta.value,
            redirects=int(self.turns.value),
        )
        inputs = (self.force, self.eta, self.turns, self.mass, self.mu, self.slope, self.rise)
        return Working(value, "F/eta**n_r", (*inputs, *self.lengths))

    def held(self) -> Quantity:
        """What the vehicle may hold."""
        value = self.needs.work(
            lambda: allowable_pull_n(
                slide_n=self._slide_n(),
                tip_n=self._tip_n(),
                hitch_rating_n=self.rating.value,
                safety_factor=self.factor.value,
            )
        )
        wheels = "all wheels" if self.support.braked is Braked.ALL else "rear wheels only"
        note = f"least of sliding ({wheels} locked) and tipping over {self.factor.value:g}, hitch"
        of = (self.factor, self.rating)
        return derived("T_allow", "pull the vehicle may hold", value, Unit.N, note, of)

    def advice(self) -> str:
        """The smallest change that holds the pull."""
        if self.needs.missing or self.needs.refused:
            return FLATTER
        pull_n = self.working().value
        mass_kg = vehicle_mass_needed_kg(
            mass_kg=self.mass.value,
            pull_n=pull_n,
            slide_n=self._slide_n(),
            tip_n=self._tip_n(),
            safety_factor=self.factor.value,
        )
        if pull_n > self.rating.value:
            return f"Use a hitch rated for {math.ceil(pull_n / 100) / 10:.1f} kN or more."
        if not math.isfinite(mass_kg):
            return FLATTER
        return f"Use a vehicle of {math.ceil(mass_kg)} kg or more, or ground with more grip."

    def _vehicle(self) -> Vehicle:
        wheelbase, ahead, high, hitch, behind = (one.value for one in self.lengths)
        return Vehicle(
            weight_n=weight_n(self.mass.value),
            wheelbase_m=wheelbase,
            centre_ahead_m=ahead,
            centre_height_m=high,
            hitch_height_m=hitch,
            hitch_behind_m=behind,
        )

    def _slide_n(self) -> float:
        slope_rad, rise_rad = abs(self.slope.value), self.rise.value
        if self.support.braked is Braked.ALL:
            return slide_pull_n(
                weight_n=weight_n(self.mass.value),
                friction=self.mu.value,
                slope_rad=slope_rad,
                rise_rad=rise_rad,
            )
        return rear_axle_pull_n(
            self._vehicle(), friction=self.mu.value, slope_rad=slope_rad, rise_rad=rise_rad
        )

    def _tip_n(self) -> float:
        return tip_or_lift_pull_n(
            self._vehicle(), slope_rad=self.slope.value, rise_rad=self.rise.value
        )


_LENGTHS = (
    ("L_w", "wheelbase"),
    ("b", "centre_ahead"),
    ("h_m", "centre_height"),
    ("h_p", "hitch_height"),
    ("c", "hitch_behind"),
)
