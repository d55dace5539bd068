"""Ways: to the opening and back, from one opening to another, by road, and how help is called."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from pydantic import Field

from planbuilder.site.fields import Day, Flag, LineSpeed, Road, Size, Strict, Text, Time


class Going(StrEnum):
    """How the team gets along a stretch of the way, with its kit."""

    WALK = "walk"
    STAIRS_DOWN = "stairs-down"
    STAIRS_UP = "stairs-up"
    LADDER = "ladder"
    CRAWL = "crawl"
    CRAWL_IN_SET = "crawl-in-set"
    SEARCH_IN_SET = "search-in-set"


class Carrying(StrEnum):
    """How the casualty gets along a stretch of the way. Nobody walks: that would be the way in."""

    STRETCHER = "stretcher"
    STRETCHER_DOWN = "stretcher-stairs-down"
    STRETCHER_UP = "stretcher-stairs-up"
    DRAG = "drag"
    RAISED = "raised"


class Stretch(Strict):
    """A part of a way that is gone in one manner; a pause is a gate, a lift, a lock."""

    what: Text
    length: Road
    going_in: Going
    speed_in: LineSpeed | None = None
    pause_in: Time | None = None


class Crawlway(Strict):
    """The clear *diameter* of a round pipe that is crawled, or clear *width* and *height*.

    *rescuers* says where they are while the casualty is drawn through: ahead of the casualty on the
    way out, behind, or at both ends. One that *is_opening* is the opening: its rings count.
    """

    is_opening: Flag = False
    diameter: Size | None = None
    width: Size | None = None
    height: Size | None = None
    rescuers: Literal["ahead", "behind", "both-ends"] | None = None


class Segment(Stretch):
    """A stretch that is gone in both directions: in, and out with the casualty."""

    crawlway: Crawlway | None = None
    coming_out: Carrying | None = None
    speed_out: LineSpeed | None = None
    pause_out: Time | None = None


class Cover(Strict):
    """How a team at another opening gets ready here: one-in-ten times, and the way between."""

    notify: Time | None = None
    derig: Time | None = None
    rig: Time | None = None
    don: Time | None = None
    way: list[Stretch] = Field(default_factory=list, max_length=30)
    stop_others: Flag | None = None


class Journey(Strict):
    """How an outside service gets here: driven on a day, or by the length of the road."""

    turn_out: Time | None = None
    driven: Time | None = None
    driven_on: Day | None = None
    road_distance: Road | None = None
    walk_in: Time | None = None


class Calling(Strict):
    """How help is called from the opening, and when that was last tried there."""

    call_by: Literal["radio", "phone", "fixed-line", "runner"] | None = None
    signal_tested_on: Day | None = None
