"""Equipment: at hand, enough, examined and fit; each rule absent, stale, contradicting, good."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from broken_crew import both_open
from broken_haul import both, nothing, rig
from broken_kit import method, piece, plan_under, under, without
from broken_sites import Break, found, plan_with, rules_of, space, way, worst

from planbuilder.checks.air import face_pieces
from planbuilder.checks.kit import at_hand, examined
from planbuilder.errors import FileProblemsError
from planbuilder.findings import Compared, Finding, Verdict, Weight
from planbuilder.site.load import load_site

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
AWAY, TWICE = "plan/gear-not-at-opening", "plan/gear-at-two-openings"
LOADED, EXAMINED = "plan/gear-has-held-a-fall", "plan/examination-overdue"
POSITIVE = "response/set-not-positive-pressure"
FELL = {"condition": "has-held-a-fall"}
CHAMBER = 1


def same_winch(data: dict[str, Any]) -> None:
    """Both openings, open together, count on one winch."""
    both_open(data)
    way(data, "primary", CHAMBER)["rig"]["device"] = "winch-4"


def bad_air(data: dict[str, Any]) -> None:
    """The air of the valve chamber can hurt those who go in with sets."""
    gas = {"kind": "carbon-monoxide", "level": "100 ppm", "control": "Ventilation"}
    space(data, CHAMBER)["hazard"].append(gas)


def demand(value: bool | None) -> Break:
    def change(data: dict[str, Any]) -> None:
        air = next(one for one in data["equipment"] if one["id"] == "set")["air"]
        if value is not None:
            air["positive_pressure"] = value

    return both(bad_air, change)


# rule: what makes it fail, what leaves it unknown, what lets it rest.
CASES: dict[str, tuple[Break | None, Break | None, Break]] = {
    AWAY: (
        piece("device", "rope-set", at_opening=False),
        piece("device", "rope-set", at_opening=None),
        nothing,
    ),
    TWICE: (same_winch, None, both_open),
    "plan/too-few-harnesses": (
        piece("equipment", "harness", quantity=0),
        piece("equipment", "harness", serves=None),
        nothing,
    ),
    "plan/usual-gear-not-listed": (None, without("barrier"), nothing),
    LOADED: (
        piece("device", "retractor-3", **FELL),
        piece("device", "retractor-3", **FELL, cleared_by="Osric Vane"),
        nothing,
    ),
    "plan/serial-missing": (None, piece("device", "winch-4", serial=None), nothing),
    "plan/connectors-not-compatible": (
        rig(connectors_compatible=False),
        rig(connectors_compatible=None),
        nothing,
    ),
    POSITIVE: (demand(value=False), demand(value=None), demand(value=True)),
}
BY_OVERLAY = {EXAMINED, "plan/no-inspection-record"}


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def test_every_rule_has_a_case() -> None:
    assert set(CASES) | BY_OVERLAY == rules_of(at_hand, examined, face_pieces)


@pytest.mark.parametrize("rule", [rule for rule, case in CASES.items() if case[0]])
def test_a_rule_fires(rule: str) -> None:
    fires = CASES[rule][0]

    assert fires is not None
    assert worst(asked(rule, fires)) is FAILS


@pytest.mark.parametrize("rule", [rule for rule, case in CASES.items() if case[1]])
def test_missing_data_is_unknown(rule: str) -> None:
    unknown = CASES[rule][1]

    assert unknown is not None
    findings = [one for one in asked(rule, unknown) if one.verdict is UNKNOWN]
    assert findings
    assert all(one.keys and one.settle_by for one in findings)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert {one.verdict for one in asked(rule, CASES[rule][2])} == {MEETS}


# ---- at hand --------------------------------------------------------------------------------


def test_a_step_uses_only_what_is_listed(tmp_path: Path) -> None:
    text = (Path(__file__).parents[2] / "sample_sites/pump_station.toml").read_text("utf-8")
    (tmp_path / "s.toml").write_text(text.replace('uses = ["aid-kit"]', 'uses = ["aidkit"]'))

    with pytest.raises(FileProblemsError, match='did you mean "aid-kit"'):
        load_site(tmp_path / "s.toml")


def test_what_a_step_uses_is_at_the_opening() -> None:
    (one,) = [
        one for one in asked(AWAY, piece("equipment", "aid-kit", at_opening=False)) if one.open
    ]

    assert (one.about, one.verdict, one.blocks) == ("primary", FAILS, True)
    assert one.keys == ("equipment.aid-kit.at_opening",)


def from_the_site(fetched_by: str | None, *, ready: bool = False) -> list[Finding]:
    """The wet well's own team comes from elsewhere on the site; the winch has to be brought."""
    moved = method(posture="available-on-site")
    winch = piece("device", "winch-4", at_opening=ready, fetched_by=fetched_by)
    return [one for one in asked(AWAY, moved, winch) if one.space == "wet-well"]


