"""No words on words, no line through words: on every sample and on sites with much to say."""

from __future__ import annotations

import re
from dataclasses import replace

import broken_fall
import broken_haul
import broken_lift
import broken_openings
import broken_power_lines
import broken_surroundings
import pytest
from broken_sites import Break, plan_with
from on_paper import SAMPLES, drawings, overlaps

RINGS = [
    {"name": "neck", "shape": "round", "diameter": "19 in"},
    {"name": "hinge", "shape": "oval", "length": "26 in", "width": "20 in"},
]
EVERYTHING = broken_haul.both(
    broken_haul.rig(hook_height="7 ft 6 in", plumb_at=["-6 in", "0 in"], off_centre="3 in"),
    broken_lift.roof(clear_height="8 ft 3 in"),
    broken_lift.landing(width="6 ft", from_opening="1 ft"),
    broken_lift.ladder(),
    broken_openings.opening(neck="14 in", ring=RINGS),
    broken_surroundings.traffic(lane_distance="1 ft", buffer="195 ft"),
    broken_surroundings.engine(distance="19 ft", bearing="200 deg"),
    broken_power_lines.line(distance="3 m"),
    broken_fall.on_lanyard(offset="1 m", obstacle=broken_fall.ledge(), below="3 m"),
)
BROKEN: dict[str, tuple[Break, str]] = {
    **{f"{name} fires": (one.fires, one.sample) for name, one in broken_lift.CASES.items()},
    **{
        f"{name} unknown": (one.unknown, one.sample)
        for name, one in broken_lift.CASES.items()
        if one.unknown
    },
    **{
        f"{name} fires": (one.fires or one.unknown, "pump_station")
        for cases in (broken_power_lines.CASES, broken_surroundings.CASES)
        for name, one in cases.items()
        if one.fires or one.unknown
    },
    "everything at once": (EVERYTHING, "pump_station"),
    "on a grab": (broken_fall.on_grab(offset="2 m", below="2 m"), "pump_station"),
}


@pytest.mark.parametrize("name", SAMPLES)
def test_on_no_sample_do_words_stand_on_words_or_lines(sample_plan, name):
    for one in drawings(sample_plan(name)):
        assert overlaps(one) == [], one.title


@pytest.mark.parametrize("name", BROKEN)
def test_on_no_broken_site_do_words_stand_on_words_or_lines(name):
    change, sample = BROKEN[name]

    for one in drawings(plan_with(change, sample=sample)):
        assert overlaps(one) == [], one.title


def test_what_fails_names_its_rule_in_words():
    said = [one for drawing in drawings(plan_with(EVERYTHING)) for one in drawing.texts if one.bold]

    assert any("FAILS" in one.text for one in said)


def test_a_text_moved_onto_another_or_onto_a_line_is_found(sample_plan):
    """The test of the test: what it looks for is there once it is made."""
    drawing = drawings(sample_plan("pump_station"))[0]
    first, second = drawing.texts[:2]
    onto_text = replace(drawing, texts=(first, replace(second, x=first.x, y=first.y)))
    x, y = re.findall(r"(-?[\d.]+) (-?[\d.]+)", drawing.arrows[0])[0]
    onto_line = replace(drawing, texts=(replace(first, x=x, y=y),))

    assert any(" / a line" not in one for one in overlaps(onto_text))
    assert any(" / a line" in one for one in overlaps(onto_line))
