"""What is filled in: names that stay and are met once, and the drill held beside the plan."""

from __future__ import annotations

import html
import re
from collections import Counter

import pytest

from planbuilder.render import to_html
from planbuilder.view.form import form, key_of
from planbuilder.view.pages import view_of

SAMPLES = [
    "pump_station",
    "storage_tank",
    "shored_trench",
    "transformer_deck",
    "cramped_chamber",
    "call_and_wait",
    "half_measured",
]
FIELD = re.compile(r"<(?:input|textarea)[^>]*>")


def fields(page: str) -> list[tuple[str, str]]:
    """Name and label of every field of a page."""
    found = []
    for tag in FIELD.findall(page):
        said = dict(re.findall(r'(\w+)="([^"]*)"', tag))
        found.append((html.unescape(said["name"]), html.unescape(said["title"])))
    return found


@pytest.fixture(scope="module", params=SAMPLES)
def made(request, sample_plan):
    """A sample, as the templates see it and as a page."""
    view = view_of(sample_plan(request.param))
    return view, to_html(view)


def test_every_field_has_a_name_of_its_own_and_says_what_it_is(made):
    _, page = made
    found = fields(page)

    assert len(found) > 50
    assert {name: n for name, n in Counter(name for name, _ in found).items() if n > 1} == {}
    assert [name for name, label in found if "." in name or not label.partition(": ")[2]] == []


def test_a_name_does_not_hang_on_words_order_or_revision(planned):
    """What was typed into one revision can be read against the next."""
    before = fields(to_html(view_of(planned("pump_station"))))
    torch = '[[equipment]]\nid = "torch"\nkind = "Torch"\nname = "Torch"\n'
    changed = planned(
        "pump_station",
        ('revision = "C"', 'revision = "D"'),
        ('what = "Attendant calls the leader and stops the work"', 'what = "Stop!"'),
        ("[[equipment]]", f"{torch}[[equipment]]"),
    )
    after = fields(to_html(view_of(changed)))

    new = {"kit/item/torch/here", "kit/item/torch/sound"}
    assert [name for name, _ in before] == [name for name, _ in after if name not in new]
    assert new < {name for name, _ in after}
    assert "2. Stop!: Done" in {label for _, label in after}


def test_the_drill_record_holds_each_step_of_the_plan_with_its_times(made, sample_plan):
    view, _ = made
    for space in view.spaces:
        ways = {one.title: one for one in space.drill.ways}
        for line in space.timelines:
            if not line.steps:
                continue
            name = line.title.split(" method")[0].removeprefix("Timeline of the ")
            rows = ways[f"Steps of the {name} way"].steps.rows
            printed = [tuple(cell.text for cell in row.cells) for row in rows]
            assert printed == [(one.who, one.usual, one.slow, "", "") for one in line.steps]
            assert [row.cells[3].line for row in rows] == [
                f"drill/{space.id}/{name}/step/{one.id}/took" for one in line.steps
            ]


def test_steps_without_times_are_on_the_record_too(sample_plan):
    """No clock can be given; the drill is what would give it."""
    way = view_of(sample_plan("half_measured")).spaces[0].drill.ways[0]

    assert len(way.steps.rows) == 3
    assert {row.cells[1].text for row in way.steps.rows} == {"no time"}
    assert way.clocks.rows == ()
    assert way.noticed == ""


def test_both_who_talk_after_the_work_stand_there_where_they_are_named(sample_plan):
    signed = view_of(sample_plan("pump_station")).spaces[0].debrief.signed.rows
    blank = view_of(sample_plan("half_measured")).spaces[0].debrief.signed.rows

    assert [row.cells[0].text for row in signed[:2]] == ["Mirela Tarn", "Junia Farrow"]
    assert [row.cells[0].line for row in blank[:2]] == [
        "debrief/vault/signed/tells/name",
        "debrief/vault/signed/hears/name",
    ]


def test_a_cell_without_text_is_a_field_and_a_key_met_again_gets_a_number():
    made = form(
        "kit",
        ("Item", "Kind", "Here", "Why"),
        [("rope", ("Rope", "")), ("rope", ("Rope, red", "static"))],
        ticks=("Here",),
        answers=("Why",),
    )

    first, second = (row.cells for row in made.rows)
    assert (first[0].line, first[0].label) == ("kit/rope/kind", "Rope: Kind")
    assert (first[1].tick, first[2].answer) == ("kit/rope/here", "kit/rope/why")
    assert (second[0].text, second[0].line) == ("static", "")
    assert second[1].tick == "kit/rope-2/here"


def test_words_become_part_of_a_name():
    assert key_of("Date, time") == "date-time"
    assert key_of("Took (min:s)") == "took"
