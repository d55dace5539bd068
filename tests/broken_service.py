"""Ways of leaning a sample site's rescue on an outside service, with its records."""

from datetime import date
from typing import Any

from broken_crew import put
from broken_sites import Break, space, way

from planbuilder.site.evaluation import Question

SEEN = date(2026, 10, 12)


def answers(**changed: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Every question answered yes, with some answers changed; None takes the answer away."""
    full = {"answer": "yes", "evidence": "Visit, minutes no. 4", "by": "Osric Vane", "on": SEEN}
    rows = []
    for question in Question:
        change = changed.get(question.replace("-", "_"), {})
        if change is not None:
            row = {"question": str(question), **full, **change}
            rows.append({key: value for key, value in row.items() if value is not None})
    return rows


PRACTISED = {
    "on": SEEN,
    "inside": "obstructed",
    "opening": "restricted",
    "raised": "elevated",
    "way_in": "vertical",
}
RECORD: dict[str, Any] = {
    "id": "weir",
    "name": "Weir rescue",
    "kind": "contract-team",
    "phone": "555-0160",
    "agreed_on": SEEN,
    "agreed_by": "Liv Ambry",
    "agreed_in_writing": True,
    "evaluated_on": SEEN,
    "evaluated_by": "Osric Vane",
    "told_hazards_on": SEEN,
    "shown_spaces_on": SEEN,
    "verified_on": date(2026, 11, 16),
    "reports_unavailability": True,
    "called_each_shift": True,
    "capable_of": ["confined-space"],
    "confirmed_on": SEEN,
    "answer": answers(),
    "practised": PRACTISED,
}


def leans(number: int = 0, **facts: Any) -> Break:
    """The fallback of one space leans on a service on record; None takes a fact away."""

    def change(data: dict[str, Any]) -> None:
        data["service"] = [dict(RECORD)]
        put(data["service"][0], **facts)
        way(data, "fallback", number)["service"] = "weir"

    return change


def answered(**changed: dict[str, Any] | None) -> Break:
    """As leans, with some answers changed."""
    return leans(answer=answers(**changed))


def practised(**changed: Any) -> Break:
    """As leans, with the place of the practice changed; None takes a fact away."""
    seen = {key: value for key, value in {**PRACTISED, **changed}.items() if value is not None}
    return leans(practised=seen)


def place(number: int = 0, **values: Any) -> Break:
    """Sets keys of a space; None takes the key away."""
    return lambda data: put(space(data, number), **values)
