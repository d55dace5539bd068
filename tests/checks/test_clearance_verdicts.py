"""Safety direction of verdicts on room: a worse opening, fall, roof or body never helps.

Power lines and traffic have theirs beside their rules.
"""

from collections.abc import Callable
from dataclasses import dataclass

import pytest
from broken_fall import absorber, falling, ledge, on_grab, on_lanyard
from broken_haul import TRIPOD, both, put, rig
from broken_lift import MIDDLE, ladder, roof
from broken_openings import bend, by_wrists, opening, riding, ring, stretcher
from broken_sites import WORST_FIRST, Break, plan_with, space
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.findings import Verdict
from planbuilder.plan import Plan

# Round a smaller opening there is more room for feet, and a boom has to turn less to land.
ROUND_IT = ("clearance/feet-near-edge", "clearance/swing-too-short")


@dataclass(frozen=True)
class Worse:
    """A length in m that is set, from its best to its worst; what may go the other way."""

    setter: Callable[[float], Break]
    best: float
    worst: float
    sample: str = "pump_station"
    ignoring: tuple[str, ...] = ()


def _hatch(**values: str) -> Break:
    """A rectangular hatch over the wet well."""
    sides = {"length": "1 m", "width": "1 m", **values}
    return opening(shape="rectangular", diameter=None, **sides)


def _low(depth_m: float = 1.8) -> Break:
    """The wet well as a chamber of that depth."""
    return lambda data: space(data)["shape"].update(depth=f"{depth_m:.4f} m")


def _body(name: str) -> Callable[[float], Break]:
    def setter(value: float) -> Break:
        def change(data: dict[str, object]) -> None:
            for one in data["person"]:  # type: ignore[attr-defined]
                one[name] = f"{value:.4f} m"

        return change

    return setter


def _rigged(number: int, key: str) -> Callable[[float], Break]:
    return lambda v: rig(number=number, **{key: f"{v:.4f} m"})


