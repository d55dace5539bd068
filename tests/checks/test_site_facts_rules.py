"""Rules on identity, place, entry route, hours, triggers and other work."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from broken_site_facts import (
    CASES,
    TRIGGER,
    B,
    C,
    alternate,
    both,
    hazards,
    here,
    history,
    other,
    person,
    plan_facts,
    reclassified,
    rig,
    shape,
    site,
    task,
    trigger,
    wind,
)
from broken_sites import ON, SAMPLES, WORST_FIRST, Break, found, plan_with, rules_of, space, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out
from pydantic import ValidationError

from planbuilder import render
from planbuilder.checks import RULES
from planbuilder.checks.arrangement import (
    entry_route,
    hours,
    issue,
    location,
    other_work,
    sketched,
    triggers,
)
from planbuilder.checks.arrangement.entry_route import check_route
from planbuilder.checks.arrangement.issue import check_review
from planbuilder.findings import Bind, Compared, Mark, Source, Verdict, Weight
from planbuilder.limits import limits_for
from planbuilder.pango import load_weasyprint
from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.load import declared_ids
from planbuilder.view.cards import attendant_card
from planbuilder.view.pages import view_of

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
WEIGHTS = {one.id: one.weight for one in RULES}


def seen(rule: str, change: Break) -> list[Any]:
    return found(plan_with(change, sample=CASES[rule].sample), rule)


def test_every_rule_is_here() -> None:
    modules = (entry_route, hours, issue, location, other_work, sketched, triggers)

    assert set(CASES) == rules_of(*modules) | {"plan/work-not-covered"}


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.fires])
def test_a_rule_fires(rule: str) -> None:
    change = CASES[rule].fires
    assert change is not None
    rows = seen(rule, change)

    assert worst(rows) is FAILS
    if WEIGHTS[rule] is Weight.BLOCKS:
        assert any(one.blocks for one in rows)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.unknown])
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    change = CASES[rule].unknown
    assert change is not None
    unknown = [one for one in seen(rule, change) if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys and all(one.keys) for one in unknown)
    assert all(one.blocks for one in unknown) or WEIGHTS[rule] is Weight.WARNS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    rows = [one for one in seen(rule, CASES[rule].rests) if one.space != "valve-chamber"]

    assert worst(rows) is MEETS


# ---- A01: issue and review ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (history(B, ("C", date(2026, 11, 3))), "revision C of 3 Nov 2026, after the issue"),
        (history(B, ("B", date(2026, 4, 1)), C), "revision B twice"),
        (history(C, B), "dates not in order"),
        (history(B), "ends with revision B; this is C"),
        (plan_facts(supersedes="EV-RP-0017 revision C"), "it supersedes itself"),
    ],
)
def test_a_history_that_does_not_lead_here_says_where(change: Break, words: str) -> None:
    assert words in str(found(plan_with(change), "plan/history-out-of-order"))


def test_nothing_is_asked_of_a_first_issue() -> None:
    change = plan_facts(history=None, supersedes=None)

    assert found(plan_with(change), "plan/history-out-of-order") == []


def test_a_review_to_come_is_none() -> None:
    change = plan_facts(programme_reviewed_on=date(2026, 11, 26))

    assert worst(found(plan_with(change), "plan/review-overdue")) is FAILS


def test_the_issue_of_the_plan_counts_as_a_review() -> None:
    """Issued on 4 December of last year it is good to the last day of work; the day before not."""
    for issued, verdict in ((date(2025, 12, 4), MEETS), (date(2025, 12, 3), FAILS)):
        change = plan_facts(issued=issued, history=None)
        assert worst(found(plan_with(change), "plan/review-overdue")) is verdict


@pytest.mark.parametrize(
    ("assessed", "verdict"),
    [(date(2023, 12, 4), MEETS), (date(2023, 12, 3), FAILS), (None, UNKNOWN)],
)
def test_an_assessment_lapses_where_a_rule_set_says_so(
    assessed: date | None, verdict: Verdict
) -> None:
    """Three years, as law has it in one country: asked as firmly as that law binds."""
    limits = limits_for("us-osha-gi")
    programme = limits.of("review.programme_months")
    three = replace(
        programme,
        key="review.assessment_months",
        quantity=replace(
            programme.quantity,
            value=36,
            source=Source(mark=Mark.READ, document="law", clause="1", bind=Bind.LAW),
        ),
    )
    profile = replace(limits.profile, limits={three.key: three})
    scene = plan_with(here(assessed_on=assessed)).spaces[0].scene
    (row,) = list(check_review(replace(scene, limits=replace(limits, profile=profile), known={})))

    assert (row.about, row.verdict, row.weight) == ("assessment", verdict, Weight.BLOCKS)


@pytest.mark.parametrize(
    ("changed", "assessed", "verdict"),
    [
        (date(2026, 10, 1), date(2026, 10, 1), MEETS),
        (date(2026, 10, 2), date(2026, 10, 1), FAILS),
        (date(2026, 11, 3), date(2026, 11, 4), FAILS),  # the plan was issued on the 2nd
        (date(2026, 11, 26), date(2026, 11, 27), FAILS),
        (date(2026, 10, 1), date(2026, 11, 26), FAILS),
    ],
)
def test_assessment_and_plan_come_after_the_last_change(
    changed: date, assessed: date, verdict: Verdict
) -> None:
    change = here(changed_on=changed, assessed_on=assessed)

    assert worst(found(plan_with(change), "plan/changed-since-assessed")) is verdict


def test_nothing_is_asked_of_a_space_that_has_not_changed() -> None:
    assert found(plan_with(), "plan/changed-since-assessed") == []


# ---- A02: does the rule set apply -----------------------------------------------------------


@pytest.mark.parametrize(
    ("sample", "work", "verdict"),
    [
        ("pump_station", ["general-industry"], MEETS),
        ("pump_station", ["construction"], FAILS),
        ("pump_station", ["general-industry", "mining"], FAILS),
        ("shored_trench", ["construction"], MEETS),
        ("shored_trench", ["construction", "excavation"], FAILS),
        ("shored_trench", ["underground-construction"], FAILS),
        ("shored_trench", ["diving"], FAILS),
    ],
)
def test_the_rule_set_says_which_work_it_leaves_out(
    sample: str, work: list[str], verdict: Verdict
) -> None:
    rows = found(plan_with(task(work=work), sample=sample), "plan/work-not-covered")

    assert worst(rows) is verdict


def test_construction_leaves_excavations_to_their_own_subpart() -> None:
    """29 CFR 1926.1201(b): subparts P, S and Y."""
    rows = found(
        plan_with(task(work=["excavation"]), sample="shored_trench"), "plan/work-not-covered"
    )

    assert all(f"subpart {one}" in str(rows) for one in "PSY")


def test_the_kind_of_work_is_asked_for_only_beside_shoring() -> None:
    assert found(plan_with(), "plan/work-not-covered") == []


# ---- A03: the place -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (site(position=None), "site.coordinates"),
        (site(muster=None), "site.muster"),
        (site(escort=None), "site.escort"),
        (person("corwin", phone=None), "person.corwin.phone"),
    ],
)
def test_what_a_stranger_lacks_is_named(change: Break, key: str) -> None:
    row = found(plan_with(change), "plan/place-not-found")[0]

    assert (row.verdict, row.keys) == (UNKNOWN, (key,))


def test_coordinates_stand_for_a_position_and_are_printed() -> None:
    plan = plan_with(site(position=None, coordinates=[-33.5, 151.25]))

    assert worst(found(plan, "plan/place-not-found")) is MEETS
    assert "33.5 S, 151.25 E" in {one.text for one in view_of(plan).where}


@pytest.mark.parametrize(
    "wrong",
    [[90.01, 0.0], [0.0, -180.5], [51.5], [51.5, 0.1, 3.0], ["51.5", "0.1"], [float("nan"), 0.0]],
)
def test_coordinates_off_the_earth_are_refused(wrong: list[Any]) -> None:
    data = tomllib.loads((SAMPLES / "pump_station.toml").read_text(encoding="utf-8"))
    site(coordinates=wrong)(data)

    with pytest.raises(ValidationError, match="coordinates"):
        Site.model_validate(data, context=FileIds(declared_ids(data)))


@pytest.mark.parametrize(
    "change",
    [
        site(emergency_number="the brigade"),
        site(call_back="control room"),
        plan_facts(competent_person_phone="-"),
        person("tobiah", phone="by voice"),
        person("corwin", phone="ask at the gate"),
        lambda data: data["employer"][0].update(phone="see list"),
    ],
)
def test_a_number_without_digits_blocks(change: Break) -> None:
    assert any(one.blocks for one in found(plan_with(change), "plan/phone-without-number"))


# ---- A04: entry route -----------------------------------------------------------------------


def test_a_height_position_has_no_entry_route() -> None:
    assert found(plan_with(sample="transformer_deck"), "plan/entry-route-unknown") == []


def test_a_rule_set_that_knows_no_routes_asks_for_none() -> None:
    scene = plan_with().spaces[0].scene
    profile = replace(scene.limits.profile, entry_routes=())
    unknowing = replace(scene, limits=replace(scene.limits, profile=profile))

    assert list(check_route(unknowing)) == []


@pytest.mark.parametrize(
    "kind",
    ["drowning", "engulfment", "wedged", "mechanical-injury", "heat", "cold-water", "suspension"],
)
def test_the_alternate_route_bears_no_hazard_but_the_air(kind: str) -> None:
    """29 CFR 1910.146(c)(5)(i)(A)."""
    (row,) = found(plan_with(alternate("hydrogen-sulfide", kind)), "plan/alternate-route-hazard")

    assert row.blocks
    assert kind.replace("-", " ") in str(row.outcome)
    assert "(c)(5)(i)(A)" in row.source.clause


def test_a_plan_by_the_alternate_route_says_so_and_what_that_lifts() -> None:
    plan = plan_with(alternate("hydrogen-sulfide"))
    (row,) = found(plan, "plan/alternate-route-hazard")
    facts = {one.label: one.text for one in view_of(plan).spaces[0].facts}

    assert facts["Entry route"] == "alternate-c5"
    assert "alternate-c5" in str(row.outcome)
    assert "(h) to (k) are then lifted" in str(row.outcome)


@pytest.mark.parametrize(
    "kind", ["hydrogen-sulfide", "oxygen-deficiency", "flammable-gas", "inert-gas"]
)
def test_bad_air_is_never_eliminated_by_saying_so(kind: str) -> None:
    """29 CFR 1910.146(c)(7): air held good by ventilation is controlled, not eliminated."""
    (row,) = found(plan_with(reclassified(kind, eliminated=True)), "plan/reclassified-hazard")

    assert row.verdict is FAILS


def test_what_people_bring_along_stays_in_no_space() -> None:
    rows = found(plan_with(reclassified("medical-collapse")), "plan/reclassified-hazard")

    assert worst(rows) is MEETS


@pytest.mark.parametrize(
    ("route", "weight"),
    [
        ("full-permit", Weight.WARNS),
        ("alternate-c5", Weight.BLOCKS),
        ("reclassified-c7", Weight.BLOCKS),
    ],
)
def test_whoever_spares_a_full_permit_signs_for_it(route: str, weight: Weight) -> None:
    change = here(entry_route=route, assessed_by=None)
    row = found(plan_with(change), "plan/assessment-not-signed")[0]

    assert (row.verdict, row.weight) == (UNKNOWN, weight)


# ---- A06: sketch ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "name"),
    [
        (shape(depth=None), "depth"),
        (shape(inside_width=None), "inside width"),
        (rig(hook_height=None), "hook height"),
        (rig(block=None), "block and connector"),
        (rig(attachment=None), "attachment"),
    ],
)
def test_what_the_drawing_guesses_is_what_the_finding_names(change: Break, name: str) -> None:
    plan = plan_with(change)
    row = found(plan, "plan/sketch-not-to-scale")[0]
    drawing = view_of(plan).spaces[0].drawings[0]

    assert row.verdict is UNKNOWN
    assert name in str(row.outcome)
    assert name in str(drawing)


# ---- A07: days and hours --------------------------------------------------------------------


def test_a_plan_read_on_the_last_day_of_work_is_still_one() -> None:
    for on, verdict in ((date(2026, 12, 4), MEETS), (date(2026, 12, 5), FAILS)):
        rows = found(plan_with(on=on), "plan/work-is-over")
        assert {one.verdict for one in rows if one.space == "wet-well"} == {verdict}


def test_hours_are_asked_of_entries_only() -> None:
    assert found(plan_with(sample="transformer_deck"), "plan/hours-not-stated") == []


@pytest.mark.parametrize("permit", ["3 h", "4 h", "100 h"])
def test_the_printed_formulas_give_the_results(permit: str) -> None:
    plan = plan_with(both(task(permit_for=permit), wind("12 m/s", "11 m/s")))
    rows = [one.outcome for one in plan.findings if one.rule.id in CASES]
    compared = [one for one in rows if isinstance(one, Compared)]

    assert len(compared) == 3
    for one in compared:
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


NO_TRIGGER = here(trigger=[])

# ---- A13: triggers --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (NO_TRIGGER, "water can come in"),
        (both(hazards("engulfment"), NO_TRIGGER), "something can flow in"),
        (both(here(traffic={"lane": "lane-open"}), NO_TRIGGER), "traffic passes"),
        (both(here(nearby=[{"name": "Truck", "kind": "exhaust"}]), NO_TRIGGER), "others work"),
        (both(wind("12 m/s", None), NO_TRIGGER), "wind blows"),
    ],
)
def test_the_data_of_the_space_make_one_ask(change: Break, words: str) -> None:
    row = found(plan_with(change), "plan/trigger-not-stated")[0]

    assert row.verdict is UNKNOWN
    assert words in str(row.outcome)


def test_where_nothing_comes_from_outside_nothing_is_asked() -> None:
    plan = plan_with(both(hazards("mechanical-injury"), here(trigger=[])))

    assert [one for one in found(plan, "plan/trigger-not-stated") if one.space == "wet-well"] == []


def test_on_a_height_the_wind_is_asked_for() -> None:
    plan = plan_with(here(trigger=[]), sample="transformer_deck")

    assert "wind" in str(found(plan, "plan/trigger-not-stated"))


def test_a_trigger_that_answers_another_question_does_not_do() -> None:
    rows = found(plan_with(trigger(kind="lightning")), "plan/trigger-not-stated")

    assert worst(rows) is UNKNOWN


def test_the_stop_rules_stand_on_the_attendants_card() -> None:
    plan = plan_with(here(trigger=[TRIGGER]))
    card = attendant_card(plan, plan.spaces[0])

    assert card.stops == "flood: water over the sill (Junia Farrow watches)"


def test_a_stop_rule_that_finds_no_room_on_the_card_is_named_and_stands_with_the_space() -> None:
    long = {**TRIGGER, "stop_at": "w" * 150}
    plan = plan_with(here(trigger=[long, {**long, "kind": "wind"}, {**TRIGGER, "kind": "dust"}]))
    card = attendant_card(plan, plan.spaces[0])
    facts = {one.label: one.text for one in view_of(plan).spaces[0].facts}

    assert card.stops.startswith(f"flood: {'w' * 150} (Junia Farrow watches); ")
    assert card.stops.endswith("as written on the page of the space: wind, dust")
    assert facts["Outside, everybody out at"].count("w" * 150) == 2


@pytest.mark.parametrize("sample", ["pump_station", "shored_trench"])
@pytest.mark.parametrize("ready", [True, False], ids=["ready", "not ready"])
def test_with_every_stop_rule_the_card_is_still_one_side(sample: str, ready: bool) -> None:
    """Six long ones, on the shorter paper: a rule more than there is room for is only named."""
    kinds = ("flood", "wind", "lightning", "traffic", "dust", "process-release")
    long = {"stop_at": "water over the upper sill, or near it, or rising", "watched_by": "tobiah"}
    road = {"lane": "road-closed"} if ready else {}
    rules = here(trigger=[{"kind": one, **long} for one in kinds], traffic=road)
    plan = plan_with(rules, sample=sample)
    assert bool(plan.blocking) is not ready
    head, _, body = render.to_html(view_of(plan, "letter")).partition("<body")
    card = re.search(r'<section class="page card attendant.*?</section>', body, flags=re.DOTALL)
    weasyprint = load_weasyprint()
    fonts, sheet = render._style(weasyprint)

    assert card
    document = weasyprint.HTML(
        string=f"{head}<body{body.partition('>')[0]}>{card[0]}</body></html>",
        base_url=render.templates_folder().as_uri() + "/",
        url_fetcher=render._local_fetcher(weasyprint),
    ).render(stylesheets=[sheet], font_config=fonts)

    assert len(document.pages) == 1


# ---- A14: other work ------------------------------------------------------------------------


def test_one_employer_needs_nobody_to_keep_it_apart() -> None:
    def alone(data: dict[str, Any]) -> None:
        data["employer"] = [one for one in data["employer"] if one["id"] == "district"]
        data["employer"][0].pop("rescues")
        data.pop("exchange")
        for one in data["person"]:
            one.pop("employer", None)
        site(coordinator=None)(data)
        for number in (0, 1):
            space(data, number).pop("other_work")

    plan = plan_with(alone)

    assert found(plan, "plan/no-coordinator") == []
    assert found(plan, "plan/other-work-not-stated") == []


def test_a_controlling_contractor_co_ordinates() -> None:
    """29 CFR 1926.1203(h)(4)."""
    rows = found(plan_with(sample="shored_trench"), "plan/no-coordinator")

    assert worst(rows) is MEETS
    assert "Stonebridge Groundworks, controlling contractor" in str(rows)
    assert rows[0].source.document == "29 CFR 1926.1203"


def test_two_employers_without_a_co_ordinator_block() -> None:
    plan = plan_with(site(coordinator=None))

    assert all(one.blocks for one in found(plan, "plan/no-coordinator"))
    assert plan.status == "NOT READY"


@pytest.mark.parametrize(
    ("values", "asked"),
    [
        ({"starts": date(2026, 12, 5), "ends": None}, False),
        ({"starts": date(2026, 12, 4), "ends": None}, True),
        ({"starts": None, "ends": date(2026, 11, 29)}, False),
        ({"starts": None, "ends": date(2026, 11, 30)}, True),
        ({"starts": None, "ends": None}, True),
    ],
)
def test_other_work_of_another_week_is_no_question(values: dict[str, Any], asked: bool) -> None:
    rows = found(plan_with(other(**values)), "plan/other-work-uncontrolled")

    assert bool(rows) is asked


def test_work_that_makes_nothing_needs_no_control() -> None:
    rows = found(plan_with(other(makes=[], control=None)), "plan/other-work-uncontrolled")

    assert worst(rows) is MEETS


def test_other_work_is_printed_with_whose_it_is() -> None:
    facts = {one.label: one.text for one in view_of(plan_with(other())).spaces[0].facts}

    assert (
        "Painting of the canopy, Ellerbrook Vale Drainage District, Junia Farrow"
        in (facts["Other work"])
    )


# ---- worse never helps ----------------------------------------------------------------------

WORSE: dict[str, tuple[Callable[[float], Break], float, float]] = {
    "stronger wind before the work stops": (lambda v: wind("12 m/s", f"{v:.3f} m/s"), 1, 40),
    "support good for less wind": (lambda v: wind(f"{41 - v:.3f} m/s", "12 m/s"), 1, 40),
    "permit that lasts longer": (lambda v: task(permit_for=f"{v:.3f} h"), 3.5, 160),
    "permit that ends sooner": (lambda v: task(permit_for=f"{90 - v:.3f} h"), 1, 89),
    "older review": (
        lambda v: plan_facts(programme_reviewed_on=date.fromordinal(ON.toordinal() - int(v))),
        0,
        900,
    ),
    "later change": (
        lambda v: here(changed_on=date.fromordinal(date(2026, 1, 1).toordinal() + int(v))),
        0,
        400,
    ),
}


@pytest.mark.parametrize("name", WORSE)
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_worse_data_never_help(name: str, data: st.DataObject) -> None:
    setter, low, high = WORSE[name]
    pair = data.draw(st.tuples(st.floats(low, high), st.floats(low, high)))
    less, more = (plan_with(setter(value)) for value in sorted(pair))

    for rule in CASES:
        before, after = found(less, rule), found(more, rule)
        if before and after:
            assert WORST_FIRST.index(worst(after)) <= WORST_FIRST.index(worst(before))
