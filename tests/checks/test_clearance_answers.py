"""Every rule on room: it fires, rests and is unknown somewhere, and says what would clear it.

The cases are those of the topics, gathered from their files; a rule that has none there is seen.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from broken_haul import TRIPOD, both, nothing, put, rig
from broken_lift import CASES as LIFT
from broken_lift import landing, roof
from broken_line import hose, two_lines
from broken_openings import opening, stretcher
from broken_sites import Break, found, plan_with, worst
from broken_surroundings import engine, intake

from planbuilder.checks import RULES
from planbuilder.findings import Finding, Verdict

HERE = Path(__file__).parent
ROOM = {one.id: one for one in RULES if one.area == "clearance"}
HOLDS = (Verdict.MEETS, Verdict.MARGINAL)

# A rule that by nature asks only whether something is stated: it is met or unknown.
NEVER_FAILS = {
    "clearance/overhead-not-stated": "asks whether anything was said about lines overhead",
    "clearance/lifeline-without-designer": "asks who designed the line",
    "clearance/power-line-not-confirmed": "what nobody confirmed may be either way",
    "clearance/power-line-voltage-unknown": "asks for the voltage",
    "clearance/traffic-not-stated": "asks which lanes stay in use",
}
# A rule whose facts a site file cannot leave out.
NEVER_UNKNOWN = {
    "clearance/approach-table-elsewhere": "every site has a country or the table's name",
    "clearance/bore-below-access-class": "a bore that is not stated has no class to be told",
    "clearance/casualty-spins": "a tag line that is not stated is none",
    "clearance/landing-too-small": "a landing place is stated with its size",
    "clearance/opening-size-implausible": "a size that is not stated has no unit to doubt",
    "clearance/tip-out-hands": "a method has a crew; without a hook height the feet are asked for",
}
# Failing findings that no dimension would clear.
NO_DIMENSION = {
    "clearance/approach-table-elsewhere": "a table is to be named",
    "clearance/below-published-opening": "a comparison; the sizes stand in the finding itself",
    "clearance/casualty-spins": "a tag line is fixed or not",
    "clearance/few-people-pass": "about people at large; whoever goes in is judged by size",
    "clearance/line-over-bare-edge": "an edge is padded, or the line marked for it",
    "clearance/lines-cross": "who works where, and who is hoisted first",
    "clearance/opening-measured-at-cover": "a place to measure at",
    "clearance/traffic-no-barrier": "a barrier is there or not",
}
NAMED = re.compile(r"(\d+(?:\.\d+)?) (?:to|m|kN|deg)\b")
NUMBER = re.compile(r"\d+(?:\.\d+)? (?:m|kg|kN|lbf|deg|people)\b")


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on and what leaves it unknown, on which sample."""

    fires: Break | None
    rests: Break | None
    unknown: Break | None
    sample: str


def _of(module: Any) -> Iterator[tuple[str, Case]]:
    """The cases of one file of a topic: a table by rule, or rows on the sample it names."""
    cases, on = getattr(module, "CASES", ()), getattr(module, "SAMPLE", "pump_station")
    if isinstance(cases, dict):
        for rule in ROOM.keys() & cases.keys():
            one = cases[rule]
            yield rule, Case(one.fires, one.rests, one.unknown, getattr(one, "sample", on))
    else:
        for rule, fires, rests, unknown in cases:
            yield rule, Case(fires, rests, unknown, on)


@cache
def cases() -> dict[str, list[Case]]:
    """Every case of a rule on room, by rule."""
    rows: dict[str, list[Case]] = {rule: [] for rule in ROOM}
    names = [f"tests.checks.{one.stem}" for one in HERE.glob("test_*_rules.py")]
    names += [one.stem for one in HERE.parent.glob("broken_*.py")]
    for name in sorted(names):
        for rule, case in _of(import_module(name)):
            if rule in rows:
                rows[rule].append(case)
    first = import_module("tests.checks.test_rules")
    for rule, (fires, _, rests) in first.FIRES.items():
        if rule in rows:
            rows[rule].append(Case(fires, rests, first.MISSING.get(rule), "pump_station"))
    return rows


def answers(rule: str, state: str) -> list[Finding]:
    """What *rule* answers in the cases that shall make it fire, rest or be unknown."""
    rows = [(getattr(one, state), one.sample) for one in cases()[rule]]
    plans = [
        plan_with(one or nothing, sample=where) for one, where in rows if one or state == "rests"
    ]
    return [one for plan in plans for one in found(plan, rule)]


@pytest.mark.parametrize("rule", ROOM)
def test_a_rule_on_room_fires_rests_and_is_unknown_or_cannot(rule: str) -> None:
    seen = {state: {one.verdict for one in answers(rule, state)} for state in _STATES}

    assert (Verdict.FAILS in seen["fires"]) is (rule not in NEVER_FAILS)
    assert seen["rests"] & set(HOLDS)
    assert (Verdict.UNKNOWN in seen["unknown"]) is (rule not in NEVER_UNKNOWN)


_STATES = ("fires", "rests", "unknown")


