"""Quantities as people write them. Expected values are exact definitions, worked out by hand.

International yard and pound agreement of 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg.
Standard gravity, third CGPM, 1901: 9.80665 m/s2.
"""

from __future__ import annotations

import math
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder import units
from planbuilder.units import EXAMPLES, LONGEST_TEXT, Dimension, QuantityError, parse

LENGTH, MASS, FORCE = Dimension.LENGTH, Dimension.MASS, Dimension.FORCE
TIME, ANGLE, SPEED = Dimension.TIME, Dimension.ANGLE, Dimension.SPEED
FRACTION = Dimension.FRACTION

VOLUME, FLOW, WARMTH = Dimension.VOLUME, Dimension.FLOW, Dimension.TEMPERATURE

GOOD = [
    ("6.8 L", VOLUME, 0.0068),
    ("20 m3", VOLUME, 20.0),
    ("20 m³", VOLUME, 20.0),
    ("1 ft3", VOLUME, 0.3048**3),
    ("15 m3/min", FLOW, 0.25),
    ("40 L/min", FLOW, 0.04 / 60),
    ("1 cfm", FLOW, 0.3048**3 / 60),
    ("15 degC", WARMTH, 288.15),
    ("59 °F", WARMTH, 288.15),
    ("288 K", WARMTH, 288.0),
    ("300 bar", Dimension.PRESSURE, 3e7),
    ("1 in", LENGTH, 0.0254),
    ("24 in", LENGTH, 0.6096),
    ("1 ft", LENGTH, 0.3048),
    ("1 yd", LENGTH, 0.9144),
    ("1 mi", LENGTH, 1609.344),
    ("6.4 m", LENGTH, 6.4),
    (".5 m", LENGTH, 0.5),
    ("2. m", LENGTH, 2.0),
    ("495 mm", LENGTH, 0.495),
    ("60 cm", LENGTH, 0.6),
    ("1.2 km", LENGTH, 1200.0),
    ("1e3 mm", LENGTH, 1.0),
    ("12 ft 6 in", LENGTH, 3.81),
    ("12 ft, 6 in", LENGTH, 3.81),
    ("12ft 6in", LENGTH, 3.81),
    ("  12 ft 6 in  ", LENGTH, 3.81),
    ("12 feet 6 inches", LENGTH, 3.81),
    ("12' 6\"", LENGTH, 3.81),
    ("12'6\"", LENGTH, 3.81),
    ("12′ 6″", LENGTH, 3.81),
    ("3/16 in", LENGTH, 0.0047625),
    ("2 1/2 in", LENGTH, 0.0635),
    ("2-1/2 in", LENGTH, 0.0635),
    ("5 ft 7 3/4 in", LENGTH, 1.72085),
    ("-10 in", LENGTH, -0.254),
    ("-1 ft 6 in", LENGTH, -0.4572),
    ("+3 in", LENGTH, 0.0762),
    ("1 lb", MASS, 0.45359237),
    ("310 lb", MASS, 140.6136347),
    ("92 kg", MASS, 92.0),
    ("500 g", MASS, 0.5),
    ("1 t", MASS, 1000.0),
    ("1 N", FORCE, 1.0),
    ("2 kN", FORCE, 2000.0),
    ("1 lbf", FORCE, 0.45359237 * 9.80665),
    ("450 lbf", FORCE, 450 * 0.45359237 * 9.80665),
    ("1 kip", FORCE, 1000 * 0.45359237 * 9.80665),
    ("1 kgf", FORCE, 9.80665),
    # A rating plate that states a mass means its weight.
    ("140 kg", FORCE, 140 * 9.80665),
    ("310 lb", FORCE, 310 * 0.45359237 * 9.80665),
    ("4 min 30 s", TIME, 270.0),
    ("1 h 15 min", TIME, 4500.0),
    ("90 sec", TIME, 90.0),
    ("0.5 hours", TIME, 1800.0),
    ("180 deg", ANGLE, math.pi),
    ("90°", ANGLE, math.pi / 2),
    ("-80 deg", ANGLE, -80 * math.pi / 180),
    ("4 m/min", SPEED, 4 / 60),
    ("13 ft/min", SPEED, 13 * 0.3048 / 60),
    ("1 m/s", SPEED, 1.0),
    ("19.5 %", FRACTION, 0.195),
    ("19.5%", FRACTION, 0.195),
    ("350 ppm", FRACTION, 350e-6),
    ("10 percent", FRACTION, 0.1),
]


@pytest.mark.parametrize(("text", "dimension", "value"), GOOD)
def test_a_quantity_has_the_value_of_its_definition(text, dimension, value):
    amount = parse(text, dimension)

    assert amount.value == pytest.approx(value, rel=1e-12)
    assert amount.written == text.strip()