WORSE = {
    # The opening and what passes it.
    "smaller round opening": Worse(
        lambda v: opening(diameter=f"{v:.4f} m"), 1.2, 0.3, ignoring=ROUND_IT
    ),
    "narrower hatch": Worse(lambda v: _hatch(width=f"{v:.4f} m"), 1.2, 0.2, ignoring=ROUND_IT),
    "shorter hatch": Worse(lambda v: _hatch(length=f"{v:.4f} m"), 1.2, 0.2, ignoring=ROUND_IT),
    "tighter ring": Worse(lambda v: ring(shape="round", diameter=f"{v:.4f} m"), 1.2, 0.3),
    "flatter oval": Worse(
        lambda v: ring(shape="oval", length="0.9 m", width=f"{v:.4f} m"), 0.9, 0.2
    ),
    "smaller opening for a pair": Worse(
        lambda v: both(riding, opening(diameter=f"{v:.4f} m")), 1.4, 0.4, ignoring=ROUND_IT
    ),
    "smaller opening with the arms up": Worse(
        lambda v: both(by_wrists, opening(diameter=f"{v:.4f} m")), 1.0, 0.3, ignoring=ROUND_IT
    ),
    "taller people": Worse(_body("stature"), 1.4, 2.3),
    "wider people": Worse(_body("shoulder_breadth"), 0.35, 0.9),
    "deeper people": Worse(_body("body_depth"), 0.15, 0.7),
    "taller people of the tank": Worse(_body("stature"), 1.4, 2.3, "storage_tank"),
    "wider people of the tank": Worse(_body("shoulder_breadth"), 0.35, 0.9, "storage_tank"),
    # The stretcher.
    "longer stretcher": Worse(lambda v: both(stretcher(length=f"{v:.4f} m"), _low()), 0.5, 2.5),
    "wider stretcher": Worse(lambda v: stretcher(width=f"{v:.4f} m"), 0.2, 0.9),
    "thicker stretcher": Worse(lambda v: stretcher(depth=f"{v:.4f} m"), 0.2, 0.9),
    "less headroom under the hatch": Worse(
        lambda v: both(stretcher(), _low(v)),
        6.0,
        0.4,
    ),
    "longer neck": Worse(
        lambda v: both(stretcher(), opening(neck=f"{v:.4f} m"), _low(2.2)), 0.0, 1.5
    ),
    "narrower corner": Worse(
        lambda v: both(stretcher(), bend(before=f"{v:.4f} m", turn="90 deg")), 2.0, 0.4
    ),
    "less room outside the manway": Worse(
        lambda v: both(stretcher(), opening(clear_outside=f"{v:.4f} m")), 4, 0.4, "storage_tank"
    ),
    "less room inside the manway": Worse(
        lambda v: both(stretcher(), opening(clear_inside=f"{v:.4f} m")), 4, 0.4, "storage_tank"
    ),
    "higher sill outside": Worse(
        lambda v: opening(sill_outside=f"{v:.4f} m", footholds=None), 0.1, 2.0, "storage_tank"
    ),
    "shorter table at the manway": Worse(
        lambda v: opening(landing=f"{v:.4f} m"), 3.0, 0.3, "storage_tank"
    ),
    # Hook, roof, support.
    "lower hook": Worse(_rigged(0, "hook_height"), 4.0, 1.0),
    "lower hook of the tripod": Worse(_rigged(1, "hook_height"), 4.0, 1.0),
    "longer block": Worse(_rigged(0, "block"), 0.05, 1.5),
    "longer connector of the hook": Worse(_rigged(0, "connector"), 0.05, 1.5),
    "higher coaming": Worse(lambda v: opening(coaming=f"{v:.4f} m"), 0.0, 1.5),
    "lower roof": Worse(lambda v: roof(clear_height=f"{v:.4f} m"), 8.0, 1.0),
    "lower roof over the tripod": Worse(
        lambda v: roof(number=1, clear_height=f"{v:.4f} m"), 8.0, 1.0
    ),
    "taller head under a roof": Worse(
        lambda v: roof(clear_height="12 ft", head_above_hook=f"{v:.4f} m"), 0.01, 2.0
    ),
    "line farther off the centre": Worse(_rigged(0, "off_centre"), 0.0, 0.5),
    "feet of the tripod closer": Worse(lambda v: put(*TRIPOD, foot_radius=f"{v:.4f} m"), 1.6, 0.5),
    "shorter legs": Worse(lambda v: put(*TRIPOD, leg_length=f"{v:.4f} m"), 4.0, 1.9),
    "less free round the mast": Worse(_rigged(0, "swing_clear_to"), 3.0, 0.5),
    "ladder that reaches in farther": Worse(
        lambda v: both(ladder(reaches_in=f"{v:.4f} m"), rig(plumb_at=MIDDLE)), 0.01, 1.4
    ),
    # The fall.
    "lower anchor of a lanyard": Worse(lambda v: on_lanyard(anchor_height=f"{v:.4f} m"), 2.6, 0.0),
    "lower grab": Worse(lambda v: on_grab(grab_height=f"{v:.4f} m"), 2.3, 0.1),
    "lower device aside": Worse(
        lambda v: falling(offset="0.8 m", anchor_height=f"{v:.4f} m"), 6.0, 1.5
    ),
    "longer connector": Worse(lambda v: on_lanyard(connector=f"{v:.4f} m"), 0.1, 3.0),
    "longer connector on a grab": Worse(lambda v: on_grab(connector=f"{v:.4f} m"), 0.2, 3.0),
    "less room below a lanyard": Worse(lambda v: on_lanyard(below=f"{v:.4f} m"), 8.0, 0.5),
    "less room below a grab": Worse(lambda v: on_grab(below=f"{v:.4f} m"), 8.0, 0.5),
    "softer rope": Worse(lambda v: on_grab(rope_strain=f"{v:.4f} %"), 0.5, 30.0),
    "softer absorber": Worse(
        lambda v: on_lanyard(absorber=absorber(force=f"{5.0 - v:.4f} kN")), 0.0, 3.6
    ),
    "shorter absorber": Worse(
        lambda v: on_lanyard(absorber=absorber(travel=f"{v:.4f} m")), 2.0, 0.05
    ),
    "higher ledge in the fall": Worse(
        lambda v: falling(obstacle=ledge(below=f"{v:.4f} m")), 5.0, 0.3
    ),
    "farther aside": Worse(lambda v: falling(offset=f"{v:.4f} m"), 0.0, 6.0),
}


def answers(plan: Plan) -> dict[tuple[str, str | None, str], Verdict]:
    """The worst verdict of each rule on room, by space and part of the plan."""
    rows: dict[tuple[str, str | None, str], Verdict] = {}
    for one in plan.findings:
        if one.rule.area == "clearance":
            key = (one.rule.id, one.space, one.about)
            rows[key] = min(one.verdict, rows.get(key, one.verdict), key=WORST_FIRST.index)
    return rows


@pytest.mark.parametrize("name", WORSE)
@settings(max_examples=6, deadline=None)
@given(shares=st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_what_is_worse_never_answers_better(name: str, shares: tuple[float, float]) -> None:
    case = WORSE[name]
    values = [case.best + share * (case.worst - case.best) for share in sorted(shares)]
    before, after = (answers(plan_with(case.setter(one), sample=case.sample)) for one in values)

    better = [
        (key, values, before[key], after[key])
        for key in before.keys() & after.keys()
        if key[0] not in case.ignoring
        and WORST_FIRST.index(after[key]) > WORST_FIRST.index(before[key])
    ]
    assert better == []


@pytest.mark.parametrize("name", WORSE)
def test_the_ends_differ(name: str) -> None:
    """A range in which nothing changes would show nothing."""
    case = WORSE[name]
    best, worst = (
        answers(plan_with(case.setter(one), sample=case.sample)) for one in (case.best, case.worst)
    )

    assert any(
        WORST_FIRST.index(worst[key]) < WORST_FIRST.index(best[key])
        for key in best.keys() & worst.keys()
    )
