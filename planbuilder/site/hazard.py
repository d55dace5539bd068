"""What can hurt the people inside, or stop them from helping themselves."""

from __future__ import annotations

from enum import StrEnum

from planbuilder.site.fields import Flag, Part, Strict, Text, Warmth


class HazardKind(StrEnum):
    """What can hurt the people inside, or stop them from helping themselves."""

    OXYGEN = "oxygen-deficiency"
    INERT_GAS = "inert-gas"
    HYDROGEN_SULFIDE = "hydrogen-sulfide"
    CARBON_MONOXIDE = "carbon-monoxide"
    FLAMMABLE = "flammable-gas"
    DUST = "combustible-dust"
    OTHER_TOXIC = "other-toxic-gas"
    DROWNING = "drowning"
    ENGULFMENT = "engulfment"
    WEDGED = "wedged"
    BLEEDING = "major-bleeding"
    COLLAPSE = "medical-collapse"
    SUSPENSION = "suspension"
    HEAT = "heat"
    COLD_WATER = "cold-water"
    MECHANICAL = "mechanical-injury"


class Suspended(StrEnum):
    """The state of somebody who hangs in a harness, as planned for."""

    MOVING_LEGS = "moving-legs"
    MOTIONLESS = "motionless"
    UNRESPONSIVE = "unresponsive"


class Hazard(Strict):
    """One hazard, its worst level where it is a gas, and what is done about it.

    *substance*, *limit* and *set_point* are those of a toxic gas that has no kind of its own.
    *not_isolated_because*: why nothing has to be isolated against a hazard that usually asks it;
    *not_ventilated_because*: why no fan is relied on against a gas.
    """

    kind: HazardKind
    level: Part | None = None
    substance: Text | None = None
    limit: Part | None = None
    set_point: Part | None = None
    sheet: Text | None = None
    tell_hospital: Text | None = None
    water_temperature: Warmth | None = None
    suspended: Suspended | None = None
    not_isolated_because: Text | None = None
    not_ventilated_because: Text | None = None
    eliminated: Flag | None = None
    control: Text
