"""Identity, place, entry route, hours, triggers and other work: ways of breaking a sample."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from broken_sites import Break, entry, space, way


def both(*breaks: Break) -> Break:
    """Each of *breaks*, one after the other."""

    def change(data: dict[str, Any]) -> None:
        for one in breaks:
            one(data)

    return change


def _put(table: dict[str, Any], values: dict[str, Any]) -> None:
    """Sets keys of a table; None takes a key away."""
    for key, value in values.items():
        table.pop(key, None)
        if value is not None:
            table[key] = value


def plan_facts(**values: Any) -> Break:
    return lambda data: _put(data["plan"], values)


def site(**values: Any) -> Break:
    return lambda data: _put(data["site"], values)


def here(**values: Any) -> Break:
    """Keys of the first space itself."""
    return lambda data: _put(space(data), values)


def task(**values: Any) -> Break:
    return lambda data: _put(space(data)["task"], values)


def shape(**values: Any) -> Break:
    return lambda data: _put(space(data)["shape"], values)


def rig(**values: Any) -> Break:
    return lambda data: _put(way(data)["rig"], values)


def person(who: str, **values: Any) -> Break:
    return lambda data: _put(entry(data, "person", who), values)


def history(*rows: tuple[str, date]) -> Break:
    lines = [{"revision": name, "on": on, "change": "-"} for name, on in rows]
    return plan_facts(history=lines)


def hazards(*kinds: str, **values: Any) -> Break:
    """Other hazards in place of those of the space."""
    return here(hazard=[{"kind": one, "control": "-", **values} for one in kinds])


def alternate(*kinds: str) -> Break:
    """By the alternate route, with these hazards."""
    return both(here(entry_route="alternate-c5"), hazards(*kinds))


def reclassified(*kinds: str, **values: Any) -> Break:
    return both(here(entry_route="reclassified-c7"), hazards(*kinds, **values))


TRIGGER = {"kind": "flood", "stop_at": "water over the sill", "watched_by": "junia"}


def trigger(**values: Any) -> Break:
    """One trigger; None takes a key of it away."""
    one: dict[str, Any] = dict(TRIGGER)
    _put(one, values)
    return here(trigger=[one])


def wind(limit: str | None, stop: str | None) -> Break:
    """The wind that the davit is marked for, and that at which the work stops."""

    def change(data: dict[str, Any]) -> None:
        _put(entry(data, "support", "davit-2"), {"wind_limit": limit})
        if stop is not None:
            one = {"kind": "wind", "wind": stop, "watched_by": "junia"}
            space(data)["trigger"].append(one)

    return change


OTHER: dict[str, Any] = {
    "what": "Painting of the canopy",
    "employer": "district",
    "contact": "junia",
    "starts": date(2026, 11, 30),
    "ends": date(2026, 12, 2),
    "makes": ["fumes"],
    "control": "Only after everybody is out",
}


def other(**values: Any) -> Break:
    """Other work near the wet well; None takes a key of it away."""
    one = dict(OTHER)
    _put(one, values)
    return here(other_work=[one])


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what leaves it unknown, and what it rests on."""

    fires: Break | None
    unknown: Break | None
    rests: Break
    sample: str = "pump_station"


def nothing(_: dict[str, Any]) -> None:
    """The sample as it is."""


B, C = ("B", date(2026, 3, 16)), ("C", date(2026, 11, 2))
# The plan is read on 25 November 2026; the work runs from 30 November to 4 December.
CASES: dict[str, Case] = {
    "plan/author-approves": Case(plan_facts(approver="mirela  TARN"), None, nothing),
    "plan/not-issued-yet": Case(plan_facts(issued=date(2026, 11, 26)), None, nothing),
    "plan/history-out-of-order": Case(history(C, B), None, nothing),
    "plan/review-overdue": Case(
        plan_facts(programme_reviewed_on=date(2025, 12, 3)),
        None,  # the issue of the plan counts where no review is stated
        plan_facts(programme_reviewed_on=date(2025, 12, 4)),
    ),
    "plan/changed-since-assessed": Case(
        here(changed_on=date(2026, 10, 27)),
        here(changed_on=date(2026, 10, 20), assessed_on=None),
        here(changed_on=date(2026, 10, 26)),
    ),
    "plan/work-not-covered": Case(
        task(work=["excavation"]), task(work=None), task(work=["construction"]), "shored_trench"
    ),
    "plan/place-not-found": Case(None, site(muster=None), nothing),
    "plan/phone-without-number": Case(site(call_back="control room"), None, nothing),
    "plan/call-back-is-emergency": Case(site(call_back="9-1-1"), None, nothing),
    "plan/entry-route-unknown": Case(here(entry_route="alternate-1203e"), None, nothing),
    "plan/alternate-route-hazard": Case(
        alternate("hydrogen-sulfide", "drowning"),
        both(alternate("hydrogen-sulfide"), here(ventilation=None)),
        alternate("hydrogen-sulfide", "medical-collapse"),
    ),
    "plan/reclassified-hazard": Case(
        reclassified("mechanical-injury", eliminated=False),
        reclassified("mechanical-injury"),
        reclassified("mechanical-injury", eliminated=True),
    ),
    "plan/assessment-not-signed": Case(
        here(assessed_on=date(2026, 11, 26)), here(assessed_by=None), nothing
    ),
    "plan/sketch-not-to-scale": Case(None, shape(inside_width=None), nothing),
    "plan/work-is-over": Case(
        task(start=date(2026, 11, 23), finish=date(2026, 11, 24)), None, nothing
    ),
    "plan/hours-not-stated": Case(None, task(out_by=None), nothing),
    # 08:00 to 11:30 on five days: 3 h 30 min a day, 99 h 30 min in all
    "plan/permit-too-short": Case(
        task(permit_for="3 h"), task(permit_for="4 h", out_by=None), task(permit_for="3.5 h")
    ),
    "plan/permit-outlasts-task": Case(
        task(permit_for="100 h"), task(permit_for="4 h", out_by=None), task(permit_for="99.5 h")
    ),
    "plan/trigger-not-stated": Case(None, here(trigger=[]), nothing),
    "plan/trigger-not-watched": Case(
        trigger(watched_by="bode"), trigger(watched_by=None), trigger()
    ),
    "plan/wind-above-support": Case(
        wind("12 m/s", "12.1 m/s"), wind("12 m/s", None), wind("12 m/s", "12 m/s")
    ),
    "plan/no-coordinator": Case(site(coordinator="bode"), site(coordinator=None), nothing),
    "plan/other-work-not-stated": Case(None, here(other_work=None), nothing),
    "plan/other-work-without-contact": Case(other(contact="bode"), other(contact=None), other()),
    "plan/other-work-uncontrolled": Case(other(control=None), other(makes=None), other()),
}
