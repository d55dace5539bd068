"""Ways of changing people, hours and ways of a sample site."""

import copy
from datetime import date
from typing import Any

from broken_sites import Break, entry, space, way

WET_WELL, VALVE_CHAMBER = 0, 1
DAY = date(2026, 1, 20)


def person(person_id: str, **values: Any) -> Break:
    """Sets keys of a person; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        put(entry(data, "person", person_id), **values)

    return change


def put(target: dict[str, Any], **values: Any) -> None:
    """Sets keys of a table; None takes the key away."""
    for key, value in values.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value


def certificate(person_id: str, which: str, /, **values: Any) -> Break:
    """Sets keys of the certificates of that kind; with none given, takes them away."""

    def change(data: dict[str, Any]) -> None:
        own = entry(data, "person", person_id)["certificate"]
        for one in [one for one in own if one["kind"] == which]:
            if values:
                one.update(values)
            else:
                own.remove(one)

    return change


def crew_of(name: str, number: int, *people: tuple[str, str]) -> Break:
    """Who is in which role in one method of one space."""

    def change(data: dict[str, Any]) -> None:
        way(data, name, number)["crew"] = [{"person": who, "role": role} for who, role in people]

    return change


def in_space(number: int, *path: str, **values: Any) -> Break:
    """Sets keys of a space, or of a table below it."""

    def change(data: dict[str, Any]) -> None:
        here = space(data, number)
        for part in path:
            here = here.setdefault(part, {})
        put(here, **values)

    return change


def step_of(name: str, number: int, step_id: str, **values: Any) -> Break:
    """Sets keys of a step of one method."""

    def change(data: dict[str, Any]) -> None:
        put(next(one for one in way(data, name, number)["step"] if one["id"] == step_id), **values)

    return change


def entry_first(data: dict[str, Any]) -> None:
    """The valve chamber is rescued by going in first, from outside if that fails."""
    rescue = space(data, VALVE_CHAMBER)["rescue"]
    first = copy.deepcopy(rescue["fallback"])
    rescue["primary"], rescue["fallback"] = first, rescue["primary"]
    first.update(no_retrieval_because="would-not-contribute", no_retrieval_decided_by="O. V.")


ROUTE = [
    {"what": "lane", "length": "60 m", "going_in": "walk", "coming_out": "stretcher"},
    {
        "what": "steps",
        "length": "12 m",
        "going_in": "stairs-up",
        "coming_out": "stretcher-stairs-up",
    },
    {"what": "ladder", "length": "6 m", "going_in": "ladder", "coming_out": "raised"},
    {"what": "pipe", "length": "8 m", "going_in": "crawl-in-set", "coming_out": "drag"},
]
COVER = {
    "notify": "30 s",
    "derig": "1 min",
    "rig": "1 min",
    "don": "30 s",
    "way": [{"what": "path", "length": "30 m", "going_in": "walk"}],
    "stop_others": True,
}


def both_open(data: dict[str, Any]) -> None:
    """Wet well and valve chamber are open at the same hours, on no common drain."""
    space(data, VALVE_CHAMBER)["task"].update(enter_from="09:00", out_by="11:00")
    space(data, WET_WELL)["entrants"] = ["sunniva"]  # Bode is in the other crew
    for number in (WET_WELL, VALVE_CHAMBER):
        space(data, number)["linked_to"] = []
        space(data, number)["cover"] = copy.deepcopy(COVER)


def off_site(**facts: Any) -> Break:
    """The valve chamber leans first on a team that waits off site."""

    def change(data: dict[str, Any]) -> None:
        service = {"id": "weir", "name": "Weir rescue", "kind": "contract-team", "phone": "1"}
        journey = {"turn_out": "1 min", "driven": "2 min", "driven_on": DAY, "walk_in": "30 s"}
        data["service"] = [service]
        put(service, **{**journey, **facts})
        way(data, "primary", VALVE_CHAMBER).update(posture="available-off-site", service="weir")

    return change