@pytest.mark.parametrize("rule", [one for one in ROOM if one not in NEVER_FAILS])
def test_a_finding_that_fails_names_what_would_clear_it(rule: str) -> None:
    failing = [one for one in answers(rule, "fires") if one.verdict is Verdict.FAILS]
    silent = [one.settle_by for one in failing if not NUMBER.search(one.settle_by)]

    assert bool(silent) is (rule in NO_DIMENSION), silent


def test_the_exceptions_are_rules() -> None:
    assert set(NEVER_FAILS) | set(NEVER_UNKNOWN) | set(NO_DIMENSION) <= set(ROOM)


@dataclass(frozen=True)
class Cure:
    """A case that fires, and how the number that the finding names is put into the site file."""

    rule: str
    fires: Break
    cured: Callable[[float], Break]
    sample: str = "pump_station"


def _fires(rule: str) -> Break:
    return LIFT[f"clearance/{rule}"].fires


INCH_M = 0.0254
CURES = [
    Cure("casualty-too-wide", opening(diameter="20 in"), lambda v: opening(diameter=f"{v} m")),
    Cure("packed-casualty-too-big", stretcher(width="0.6 m"), lambda v: opening(diameter=f"{v} m")),
    Cure(
        "feet-below-rim",
        rig(hook_height="90 in"),
        lambda v: rig(hook_height=f"{90 * INCH_M + v:.4f} m"),
    ),
    Cure(
        "casualty-blocked",
        rig(hook_height="40 in"),
        lambda v: rig(hook_height=f"{40 * INCH_M + v:.4f} m"),
    ),
    Cure(
        "rig-under-overhead",
        _fires("rig-under-overhead"),
        lambda v: rig(hook_height=f"{v} m"),
    ),
    Cure(
        "raising-hits-overhead",
        _fires("raising-hits-overhead"),
        lambda v: roof(clear_height=f"{v} m"),
    ),
    Cure("hook-meets-head", _fires("hook-meets-head"), lambda v: rig(block=f"{v} m")),
    Cure("feet-near-edge", _fires("feet-near-edge"), lambda v: put(*TRIPOD, foot_radius=f"{v} m")),
    Cure("leg-gap", _fires("leg-gap"), lambda v: put(*TRIPOD, leg_length=f"{v} m")),
    Cure("swing-too-short", _fires("swing-too-short"), lambda v: rig(swing_to=f"{v} deg")),
    Cure(
        "boom-sweep-blocked", _fires("boom-sweep-blocked"), lambda v: rig(swing_clear_to=f"{v} m")
    ),
    Cure("landing-too-small", landing(width="6 ft"), lambda v: landing(width=f"{v} m")),
    Cure("landing-too-small", landing(length="8 ft"), lambda v: landing(length=f"{v} m")),
    Cure(
        "landing-near-opening",
        landing(from_opening="1 ft"),
        lambda v: landing(from_opening=f"{v} m"),
    ),
    Cure("hose-in-column", hose(), lambda v: opening(diameter=f"{v} m")),
    Cure(
        "lines-on-one-head",
        two_lines(head=["2 in", "0 in"]),
        lambda v: two_lines(head=[f"{v} m", "0 in"]),
    ),
    Cure(
        "lines-hoisted-too-near",
        two_lines(together=True),
        lambda v: two_lines(together=True, head=[f"{v} m", "0 in"]),
    ),
    Cure(
        "receivers-not-guarded",
        opening(drop_outside="4 ft"),
        lambda v: opening(drop_outside=f"{v} m"),
        "storage_tank",
    ),
    Cure("exhaust-upwind", engine(bearing="300 deg"), lambda v: engine(bearing=f"{v} deg")),
    Cure(
        "intake-downwind",
        intake(intake_bearing="90 deg"),
        lambda v: intake(intake_bearing=f"{v} deg"),
    ),
    Cure(
        "manway-table-too-short",
        opening(landing="4 ft"),
        lambda v: opening(landing=f"{v} m"),
        "storage_tank",
    ),
    Cure(
        "stretcher-longer-than-room",
        both(stretcher(), opening(clear_outside="1.5 m", clear_inside="1.8 m")),
        lambda v: opening(clear_inside=f"{v} m"),
        "storage_tank",
    ),
    Cure(
        "user-too-heavy",
        put("device", "retractor-3", rated_load="0.8 kN"),
        lambda v: put("device", "retractor-3", rated_load=f"{v} kN"),
    ),
]


@pytest.mark.parametrize("cure", CURES, ids=lambda cure: cure.rule)
def test_the_number_named_clears_the_finding(cure: Cure) -> None:
    rule = f"clearance/{cure.rule}"
    before = found(plan_with(cure.fires, sample=cure.sample), rule)
    one = next(row for row in before if row.verdict is Verdict.FAILS)
    named = NAMED.findall(one.settle_by)[0]

    after = found(plan_with(cure.fires, cure.cured(float(named)), sample=cure.sample), rule)
    same = [row for row in after if (row.space, row.about) == (one.space, one.about)]

    assert worst(same) in HOLDS
