"""Bends of the way out: which side lies in the turn, round bores, and the turn up into a shaft."""

from typing import Any

import pytest
from broken_openings import bend, stretcher
from broken_sites import Break, found, plan_with, space, worst

from planbuilder.findings import Compared, Finding, Verdict

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
BEND = "clearance/stretcher-past-bend"


def longest_m(*changes: Break) -> float:
    (one, *_) = found(plan_with(*changes), BEND)
    assert isinstance(one.outcome, Compared)
    return one.outcome.limit.value


def rows(*changes: Break) -> list[Finding]:
    return found(plan_with(*changes), BEND)


UP = {"before": "1.0 m", "after": "0.9 m", "turn": "90 deg", "plane": "upright"}


def test_up_from_a_pipe_into_a_shaft_the_depth_lies_in_the_turn() -> None:
    """clearance.md N5 with the sizes of 3d: 1.985 m, so that a board of 2.0 m does not pass."""
    changes = (stretcher(), bend(**UP))

    assert longest_m(*changes) == pytest.approx(1.985, abs=5e-4)
    assert worst(rows(*changes)) is FAILS
    assert worst(rows(stretcher(length="1.98 m"), bend(**UP))) is MEETS
    assert "up to 1.98 m passes" in rows(*changes)[0].settle_by


def test_a_level_turn_takes_the_width_unless_it_is_tipped_on_its_side() -> None:
    """3d asks for the thickness in the plane of the turn: lying flat that is the width."""
    flat, tipped = (
        longest_m(stretcher(), bend(**{**UP, "plane": "level", "on_side": side}))
        for side in (False, True)
    )

    assert flat < tipped == pytest.approx(1.985, abs=5e-4)


@pytest.mark.parametrize(("radius", "length_m"), [("1.35 m", 2.204), ("0.9 m", 1.851)])
def test_a_bend_in_a_round_bore_leaves_the_chord(radius: str, length_m: float) -> None:
    """clearance.md 3m: bore 0.9 m, a board of 0.5 m across, 0.35 m in the turn."""
    corner = {"before": None, "after": None, "turn": None, "radius": radius, "width": "0.9 m"}
    round_bend = bend(**corner, plane="upright", round_bore=True)

    assert longest_m(stretcher(width="0.5 m"), round_bend) == pytest.approx(length_m, rel=5e-4)


@pytest.mark.parametrize("missing", ["plane", "round_bore", "turn"])
def test_what_decides_which_side_counts_is_asked(missing: str) -> None:
    (one, *_) = rows(stretcher(), bend(**{missing: None}))

    assert one.verdict is UNKNOWN
    assert one.keys[-1].endswith(missing)


def raised_from_a_pipe(data: dict[str, Any]) -> None:
    """A raise, and behind it a pipe that is crawled."""
    pipe = {"diameter": "1.2 m", "rescuers": "behind"}
    space(data)["route"] = [
        {"what": "shaft", "length": "6 m", "going_in": "ladder", "coming_out": "raised"},
        {
            "what": "pipe",
            "length": "9 m",
            "going_in": "crawl",
            "coming_out": "drag",
            "crawlway": pipe,
        },
    ]


def test_a_raise_after_a_crawl_asks_for_the_bend_between() -> None:
    level = bend()

    assert worst(rows(stretcher(), raised_from_a_pipe, level)) is UNKNOWN
    assert worst(rows(stretcher(), raised_from_a_pipe, bend(plane="upright"))) is MEETS
    assert rows(raised_from_a_pipe) == []


def test_a_bore_narrower_than_the_stretcher_is_unknown_and_says_why() -> None:
    narrow = bend(**{**UP, "before": "0.44 m", "round_bore": True})
    (one, *_) = rows(stretcher(), narrow)

    assert one.verdict is UNKNOWN
    assert "wider" in str(one.outcome)
