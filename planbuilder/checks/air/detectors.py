"""The gas detector: a sensor for each gas, calibration, accuracy, and one for the rescuers."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.atmosphere import LIMITS, judged
from planbuilder.checks.air.gas_meter import is_tested
from planbuilder.checks.air.set_points import other_toxics
from planbuilder.checks.asking import Needs
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.findings import (
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
from planbuilder.site.atmosphere import Gas, GasMeter, Monitoring, Sensor
from planbuilder.site.equipment import Equipment
from planbuilder.site.method import MethodKind

GENERAL = "29 CFR 1910.146"
SENSOR = Rule(
    "plan/no-sensor-for-gas",
    "Gas meter with a sensor for each gas",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(4)(i), (d)(5)"),
)
CALIBRATION = Rule(
    "plan/meter-calibration-overdue",
    "Gas meter calibrated, to the last day of work",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(4)(i)", note="maintained properly"),
)
ACCURACY = Rule(
    "plan/meter-inaccurate",
    "Accuracy of the gas meter",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.269", clause="(e)(8)"),
)
SPARE = Rule(
    "plan/no-meter-for-rescuers",
    "A gas meter of their own for those who go in",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="the entrant's meter is inside with the entrant"),
)
_SENSORS = {
    Gas.OXYGEN: Sensor.OXYGEN,
    Gas.INERT: Sensor.OXYGEN,
    Gas.HYDROGEN_SULFIDE: Sensor.HYDROGEN_SULFIDE,
    Gas.CARBON_MONOXIDE: Sensor.CARBON_MONOXIDE,
    Gas.FLAMMABLE: Sensor.FLAMMABLE,
}


def wanted_sensors(scene: Scene) -> list[Sensor]:
    """What the meter must read: gases feared, let out or cleared, and those with a set-point.

    Empty where the plan neither fears a gas nor makes the air a matter of tests.
    """
    space = scene.space
    gases = {Gas(one.kind) for one in space.hazard if one.kind.value in set(Gas)}
    other = any(other_toxics(scene))
    if not space.is_confined or not (gases or other or is_tested(scene)):
        return []
    gases |= {one.kind for one in space.release}
    gases |= {one.kind for one in space.ventilation.gas} if space.ventilation else set()
    gases |= {gas for gas in Gas if getattr(space.set_points, LIMITS[gas][1]) is not None}
    found = {_SENSORS[one] for one in gases} | {Sensor.OXYGEN, Sensor.FLAMMABLE}
    return [one for one in Sensor if one in found]


def _meter(scene: Scene) -> Equipment | None:
    meter = (scene.space.monitoring or Monitoring()).meter
    return scene.equipment(meter) if meter else None


def _facts(scene: Scene) -> tuple[Equipment, GasMeter] | None:
    """The meter of the space with its facts, where both are given."""
    item = _meter(scene)
    return (item, item.meter) if item is not None and item.meter is not None else None


def _unnamed(scene: Scene) -> Missing:
    item = _meter(scene)
    if item is None:
        return Missing(because="no gas meter is named")
    return Missing(because=f"{item.name}: nothing is stated of its sensors")


def _key(scene: Scene, tail: str) -> str:
    """Where the fact belongs: with the meter, or with the space that names none."""
    item = _meter(scene)
    return f"equipment.{item.id}.meter.{tail}" if item else scene.key("monitoring.meter")


def check_sensors(scene: Scene) -> Iterator[Finding]:
    """A meter without the sensor reads nothing, and looks well."""
    facts = _facts(scene)
    for sensor in wanted_sensors(scene):
        outcome: Stated | Missing = _unnamed(scene)
        if facts is not None:
            holds = sensor in facts[1].sensors
            outcome = Stated(
                holds=holds, because=f"{facts[0].name}: {'a sensor' if holds else 'NO sensor'}"
            )
        yield _sensor(scene, outcome, sensor.replace("-", " "))
    for name, _ in other_toxics(scene):
        outcome = _unnamed(scene)
        if facts is not None:
            read = {one.casefold() for one in facts[1].also_reads}
            holds = name.casefold() in read
            outcome = Stated(holds=holds, because=f"{facts[0].name}: {'reads' if holds else 'NOT'}")
        yield _sensor(scene, outcome, name)


def _sensor(scene: Scene, outcome: Stated | Missing, gas: str) -> Finding:
    return finding(
        SENSOR,
        outcome,
        settle_by=f"Take a meter that reads {gas}, and state its sensors (equipment.meter).",
        keys=(_key(scene, "sensors"),),
        space=scene.space,
        about=gas,
    )


def check_calibration(scene: Scene) -> Iterator[Finding]:
    """The calibration is on record, and runs to the last day of work."""
    if not wanted_sensors(scene):
        return
    facts = _facts(scene)
    outcome: Stated | Missing = _unnamed(scene)
    due = None
    if facts is not None:
        item, meter = facts
        outcome = Missing(because=f"{item.name}: day of calibration or interval not given")
        if meter.calibrated is not None and meter.calibration_interval is not None:
            due = meter.calibration_interval.after(meter.calibrated)
            words = (
                f"{item.name}: calibrated {day_text(meter.calibrated)}, good to {day_text(due)}, "
                f"needed to {day_text(scene.last_day)}"
            )
            holds = meter.calibrated <= scene.on and scene.last_day <= due
            outcome = Stated(holds=holds, because=words)
    yield finding(
        CALIBRATION,
        outcome,
        settle_by="Have the meter calibrated, or take another, and state day and interval.",
        keys=(_key(scene, "calibrated"), _key(scene, "calibration_interval")),
        space=scene.space,
        due=due,
    )


def check_accuracy(scene: Scene) -> Iterator[Finding]:
    """The maker's error is within what readings are trusted to."""
    if not wanted_sensors(scene):
        return
    facts, needs, key = _facts(scene), Needs(), _key(scene, "accuracy")
    amount = facts[1].accuracy if facts else None
    error = needs.take("e", "error of the meter", amount, Unit.FRACTION, key)
    yield judged(
        scene,
        ACCURACY,
        needs,
        lambda: Working(error.value, "e", (error,)).against(
            Relation.AT_MOST,
            scene.defaults.of("meter-accuracy"),
            result=output("e", "error of the meter", Unit.FRACTION),
        ),
        settle_by="Take a meter that reads to 10 % or better, and state accuracy from its sheet.",
        keys=(key,),
    )


