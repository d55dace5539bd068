"""The kinds of value that a site file holds, strict: nothing is guessed from another type.

Quantities are text with a unit. References and ids are checked against the whole file through
the validation context, so that they are reported together with every other mistake.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
)
from pydantic_core import PydanticCustomError

from planbuilder.units import (
    EXAMPLES,
    Amount,
    Angle,
    Dimension,
    Duration,
    Flow,
    Force,
    Fraction,
    Length,
    Mass,
    Pressure,
    QuantityError,
    Speed,
    Temperature,
    Voltage,
    Volume,
    parse,
)


class Strict(BaseModel):
    """A table of the site file: unknown keys are refused, values never change."""

    # Built when the whole site is: most tables are never validated by themselves.
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


@dataclass(frozen=True, slots=True)
class FileIds:
    """The ids that a file declares, by table, and those met so far during validation."""

    declared: dict[str, tuple[str, ...]]
    met: set[tuple[str, str]] = field(default_factory=set)


def refusal(code: str, text: str) -> PydanticCustomError:
    """A problem in our own words; braces in user text are kept as they are."""
    return PydanticCustomError(code, "{text}", {"text": text})


def _quantity(
    dimension: Dimension,
    *,
    above: float | None = None,
    least: float | None = None,
    most: float,
) -> BeforeValidator:
    unit = "" if dimension is Dimension.FRACTION else f" {dimension.value}"
    size = 1.0
    if dimension is Dimension.ANGLE:
        unit, size = " deg", math.radians(1)  # nobody measures an angle in radians

    def read(value: object) -> Amount:
        if isinstance(value, Amount):
            return value
        if not isinstance(value, str):
            text = f"needs text with a unit, such as {EXAMPLES[dimension]}"
            raise refusal("quantity_unit_missing", text)
        try:
            amount = parse(value, dimension)
        except QuantityError as error:
            raise refusal("quantity", str(error)) from error
        if above is not None and amount.value <= above:
            raise refusal("quantity_range", f"must be more than {above / size:g}{unit}")
        if least is not None and amount.value < least:
            raise refusal("quantity_range", f"must be {least / size:g}{unit} or more")
        if amount.value > most:
            raise refusal("quantity_range", f"must be {most / size:g}{unit} or less")
        return amount

    return BeforeValidator(read)


# The upper bounds are far outside the trade: they catch a slipped unit, not a bold plan.
Size = Annotated[Length, _quantity(Dimension.LENGTH, above=0, most=500)]
Distance = Annotated[Length, _quantity(Dimension.LENGTH, least=0, most=2000)]
Altitude = Annotated[Length, _quantity(Dimension.LENGTH, least=-500, most=9000)]
Road = Annotated[Length, _quantity(Dimension.LENGTH, above=0, most=500_000)]
Coordinate = Annotated[Length, _quantity(Dimension.LENGTH, least=-50, most=50)]
BodyMass = Annotated[Mass, _quantity(Dimension.MASS, above=20, most=350)]
ThingMass = Annotated[Mass, _quantity(Dimension.MASS, least=0, most=100_000)]
Stature = Annotated[Length, _quantity(Dimension.LENGTH, above=1.0, most=2.6)]
BodySize = Annotated[Length, _quantity(Dimension.LENGTH, above=0.1, most=1.2)]
Load = Annotated[Force, _quantity(Dimension.FORCE, above=0, most=1_000_000)]
Stiffness = Annotated[Force, _quantity(Dimension.FORCE, above=0, most=100_000_000)]  # E A
Time = Annotated[Duration, _quantity(Dimension.TIME, above=0, most=604_800)]
Pause = Annotated[Duration, _quantity(Dimension.TIME, least=0, most=604_800)]
Turn = Annotated[Angle, _quantity(Dimension.ANGLE, least=-2 * math.pi, most=2 * math.pi)]
LineSpeed = Annotated[Speed, _quantity(Dimension.SPEED, above=0, most=5)]
Stress = Annotated[Pressure, _quantity(Dimension.PRESSURE, above=0, most=1e12)]
GasPressure = Annotated[Pressure, _quantity(Dimension.PRESSURE, above=0, most=1e8)]
Cubic = Annotated[Volume, _quantity(Dimension.VOLUME, above=0, most=1_000_000)]
Stream = Annotated[Flow, _quantity(Dimension.FLOW, least=0, most=1000)]
Warmth = Annotated[Temperature, _quantity(Dimension.TEMPERATURE, above=200, most=400)]
Volts = Annotated[Voltage, _quantity(Dimension.VOLTAGE, above=0, most=2_000_000)]
RoadSpeed = Annotated[Speed, _quantity(Dimension.SPEED, above=0, most=60)]
Bearing = Annotated[Angle, _quantity(Dimension.ANGLE, least=0, most=2 * math.pi)]
Part = Annotated[Fraction, _quantity(Dimension.FRACTION, least=0, most=1)]
Share = Annotated[Fraction, _quantity(Dimension.FRACTION, least=0, most=100)]


def _plain_text(value: str) -> str:
    bad = next(
        (c for c in value if unicodedata.category(c) in _REFUSED and c not in "\n\t"),
        None,
    )
    if bad is not None:
        text = f"must not hold the invisible character U+{ord(bad):04X}"
        raise refusal("text_character", text)
    if not value.strip():
        raise refusal("text_empty", "must not be empty")
    return value


_REFUSED = frozenset(("Cc", "Cf", "Cs", "Co"))
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")

Text = Annotated[str, Field(strict=True, max_length=200), AfterValidator(_plain_text)]
Prose = Annotated[str, Field(strict=True, max_length=4000), AfterValidator(_plain_text)]
Flag = Annotated[bool, Field(strict=True)]
Count = Annotated[int, Field(strict=True, ge=0, le=1000)]
Number = Annotated[float, Field(strict=True, gt=0, le=1)]
Latitude = Annotated[float, Field(strict=True, ge=-90, le=90)]
Longitude = Annotated[float, Field(strict=True, ge=-180, le=180)]
Ratio = Annotated[float, Field(strict=True, gt=0, le=1000)]


def _in_this_century(value: date) -> date:
    if not FIRST_DAY <= value <= LAST_DAY:
        raise refusal("date_range", f"must lie between {FIRST_DAY} and {LAST_DAY}")
    return value


FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2099, 12, 31)
Day = Annotated[date, Field(strict=True), AfterValidator(_in_this_century)]


def _well_formed_id(value: str) -> str:
    if not _ID.match(value):
        raise refusal("id_form", 'must be small letters, digits and hyphens, such as "wet-well"')
    return value


Id = Annotated[str, Field(strict=True, max_length=60), AfterValidator(_well_formed_id)]


def own_id(table: str) -> AfterValidator:
    """For the id of an entry of *table*; the second use of an id is refused."""

    def check(value: str, info: ValidationInfo) -> str:
        ids = info.context
        if isinstance(ids, FileIds):
            if (table, value) in ids.met:
                raise refusal("id_twice", f"is already the id of another {table}; ids are unique")
            ids.met.add((table, value))
        return value

    return AfterValidator(check)


def reference(*tables: str) -> AfterValidator:
    """For the id of an entry of one of *tables*, which must exist in the file."""
    article = "an" if tables[0][0] in "aeiou" else "a"
    what = f"{article} {' or '.join(tables)}"

    def check(value: str, info: ValidationInfo) -> str:
        if not isinstance(info.context, FileIds):
            return value
        known = [one for table in tables for one in info.context.declared.get(table, ())]
        if value not in known:
            near = difflib.get_close_matches(value, known, 1, 0.6)
            hint = f'did you mean "{near[0]}"?' if near else f"known: {', '.join(known) or 'none'}"
            raise refusal("reference", f"is not the id of {what}, {hint}")
        return value

    return AfterValidator(check)


def not_before(earlier: str) -> Callable[[date | None, ValidationInfo], date | None]:
    """Refuses a date that lies before the one under the key *earlier* of the same table."""

    def check(value: date | None, info: ValidationInfo) -> date | None:
        first = info.data.get(earlier)
        if value is not None and first is not None and value < first:
            raise refusal("date_order", f"must not lie before {earlier} ({first})")
        return value

    return check