PATTERN = "must be a number and a unit, such as "
WRONG_KIND = " is not a unit of the wanted kind; write it as "
BAD = [
    ("", LENGTH, f"is empty; write it as {EXAMPLES[LENGTH]}"),
    ("   ", LENGTH, f"is empty; write it as {EXAMPLES[LENGTH]}"),
    ("5", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12,5 ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12.5.1 ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("9**9**9 ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12 ft ** 2", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12 * 3 ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("(12) ft", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12 ft 6", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12 ft -6 in", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("12 ft; 6 in", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("--2 m", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("nan m", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("inf m", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("__import__('os') m", LENGTH, PATTERN + EXAMPLES[LENGTH]),
    ("1e999 m", LENGTH, f"must be a finite number, such as {EXAMPLES[LENGTH]}"),
    ("1/0 in", LENGTH, "divides by zero"),
    ("12 ft 6 kg", LENGTH, f'"kg"{WRONG_KIND}{EXAMPLES[LENGTH]}'),
    ("15 degC 3 K", WARMTH, PATTERN + EXAMPLES[WARMTH]),
    ("-300 degC", WARMTH, "must lie above absolute zero, and be finite"),
    ("1e999 K", WARMTH, "must lie above absolute zero, and be finite"),
    ("15 degC", LENGTH, f'"degC"{WRONG_KIND}{EXAMPLES[LENGTH]}'),
    ("12 ft3", LENGTH, f'"ft3"{WRONG_KIND}{EXAMPLES[LENGTH]}'),
    ("12 ft", MASS, f'"ft"{WRONG_KIND}{EXAMPLES[MASS]}'),
    ("12 lbf", MASS, f'"lbf"{WRONG_KIND}{EXAMPLES[MASS]}'),
    ("12 ft", FORCE, f'"ft"{WRONG_KIND}{EXAMPLES[FORCE]}'),
    ("12 %", ANGLE, f'"%"{WRONG_KIND}{EXAMPLES[ANGLE]}'),
    ("12 deg", FRACTION, f'"deg"{WRONG_KIND}{EXAMPLES[FRACTION]}'),
    ("12 s", SPEED, f'"s"{WRONG_KIND}{EXAMPLES[SPEED]}'),
    ("12 feeet", LENGTH, 'unknown unit "feeet", did you mean "feet"?'),
    ("12 secnds", TIME, 'unknown unit "secnds", did you mean "seconds"?'),
    ("12 furlongs", LENGTH, 'unknown unit "furlongs"'),
    ("12 m/kg", SPEED, '"m/kg" is not a unit that a site file needs'),
    (
        "1 m " * 20,
        LENGTH,
        f"is longer than {LONGEST_TEXT} characters; write it as " + EXAMPLES[LENGTH],
    ),
]


@pytest.mark.parametrize(("text", "dimension", "message"), BAD)
def test_what_is_no_quantity_of_the_kind_is_refused_with_what_to_write(text, dimension, message):
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)

    assert str(caught.value) == message


@pytest.mark.parametrize("text", ["12 ft 3 ft", "6 in 12 ft", "1 m 6 in"])
def test_parts_that_do_not_go_from_large_to_small_in_one_system_are_refused(text):
    """They are slips of the hand: the sum of the parts is not what anybody measured."""
    with pytest.raises(QuantityError):
        parse(text, LENGTH)


@given(
    feet=st.integers(0, 999),
    inches=st.integers(0, 11),
    sixteenths=st.integers(0, 15),
    is_below=st.booleans(),
)
def test_feet_inches_and_sixteenths_add_up_and_the_sign_is_for_all_of_them(
    feet, inches, sixteenths, is_below
):
    text = f"{'-' if is_below else ''}{feet} ft {inches} {sixteenths}/16 in"
    in_sixteenths = (feet * 12 + inches) * 16 + sixteenths

    value = parse(text, LENGTH).value

    assert value == pytest.approx((-1 if is_below else 1) * in_sixteenths * 0.0254 / 16)


@given(st.text(max_size=70), st.sampled_from(Dimension))
def test_any_text_at_all_gives_a_finite_amount_or_a_refusal(text, dimension):
    try:
        amount = parse(text, dimension)
    except QuantityError:
        return

    assert math.isfinite(amount.value)


@pytest.mark.parametrize("dimension", Dimension)
def test_the_examples_in_the_messages_are_quantities_of_their_kind(dimension):
    for text in EXAMPLES[dimension].split('"')[1::2]:
        assert parse(text, dimension).value > 0


@pytest.mark.parametrize(
    ("text", "dimension", "name"),
    [
        ("1 m", LENGTH, "m"),
        ("1 kg", MASS, "kg"),
        ("1 N", FORCE, "n"),
        ("1 s", TIME, "s"),
        ("1 radian", ANGLE, "rad"),
        ("1 m/s", SPEED, "m_per_s"),
        ("100 %", FRACTION, "ratio"),
    ],
)
def test_an_amount_gives_its_value_under_the_name_of_its_unit(text, dimension, name):
    assert getattr(parse(text, dimension), name) == pytest.approx(1.0)


@pytest.mark.parametrize("dimension", sorted(set(Dimension) - {FRACTION}))
def test_the_unit_in_which_a_bound_is_told_can_be_written(dimension):
    """Messages say "must be 6.2832 rad or less"."""
    assert parse(f"1 {dimension.value}", dimension).value == 1.0


def test_pint_is_asked_once_for_each_unit_and_not_once_for_each_value(monkeypatch):
    registry, asked = units.registry(), []
    look_up = registry.Unit

    def counted(unit):
        if isinstance(unit, str):  # pint itself asks for units that it has taken apart
            asked.append(unit)
        return look_up(unit)

    monkeypatch.setattr(registry, "Unit", counted)
    units.factor.cache_clear()

    for number in range(50):
        parse(f"{number} ft {number} in", LENGTH)
        parse(f"{number} kg", FORCE)

    assert sorted(asked) == ["ft", "in", "kg"]


def test_the_registry_has_the_units_of_the_trade_and_no_others():
    """The file of pint itself would let "12 parsec" through, and cost its start-up time."""
    with pytest.raises(QuantityError):
        parse("12 parsec", LENGTH)

    assert units.registry() is units.registry()
    assert "pint" in sys.modules