def test_who_comes_from_elsewhere_brings_it_or_names_who_does() -> None:
    assert worst(from_the_site(None)) is UNKNOWN
    assert worst(from_the_site("ines")) is MEETS
    assert worst(from_the_site(None, ready=True)) is MEETS


@pytest.mark.parametrize("who", ["tobiah", "bode"])
def test_whoever_watches_or_is_inside_fetches_nothing(who: str) -> None:
    assert worst(from_the_site(who)) is FAILS


def test_nobody_fetches_a_beam() -> None:
    """The eye on the hoist beam is built in: neither place nor number is asked of it."""
    plan = plan_with(piece("support", "gantry", kept_at=None))

    assert worst(found(plan, AWAY)) is MEETS
    assert worst(found(plan, "plan/serial-missing")) is MEETS


def test_other_hours_let_one_winch_do() -> None:
    def apart(data: dict[str, Any]) -> None:
        same_winch(data)
        space(data, CHAMBER)["task"].update(enter_from="13:00", out_by="14:30")

    assert [one.verdict for one in asked(TWICE, apart)] == []
    assert {one.verdict for one in asked(TWICE, same_winch)} == {FAILS}


def test_two_pieces_serve_two_openings() -> None:
    def quantity(count: int) -> list[Finding]:
        shared = piece("equipment", "aid-kit", quantity=count)
        step = lambda data: way(data, "primary", CHAMBER)["step"][0].update(uses=["aid-kit"])  # noqa: E731
        return asked(TWICE, both_open, shared, step)

    assert worst(quantity(1)) is FAILS
    assert worst(quantity(2)) is MEETS


def test_harnesses_count_those_inside_and_those_who_go_in() -> None:
    """Valve chamber: one inside, two rescuers and a back-up."""
    (one,) = [one for one in asked("plan/too-few-harnesses") if one.space == "valve-chamber"]

    assert isinstance(one.outcome, Compared)
    assert (one.outcome.result.value, one.outcome.limit.value) == (4, 6)


@pytest.mark.parametrize(
    ("gone", "spaces"),
    [
        ("lamp", {"wet-well", "valve-chamber"}),
        ("barrier", {"wet-well", "valve-chamber"}),
        ("ladder", {"valve-chamber"}),
    ],
)
def test_the_place_asks_for_light_barrier_and_ladder(gone: str, spaces: set[str]) -> None:
    findings = asked("plan/usual-gear-not-listed", without(gone))

    assert {one.space for one in findings if one.open} == spaces
    assert {one.weight for one in findings} == {Weight.WARNS}


def test_a_manway_in_a_wall_asks_for_light_alone() -> None:
    (one,) = found(plan_with(without("lamp"), sample="storage_tank"), "plan/usual-gear-not-listed")

    assert one.verdict is UNKNOWN
    assert "light" in one.settle_by
    assert found(plan_with(sample="transformer_deck"), "plan/usual-gear-not-listed") == []


# ---- fit for use ----------------------------------------------------------------------------


