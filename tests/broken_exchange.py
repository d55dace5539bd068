"""Ways of changing what the employers of a sample site told each other."""

from datetime import date
from typing import Any

from broken_crew import put
from broken_sites import Break, entry

DOWN, UP = 0, 1  # the two records of a sample: host to contractor, contractor to host


def told(number: int, **values: Any) -> Break:
    """Sets keys of one record; None takes the key away."""
    return lambda data: put(data["exchange"][number], **values)


def untold(data: dict[str, Any]) -> None:
    """Nothing is on record."""
    del data["exchange"]


def talk(**values: Any) -> Break:
    """Sets keys of the talk after the work; None takes the key away."""
    return lambda data: put(data["debrief"], **values)


def rescues(employer: str, whom: str | None) -> Break:
    """Whom one employer takes to be the rescuer."""
    return lambda data: put(entry(data, "employer", employer), rescues=whom)


def third(data: dict[str, Any]) -> None:
    """A contractor more, who was told nothing."""
    one = {"id": "painters", "name": "Dunmore Painters", "role": "contractor"}
    data["employer"].append({**one, "contact": "Una Dunmore", "phone": "555-0190"})


def alone(data: dict[str, Any]) -> None:
    """One employer has the site to itself."""
    untold(data)
    del data["debrief"]
    data["employer"] = data["employer"][:1]
    del data["employer"][0]["rescues"]
    for one in data["person"]:
        one.pop("employer", None)


def role(employer: str, word: str) -> Break:
    return lambda data: put(entry(data, "employer", employer), role=word)


LATER = date(2026, 11, 28)  # after the check, before the work
