"""The table of speeds on foot: a row for every manner of going, and marks that hold up."""

import pytest

from planbuilder.findings import Mark
from planbuilder.site.travel import Carrying, Going
from planbuilder.tables import documents, table
from planbuilder.units import Dimension, parse

SPEEDS = table("travel_speeds")


def speed(kind):
    return parse(SPEEDS[kind]["speed"], Dimension.SPEED).value


def test_every_manner_of_going_has_a_speed():
    assert set(SPEEDS) == {*Going, *Carrying} - {Carrying.RAISED}


@pytest.mark.parametrize("kind", SPEEDS)
def test_each_row_says_where_it_comes_from(kind):
    row = SPEEDS[kind]

    assert Mark(row["mark"])
    assert row["note"]
    assert row.get("document", "") in {"", *documents()}
    assert row["mark"] != "read" or row["document"]


def test_a_search_in_sets_is_as_slow_as_the_slower_reading_of_the_drills():
    """58 m of hose and off-line in 5.82 min: 0.166 m/s, never rounded up."""
    assert speed("search-in-set") == pytest.approx(58 / (5.82 * 60), abs=0.01)
    assert speed("crawl-in-set") < speed("search-in-set") <= 58 / (5.82 * 60)


def test_with_a_casualty_nobody_is_faster_than_alone():
    assert speed("stretcher") < speed("walk")
    assert speed("stretcher-stairs-down") < speed("stairs-down")
    assert speed("stretcher-stairs-up") < speed("stairs-up")
    assert speed("drag") < speed("crawl-in-set")
