"""Air before the raise only from those who went in, and records only of those who need one."""

from datetime import date
from typing import Any

import pytest
from broken_crew import certificate, person
from broken_sites import Break, found, plan_with, space, way, worst

from planbuilder.findings import Verdict

RAISE = "response/haul-not-computed"
RECORD = "plan/certificate-expired"
IN: list[dict[str, Any]] = [
    {"id": "recognise", "what": "seen", "computed": "detection"},
    {"id": "enter", "what": "in", "after": ["recognise"], "usual": "30 s"},
    {"id": "hood", "what": "air", "after": ["enter"], "usual": "30 s", "reaches": "air"},
    {"id": "raise", "what": "up", "after": ["hood"], "computed": "haul", "reaches": "out"},
]


def stepped(*steps: dict[str, Any], method: str = "entry") -> Break:
    """The wet well is rescued on its winch by these steps."""

    def change(data: dict[str, Any]) -> None:
        way(data).update(method=method, step=[dict(one) for one in steps])
        way(data)["crew"].append({"person": "dagny", "role": "entry-rescuer"})

    return change


def inside(**values: Any) -> list[dict[str, Any]]:
    """The steps, with something said of the two that are done inside."""
    return [one | values if one["id"] in ("enter", "hood") else one for one in IN]


def of_the_raise(*steps: dict[str, Any], method: str = "entry") -> Verdict:
    asked = found(plan_with(stepped(*steps, method=method)), RAISE)
    return worst([one for one in asked if one.space == "wet-well" and one.about == "primary"])


@pytest.mark.parametrize("said", [{"role": "entry-rescuer"}, {"on_air": "in"}, {"by": ["dagny"]}])
def test_those_who_went_in_give_air_before_the_raise(said: dict[str, Any]) -> None:
    assert of_the_raise(*inside(**said)) is Verdict.MEETS


@pytest.mark.parametrize(
    ("steps", "method"),
    [
        (IN, "entry"),  # nobody says that anybody went in
        (inside(on_air="in"), "non-entry"),
        (inside(by=["mirela"]), "entry"),  # the leader stays outside
        (inside(by=["dagny"], role="back-up"), "entry"),
        (inside(on_air="out"), "entry"),
    ],
)
def test_nobody_else_gives_air_before_the_raise(steps: list[dict[str, Any]], method: str) -> None:
    assert of_the_raise(*steps, method=method) is Verdict.FAILS


def test_nobody_is_out_before_the_raise() -> None:
    first = [one | {"reaches": "out"} if one["id"] == "enter" else one for one in inside()]

    assert of_the_raise(*inside(on_air="in")[:3], IN[3] | {"reaches": None}) is Verdict.MEETS
    assert of_the_raise(*(one | {"on_air": "in"} for one in first[:3]), IN[3]) is Verdict.FAILS


def test_the_usual_steps_of_an_entry_hang_on_a_rig() -> None:
    def change(data: dict[str, Any]) -> None:
        way(data).update(method="entry", step=[], steps_from="usual")

    asked = found(plan_with(change), RAISE)

    assert worst([one for one in asked if one.about == "primary"]) is Verdict.MEETS


def caller_only(data: dict[str, Any]) -> None:
    """Junia calls, and does nothing else."""
    for each in data["space"]:
        for method in each["rescue"].values():
            if isinstance(method, dict):
                crew = [one for one in method["crew"] if one["person"] != "junia"]
                method["crew"] = [*crew, {"person": "junia", "role": "caller"}]
    space(data)["attendant"] = ["tobiah"]


def of_junia(*breaks: Break) -> list[Verdict]:
    asked = found(plan_with(caller_only, *breaks), RECORD)
    return [one.verdict for one in asked if one.about == "Junia Farrow"]


def test_a_caller_needs_no_certificate() -> None:
    assert of_junia(person("junia", certificate=[])) == []


def test_a_certificate_of_a_caller_that_ran_out_blocks() -> None:
    gone = certificate("junia", "first-aid", expires=date(2026, 11, 1))

    assert set(of_junia(gone)) == {Verdict.FAILS}


def test_whoever_calls_and_has_another_part_needs_one() -> None:
    def medic_too(data: dict[str, Any]) -> None:
        way(data)["crew"].append({"person": "junia", "role": "medic"})

    assert Verdict.UNKNOWN in of_junia(person("junia", certificate=[]), medic_too)