def cleared(on: date, by: str | None = "Osric Vane") -> Break:
    return piece("device", "retractor-3", **FELL, cleared_on=on, cleared_by=by)


def test_what_has_held_a_fall_is_out_until_it_is_cleared() -> None:
    assert worst(asked(LOADED, cleared(date(2026, 11, 20)))) is MEETS
    assert worst(asked(LOADED, cleared(date(2026, 11, 26)))) is FAILS
    assert worst(asked(LOADED, cleared(date(2026, 11, 20), None))) is UNKNOWN
    (one, *_) = asked(LOADED, piece("equipment", "harness", **FELL))
    assert one.blocks
    assert (one.source.document, one.source.clause) == ("29 CFR 1910.140", "(c)(17)")


MONTHS = 'value = 6\nunit = "months"\nop = "<="'
PERSONS = f"inspection.lifting_persons_months\n{MONTHS}"
WORN = f"inspection.ppe_months\n{MONTHS}"
WET_WELL = ("davit-2", "winch-4", "retractor-3", "rope-set", "tripod-1", "winch-5", "retractor-5")


def examinations(folder: Path, on: str | None, *, entry: str = PERSONS, bind: str = "law") -> Any:
    """The findings where everything that lifts, and the harnesses, was examined on a day."""
    said = f'\nexamined = {on}\nexamined_by = "Vale Surveyors"' if on else ""
    swaps = [(f'id = "{one}"\n', f'id = "{one}"{said}\n') for one in (*WET_WELL, "harness")]
    return found(plan_under(folder, under(entry, bind=bind), *swaps), EXAMINED)


def test_nobody_asks_for_examinations_where_no_rule_set_does() -> None:
    assert asked(EXAMINED) == []


@pytest.mark.parametrize(
    ("on", "verdict"),
    [
        (None, UNKNOWN),
        ("2026-06-04", MEETS),  # to 4 December, the last day of work in the wet well
        ("2026-06-03", FAILS),
        ("2026-11-26", FAILS),  # tomorrow
    ],
)
@pytest.mark.parametrize("entry", [PERSONS, WORN])
def test_six_months_run_to_the_same_day(
    tmp_path: Path, on: str | None, verdict: Verdict, entry: str
) -> None:
    findings = examinations(tmp_path, on, entry=entry)

    (one,) = [one for one in findings if one.space == "wet-well"]
    assert one.verdict is verdict
    assert one.source.document == "Weir rules"
    assert one.blocks is (verdict is not MEETS)


@pytest.mark.parametrize(("bind", "blocks"), [("law", True), ("consensus", False)])
def test_what_a_standard_asks_for_warns(tmp_path: Path, bind: str, *, blocks: bool) -> None:
    findings = examinations(tmp_path, "2025-06-03", bind=bind)

    assert {(one.verdict, one.blocks) for one in findings} == {(FAILS, blocks)}


def test_an_examination_by_nobody_is_none(tmp_path: Path) -> None:
    swap = ('id = "winch-4"\n', 'id = "winch-4"\nexamined = 2026-09-01\n')
    findings = found(plan_under(tmp_path, under(PERSONS), swap), EXAMINED)

    assert worst(findings) is UNKNOWN
    assert "device.winch-4.examined" in {key for one in findings for key in one.keys}


def test_a_written_record_is_asked_where_a_rule_set_asks(tmp_path: Path) -> None:
    rule, duty = "plan/no-inspection-record", 'inspection.written_record\ntext = "In writing."'
    said = ('author = "Mirela Tarn"', 'author = "Mirela Tarn"\ninspection_records = "Site office"')

    blank = found(plan_under(tmp_path, under(duty)), rule)
    told = found(plan_under(tmp_path, under(duty), said), rule)
    assert asked(rule) == []
    assert {(one.verdict, one.blocks) for one in blank} == {(UNKNOWN, True)}
    assert worst(told) is MEETS


def test_good_air_does_not_ask_how_a_mask_leaks() -> None:
    assert asked(POSITIVE) == []
