"""What a site file may say of the air in a space: ventilation, gas let out, gas meter."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.fields import (
    Bearing,
    Count,
    Day,
    Distance,
    Flag,
    Id,
    Number,
    Part,
    Ratio,
    Share,
    Size,
    Stream,
    Stress,
    Strict,
    Text,
    Time,
    reference,
    refusal,
)
from planbuilder.site.periods import Interval
from planbuilder.units import Fraction


class Gas(StrEnum):
    """What makes the air bad, by the name that the hazard has."""

    OXYGEN = "oxygen-deficiency"
    INERT = "inert-gas"
    HYDROGEN_SULFIDE = "hydrogen-sulfide"
    CARBON_MONOXIDE = "carbon-monoxide"
    FLAMMABLE = "flammable-gas"


class FlowIs(StrEnum):
    """What a stated flow of air is."""

    MEASURED = "measured-at-duct-end"
    FREE_AIR = "free-air"


class Layout(StrEnum):
    """How well air that is blown in finds its way through the inside."""

    OPEN = "open"
    OBSTRUCTED = "obstructed"
    DEAD_LEG = "dead-leg"


class MixingTest(StrEnum):
    """What a mixing factor rests on."""

    TRACER_GAS = "tracer-gas"
    FAR_END = "far-end-readings"
    ASSUMED = "assumed"


class LimitBasis(StrEnum):
    """Where a lower flammable limit comes from."""

    NFPA_497 = "nfpa-497"
    IEC_60079_20_1 = "iec-60079-20-1"
    DATA_SHEET = "data-sheet"


class Sensor(StrEnum):
    """What a gas meter can read."""

    OXYGEN = "oxygen"
    FLAMMABLE = "flammable"
    HYDROGEN_SULFIDE = "hydrogen-sulfide"
    CARBON_MONOXIDE = "carbon-monoxide"


class GasMeter(Strict):
    """A gas meter of the equipment list. *also_reads* are substances without a sensor name.

    *accuracy* is the error that the maker states, as a part of the reading.
    """

    sensors: list[Sensor] = Field(min_length=1, max_length=10)
    also_reads: list[Text] = Field(default_factory=list, max_length=10)
    calibrated: Day | None = None
    calibration_interval: Interval | None = None
    accuracy: Part | None = None


class Duct(Strict):
    """The duct between fan and space. *friction* is Darcy's factor, *bend_loss* that of a bend."""

    diameter: Size | None = None
    length: Distance | None = None
    bends: Count | None = None
    friction: Number | None = None
    bend_loss: Ratio | None = None


def _not_more_than_all(value: Fraction | None, info: ValidationInfo) -> Fraction | None:
    """Only a share of the flammable limit can be more than the whole."""
    if value is not None and value.ratio > 1 and info.data.get("kind") is not Gas.FLAMMABLE:
        raise refusal("part_above_one", "must be 1 or less")
    return value


def _in_contaminants_only(value: Fraction | None, info: ValidationInfo) -> Fraction | None:
    kind = info.data.get("kind")
    if value is not None and kind in (Gas.OXYGEN, Gas.INERT, Gas.FLAMMABLE):
        raise refusal("supply_kind", f"must be left out for {kind}")
    return value


class Clearing(Strict):
    """One gas that ventilation clears. For a flammable gas, parts are shares of its lower limit.

    For oxygen-deficiency and inert-gas, *start* and *target* are oxygen; *source_rate* is oxygen
    used up, or inert gas that flows in. *supply* is what the air blown in holds already.
    """

    kind: Gas
    start: Annotated[Share | None, AfterValidator(_not_more_than_all)] = None
    target: Part | None = None
    source_rate: Stream | None = None
    supply: Annotated[Part | None, AfterValidator(_in_contaminants_only)] = None


class Ventilation(Strict):
    """Fresh air that a fan brings, and the gases that it is to clear before entry."""

    blower: Annotated[Id, reference("equipment")] | None = None
    flow: Stream | None = None
    flow_is: FlowIs | None = None
    flow_measured_on: Day | None = None
    shut_pressure: Stress | None = None
    duct: Duct = Duct()
    layout: Layout | None = None
    mixing_factor: Annotated[float, Field(strict=True, ge=1, le=50)] | None = None
    mixing_rests_on: MixingTest | None = None
    far_end_test: Flag | None = None
    alarm_on_stop: Flag | None = None
    clean_intake: Flag | None = None
    intake_distance: Distance | None = None
    intake_bearing: Bearing | None = None
    before_entry: Time | None = None
    gas: list[Clearing] = Field(default_factory=list, max_length=10)


def _let_out(value: Gas) -> Gas:
    if value is Gas.OXYGEN:
        text = "must be inert-gas, hydrogen-sulfide, carbon-monoxide or flammable-gas"
        raise refusal("released_gas", f"{text} (got {value})")
    return value


class Release(Strict):
    """A gas that may be let out while people are inside, at its worst rate."""

    kind: Annotated[Gas, AfterValidator(_let_out)]
    what: Text
    rate: Stream | None = None


class Flammable(Strict):
    """The flammable gas that meter and plan mean by the lower flammable limit.

    *no_ignition_because*: why nothing can ignite it, by the word of a named person.
    """

    substance: Text
    basis: LimitBasis | None = None
    lower_limit: Part | None = None
    no_ignition_because: Text | None = None
    no_ignition_decided_by: Text | None = None


class Monitoring(Strict):
    """The gas meter, and how the air is tested. A meter that is let down has a line of 0 m."""

    meter: Annotated[Id, reference("equipment")] | None = None
    sample_line: Distance | None = None
    line_diameter: Distance | None = None
    pump_flow: Stream | None = None
    response_time: Time | None = None
    wait_at_stop: Time | None = None
    order: list[Literal["oxygen", "flammable", "toxic"]] | None = Field(default=None, max_length=3)
    bump_test_daily: Flag | None = None
    bump_tested_on: Day | None = None
    everybody_out: Time | None = None
    rescuers_meter: Annotated[Id, reference("equipment")] | None = None


class InsideShape(StrEnum):
    """The outline of the inside, seen from above."""

    ROUND = "round"
    RECTANGULAR = "rectangular"