def check_spare(scene: Scene) -> Iterator[Finding]:
    """Whoever goes in to rescue takes a meter that reads the same gases."""
    goes_in = any(way.method.method is MethodKind.ENTRY for way in scene.ways())
    if not wanted_sensors(scene) or not goes_in:
        return
    key = scene.key("monitoring.rescuers_meter")
    yield finding(
        SPARE,
        _spare(scene),
        settle_by="Keep a second meter with the same sensors at the opening, and name it: "
        "monitoring.rescuers_meter.",
        keys=(key,),
        space=scene.space,
    )


def _spare(scene: Scene) -> Stated | Missing:
    named = (scene.space.monitoring or Monitoring()).rescuers_meter
    if named is None:
        return Missing(because="no meter is named for the rescuers")
    item, own = scene.equipment(named), _meter(scene)
    if own is not None and own.id == item.id and item.quantity < 2:  # noqa: PLR2004 - one each
        return Stated(holds=False, because=f"{item.name}: one alone, and it is the entrant's")
    if item.meter is None:
        return Missing(because=f"{item.name}: nothing is stated of its sensors")
    blind = [one for one in wanted_sensors(scene) if one not in item.meter.sensors]
    words = f"no sensor for {', '.join(blind)}" if blind else f"{item.quantity} of them"
    return Stated(holds=not blind, because=f"{item.name}: {words}".replace("-", " "))
