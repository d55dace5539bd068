"""Cases of the pump station and of the deck, and ways of breaking them."""

from dataclasses import dataclass
from typing import Any

from broken_sites import Break, space

DECK = "transformer_deck"


def case(data: dict[str, Any], what: str) -> dict[str, Any]:
    """The scenario of that kind of the first space."""
    rows: list[dict[str, Any]] = space(data)["scenario"]
    return next(one for one in rows if one["what"] == what)


def told(what: str, /, **values: Any) -> Break:
    """Facts of one scenario; None takes a key of it away."""

    def change(data: dict[str, Any]) -> None:
        one = case(data, what)
        one.update(values)
        for key in [name for name, value in values.items() if value is None]:
            del one[key]

    return change


def without(*whats: str) -> Break:
    """The space without scenarios of those kinds."""

    def change(data: dict[str, Any]) -> None:
        space(data)["scenario"] = [
            one for one in space(data)["scenario"] if one["what"] not in whats
        ]

    return change


def no_case(data: dict[str, Any]) -> None:
    """A plan that lists nothing that can happen."""
    del space(data)["scenario"]


def by_self(data: dict[str, Any]) -> None:
    """The primary way is that the casualty gets out alone, and there is no other."""
    rescue = space(data)["rescue"]
    rescue["primary"]["method"] = "self"
    del rescue["fallback"]


def as_is(_: dict[str, Any]) -> None:
    """The sample as it stands."""


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, and what leaves it unknown."""

    fires: Break | None
    unknown: Break | None


CASES: dict[str, Case] = {
    "plan/no-scenario": Case(None, no_case),
    "plan/hazard-without-scenario": Case(told("trapped", hazards=["engulfment"]), None),
    "plan/no-medical-scenario": Case(None, told("medical", what="injured")),
    "plan/scenario-not-answered": Case(
        told("unresponsive", answer="self"), told("unresponsive", answer=None)
    ),
    "plan/scenario-one-answer": Case(
        told("unresponsive", then="primary"), told("unresponsive", then=None)
    ),
    "plan/no-suspended-rescue": Case(
        told("suspended", kit_here=False), told("suspended", legs=None)
    ),
}
