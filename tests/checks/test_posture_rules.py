"""Where rescuers wait at the least: by hazard, onset, arrest of falls, rule set."""

from typing import Any

import pytest
from broken_sites import Break, found, plan_with, rules_of, space, way, worst

from planbuilder.checks.timing import postures
from planbuilder.findings import Bind, Compared, Mark, Relation, Source, Verdict
from planbuilder.limits import Limits
from planbuilder.profiles.rule_file import Need
from planbuilder.profiles.statements import Duty, Limit
from planbuilder.view.pages import view_of

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
RULE, READY, BY = (
    "response/posture-too-slow",
    "response/ready-too-late",
    "response/too-few-standing-by",
)
TRENCH, TANK, DECK = "shored_trench", "storage_tank", "transformer_deck"


def test_every_rule_is_here() -> None:
    assert {RULE, READY, BY} == rules_of(postures)


def waiting(posture: str, *hazards: str, **level: str) -> Break:
    """The first space with those hazards alone, and rescuers who wait there; nobody can fall."""

    def change(data: dict[str, Any]) -> None:
        one = space(data)
        one["hazard"] = [{"kind": kind, "control": "as planned", **level} for kind in hazards]
        one["scenario"] = [{"what": "injured", "hazards": list(hazards), "answer": "primary"}]
        one.pop("fall", None)
        way(data)["posture"] = posture

    return change


def verdict(*breaks: Break, sample: str = "pump_station", rule: str = RULE) -> Verdict:
    first = plan_with(*breaks, sample=sample).spaces[0].scene.space.id
    rows = [one for one in found(plan_with(*breaks, sample=sample), rule) if one.space == first]
    return worst(rows)


@pytest.mark.parametrize("sample", ["pump_station", TRENCH])
@pytest.mark.parametrize("posture", ["available-on-site", "available-off-site", "notified-only"])
@pytest.mark.parametrize(
    "hazard",
    ["oxygen-deficiency", "inert-gas", "hydrogen-sulfide", "engulfment", "drowning", "cold-water"],
)
def test_what_is_immediately_dangerous_or_covers_wants_rescuers_standing_by(
    hazard: str, posture: str, sample: str
) -> None:
    assert verdict(waiting(posture, hazard), sample=sample) is FAILS
    assert verdict(waiting("standby", hazard), sample=sample) is MEETS


def test_mechanical_harm_alone_lets_rescuers_wait_elsewhere() -> None:
    assert verdict(waiting("available-off-site", "mechanical-injury")) is MEETS
    assert verdict(waiting("notified-only", "mechanical-injury")) is FAILS


def test_where_somebody_can_come_to_hang_rescuers_are_on_the_site() -> None:
    def falls(data: dict[str, Any]) -> None:
        fall = space(data)["fall"]
        waiting("available-off-site", "mechanical-injury")(data)
        space(data)["fall"] = fall

    plan = plan_with(falls)
    (one,) = [one for one in found(plan, RULE) if one.space == "wet-well"]

    assert one.verdict is FAILS
    assert "available on site: somebody can come to hang" in one.outcome.because


def test_the_readiest_posture_that_any_hazard_asks_for_counts() -> None:
    mixed = waiting("available-on-site", "mechanical-injury", "hydrogen-sulfide")

    assert verdict(mixed) is FAILS


def released(rate: str | None) -> Break:
    """Carbon monoxide that the site says stays at 200 ppm, and a way in which it is let out."""

    def change(data: dict[str, Any]) -> None:
        waiting("available-on-site", "carbon-monoxide", level="200 ppm")(data)
        leak: dict[str, Any] = {"kind": "carbon-monoxide", "what": "Exhaust of the pump engine"}
        space(data)["release"] = [leak | ({"rate": rate} if rate else {})]
        space(data)["monitoring"]["everybody_out"] = "1 min"

    return change


@pytest.mark.parametrize(
    ("rate", "expected"),
    # 29.9 m3 of free air; from 35 to 1,200 ppm at 0.05 L/min: 12 h; at 100 L/min: 21 s
    [("0.05 L/min", MEETS), ("100 L/min", FAILS), (None, FAILS)],
)
def test_air_that_turns_before_rescuers_are_ready_wants_them_standing_by(
    rate: str | None, expected: Verdict
) -> None:
    assert verdict(released(rate)) is expected


