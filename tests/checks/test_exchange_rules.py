"""What employers told each other: absent, stale, contradicting, good."""

from datetime import date
from typing import Any

import pytest
from broken_exchange import DOWN, LATER, UP, alone, rescues, role, talk, third, told, untold
from broken_haul import both, nothing
from broken_service import leans, place
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.arrangement import exchange
from planbuilder.checks.arrangement.exchange import tellings
from planbuilder.findings import Verdict
from planbuilder.limits import limits_for
from planbuilder.view.pages import view_of

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
TOLD, TALK, RESCUER = (
    "plan/exchange-not-recorded",
    "plan/debrief-not-planned",
    "plan/rescuer-not-agreed",
)
TRENCH = "shored_trench"


def without_row(number: int, row: str) -> Break:
    return lambda data: data["exchange"][number]["what"].remove(row)


# rule: what makes it fire, what leaves it unknown; the sample as it is lets it rest.
CASES: dict[str, tuple[Break, Break]] = {
    TOLD: (told(DOWN, on=LATER), untold),
    TALK: (talk(on=date(2026, 12, 3)), talk(heard_by=None)),  # the work ends on 4 December
    RESCUER: (rescues("district", "district"), rescues("district", None)),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(exchange)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, unknown = CASES[rule]
    fired, blank = found(plan_with(fires), rule), found(plan_with(unknown), rule)

    assert worst(fired) is FAILS
    assert worst(blank) is UNKNOWN
    assert all(one.keys and one.settle_by for one in (*fired, *blank))
    assert worst(found(plan_with(nothing), rule)) is MEETS


@pytest.mark.parametrize("rule", CASES)
def test_one_employer_alone_is_asked_nothing(rule: str) -> None:
    assert found(plan_with(alone), rule) == []


@pytest.mark.parametrize("rule", CASES)
def test_under_the_law_of_the_samples_all_three_block(rule: str) -> None:
    fires, unknown = CASES[rule]

    assert any(one.blocks for one in found(plan_with(fires), rule))
    assert any(one.blocks for one in found(plan_with(unknown), rule))


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (told(DOWN, by=None), UNKNOWN),
        (told(UP, received_by=None), UNKNOWN),
        (told(UP, on=None), UNKNOWN),
        (told(UP, what=[]), UNKNOWN),
        (without_row(DOWN, "talk after the work"), UNKNOWN),
        (without_row(UP, "hazards met or made"), UNKNOWN),
        (told(DOWN, space=["valve-chamber"]), UNKNOWN),  # nothing of the wet well
        (told(DOWN, space=["wet-well", "valve-chamber"]), MEETS),
        (place(changed_on=date(2026, 11, 3)), FAILS),  # told on 2 November
        (place(changed_on=date(2026, 11, 2)), MEETS),
        (role("district", "contractor"), UNKNOWN),  # no host
        (third, UNKNOWN),
        (told(UP, what=["Programme  that it will follow", "HAZARDS met or made"]), MEETS),
    ],
)
def test_what_is_on_record_of_the_telling(change: Break, verdict: Verdict) -> None:
    assert worst(found(plan_with(change), TOLD)) is verdict


def test_a_row_that_is_lacking_is_named_with_its_words() -> None:
    row = "precautions taken for whoever works near"
    open_ones = [one for one in found(plan_with(without_row(DOWN, row)), TOLD) if one.open]

    assert {one.about for one in open_ones} == {
        "Ellerbrook Vale Drainage District to Marrowfield Vault Services"
    }
    assert all(row in one.outcome.because and f'"{row}"' in one.settle_by for one in open_ones)


def pairs(*breaks: Break, sample: str = TRENCH) -> list[tuple[str, str]]:
    plan = plan_with(*breaks, sample=sample)
    return [(one.giver.id, one.taker.id) for one in tellings(plan.spaces[0].scene)]


def test_in_construction_all_goes_by_way_of_the_controlling_contractor() -> None:
    assert pairs(third) == [
        ("district", "stonebridge"),
        ("stonebridge", "district"),
        ("stonebridge", "painters"),
        ("painters", "stonebridge"),
    ]


def test_without_a_controlling_contractor_the_host_is_the_hub() -> None:
    assert pairs(third, role("stonebridge", "contractor")) == [
        ("district", "stonebridge"),
        ("stonebridge", "district"),
        ("district", "painters"),
        ("painters", "district"),
    ]


def test_elsewhere_the_host_tells_each_contractor_itself() -> None:
    general = both(third, lambda data: data["plan"].update(profile="us-osha-gi"))

    assert ("district", "painters") in pairs(general)


def test_the_rule_set_says_by_whose_clause() -> None:
    """General industry: (c)(8) for the host, (c)(9) for the contractor."""
    limits = limits_for("us-osha-gi")
    duties = [limits.duty(f"exchange.{who}_informs") for who in ("host", "contractor")]
    well = [one for one in found(plan_with(nothing), TOLD) if one.space == "wet-well"]

    assert [one.source for one in well] == [one.source for one in duties if one]


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (both(rescues("district", "district"), rescues("marrowfield", "district")), MEETS),
        (both(leans(), both(rescues("district", "weir"), rescues("marrowfield", "weir"))), MEETS),
        (both(third, rescues("marrowfield", "marrowfield")), UNKNOWN),
    ],
)
def test_who_rescues_has_a_part(change: Break, verdict: Verdict) -> None:
    """Junia of the district is the caller of the wet well's or valve chamber's rescue."""
    assert worst(found(plan_with(change), RESCUER)) is verdict


def test_who_has_no_part_is_no_rescuer() -> None:
    def painters(data: dict[str, Any]) -> None:
        third(data)
        for one in data["employer"]:
            one["rescues"] = "painters"

    assert worst(found(plan_with(painters), RESCUER)) is FAILS


def test_the_page_shows_both_ways_and_what_is_wanted() -> None:
    view = view_of(plan_with(nothing))
    blank = view_of(plan_with(untold, talk(by=None)))

    assert [row[0].split(" to ")[0] for row in view.told.rows] == [
        "Ellerbrook Vale Drainage District",
        "Marrowfield Vault Services",
    ]
    assert view.told.rows[1][1].startswith("programme that it will follow; hazards met or made;")
    assert view.told.rows[1][2:] == ("2 Nov 2026", "Mirela Tarn, Junia Farrow")
    assert view.employers.rows[0][-1] == "Marrowfield Vault Services"
    assert view.debrief[0].text == (
        "4 Dec 2026: Mirela Tarn tells Junia Farrow what was met or made"
    )
    assert blank.told.rows[0][1].startswith("NO RECORD; wanted: that there are permit spaces")
    assert "NOT STATED tells" in blank.debrief[0].text


def test_a_record_of_some_spaces_says_which() -> None:
    rows = view_of(plan_with(told(DOWN, space=["wet-well"]))).told.rows

    assert rows[0][1].endswith("(only of Wet well 2)")