def duty(monkeypatch: pytest.MonkeyPatch, need: Need) -> None:
    """The rule set wants rescuers on the site."""
    said = Duty(
        key="rescue.on_site_required",
        layer="test",
        need=need,
        text="rescue people at hand at once",
        source=Source(mark=Mark.READ, document="29 CFR 1910.146", clause="x", bind=Bind.LAW),
    )
    monkeypatch.setattr(Limits, "duty", lambda _, key: said if key == said.key else None)


@pytest.mark.parametrize(("need", "expected"), [(Need.REQUIRED, FAILS), (Need.NOT_REQUIRED, MEETS)])
def test_a_duty_to_be_on_the_site_overrides(
    monkeypatch: pytest.MonkeyPatch, need: Need, expected: Verdict
) -> None:
    duty(monkeypatch, need)

    assert verdict(waiting("available-off-site", "mechanical-injury")) is expected
    assert verdict(waiting("available-on-site", "mechanical-injury")) is MEETS


def slow(**values: str) -> Break:
    """Mechanical harm alone, the alarm taking that long, and no drill that says otherwise."""

    def change(data: dict[str, Any]) -> None:
        waiting("available-on-site", "mechanical-injury")(data)
        data["drill"] = []
        next(one for one in way(data)["step"] if one["id"] == "alarm").update(values)

    return change


@pytest.mark.parametrize(
    ("minutes", "expected"), [("1 min", MEETS), ("16 min", FAILS), ("40 min", FAILS)]
)
def test_ready_within_the_limit_of_the_rule_set(minutes: str, expected: Verdict) -> None:
    change = slow(usual=minutes, one_in_ten="41 min" if minutes != "1 min" else "2 min")

    rows = found(plan_with(change), READY)
    assert worst(rows) is expected
    outcome = rows[0].outcome
    assert isinstance(outcome, Compared)
    assert outcome.limit.value == 15 * 60


def test_ready_is_unknown_where_no_time_is() -> None:
    def untimed(data: dict[str, Any]) -> None:
        slow()(data)
        step = next(one for one in way(data)["step"] if one["id"] == "alarm")
        del step["usual"], step["one_in_ten"]

    assert worst(found(plan_with(untimed), READY)) is UNKNOWN


def test_ready_is_not_asked_of_those_who_stand_by_or_must() -> None:
    assert found(plan_with(), READY) == []
    assert found(plan_with(waiting("standby", "mechanical-injury")), READY) == []


def crewless(*roles: str) -> Break:
    """The entry rescue of the tank without those parts."""

    def change(data: dict[str, Any]) -> None:
        method = way(data)
        method["crew"] = [one for one in method["crew"] if one["role"] not in roles]

    return change


def test_somebody_stands_by_in_a_set() -> None:
    assert verdict(sample=TANK, rule=BY) is MEETS
    assert verdict(crewless("back-up"), sample=TANK, rule=BY) is FAILS
    assert verdict(lambda data: way(data).pop("breathing_set"), sample=TANK, rule=BY) is FAILS
    on_site: Break = lambda data: way(data).update(posture="available-on-site")  # noqa: E731
    assert verdict(on_site, sample=TANK, rule=BY) is FAILS


@pytest.mark.parametrize(("wanted", "expected"), [(2, MEETS), (3, FAILS)])
def test_the_number_is_that_of_the_strictest_rule_set(
    monkeypatch: pytest.MonkeyPatch, wanted: int, expected: Verdict
) -> None:
    limit = plan_with().limits.of("people.idlh_standby_min")
    host = Limit(
        key=limit.key,
        layer="host",
        relation=Relation.AT_LEAST,
        quantity=limit.quantity.valued(wanted),
    )
    of = Limits.limit
    monkeypatch.setattr(
        Limits, "limit", lambda all_, key: host if key == host.key else of(all_, key)
    )

    assert verdict(sample=TANK, rule=BY) is expected


def test_nobody_goes_in_or_the_air_is_good_nothing_is_asked() -> None:
    assert found(plan_with(sample=DECK), BY) == []
    assert found(plan_with(), BY) == []


@pytest.mark.parametrize("name", ["primary", "fallback"])
def test_a_number_written_down_is_no_rescue_first_or_second(name: str) -> None:
    plan = plan_with(lambda data: way(data, name).update(posture="notified-only"))

    assert worst(found(plan, "plan/notified-only")) is FAILS
    assert plan.status == "NOT READY"


def test_the_least_posture_is_printed_with_its_reason() -> None:
    facts = {one.label: one.text for one in view_of(plan_with(sample=TANK)).spaces[0].facts}

    assert facts["Rescuers wait"] == "standby; at least standby: oxygen deficiency, harm in minutes"
