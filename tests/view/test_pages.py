"""From plan to words: nothing is lost on the way, and nothing is added."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import pytest
from broken_haul import put
from broken_sites import plan_with

from planbuilder.findings import Compared, Mark, Source, Verdict
from planbuilder.plan import NOT_READY, READY
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import InputRow
from planbuilder.view.pages import view_of
from planbuilder.view.words import SHAPES, outcome_text, source_text

SAMPLES = ["pump_station", "storage_tank", "call_and_wait", "half_measured"]


@pytest.fixture(params=SAMPLES)
def plan(request, sample_plan):
    """The plan of a sample."""
    return sample_plan(request.param)


def parts(value: object) -> Iterator[object]:
    """Every value below a view, however deep."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for one in dataclasses.fields(value):
            yield from parts(getattr(value, one.name))
    elif isinstance(value, tuple):
        for each in value:
            yield from parts(each)
    else:
        yield value


def input_rows(view: object) -> Iterator[InputRow]:
    """Every row of numbers put into a formula."""
    if isinstance(view, InputRow):
        yield view
    elif dataclasses.is_dataclass(view) and not isinstance(view, type):
        for one in dataclasses.fields(view):
            yield from input_rows(getattr(view, one.name))
    elif isinstance(view, tuple):
        for each in view:
            yield from input_rows(each)


def test_templates_get_words_and_nothing_to_compute_with(plan):
    numbers = [one for one in parts(view_of(plan)) if not isinstance(one, str | bool)]

    assert numbers == []


def test_every_finding_stands_once_on_the_calculation_pages_of_its_space(plan):
    for space, view in zip(plan.spaces, view_of(plan).spaces, strict=True):
        answers = [
            one
            for area in view.areas
            for one in (*(calc.answer for calc in area.calculations), *area.statements)
        ]

        assert sorted((one.rule, one.verdict, one.title) for one in answers) == sorted(
            (one.rule.id, one.verdict.value, one.rule.title) for one in space.findings
        )


def test_every_answer_has_an_id_of_its_own(plan):
    view = view_of(plan)
    ids = [one.id for one in view.open_findings] + [
        one.id
        for space in view.spaces
        for area in space.areas
        for one in (*(calc.answer for calc in area.calculations), *area.statements)
    ]

    assert len(ids) == len(set(ids))


def test_the_open_findings_are_listed_in_the_order_of_repair(plan):
    listed = [(one.rule, one.verdict, one.settle) for one in view_of(plan).open_findings]

    assert listed == [
        (one.rule.id, one.verdict.value, one.settle_by)
        for one in plan.findings
        if one.verdict is not Verdict.MEETS
    ]


def test_a_verdict_is_a_word_and_a_shape_of_its_own(plan):
    assert len(set(SHAPES.values())) == len(Verdict)
    for one in view_of(plan).open_findings:
        assert one.shape == SHAPES[Verdict(one.verdict)]


def test_status_and_counts_stand_on_the_cover_as_the_plan_has_them(plan):
    view = view_of(plan)
    blocking = sum(one.blocks for one in plan.findings)
    look = sum(one.open and not one.blocks for one in plan.findings)
    met = sum(one.verdict is Verdict.MEETS for one in plan.findings)

    assert view.status == (NOT_READY if blocking else READY)
    assert view.ready is (blocking == 0)
    assert view.counts == f"{blocking} blocking, {look} to look at, {met} met"


def test_a_limit_from_memory_says_so_wherever_it_decides(sample_plan):
    """Some limits of the construction rules are written from memory."""
    plan = sample_plan("shored_trench")
    decided = {
        f"{space.scene.space.id}-{number}"
        for space in plan.spaces
        for number, one in enumerate(space.findings, 1)
        if isinstance(one.outcome, Compared) and one.outcome.limit.source.mark is Mark.RECALLED
    }
    areas = [area for space in view_of(plan).spaces for area in space.areas]

    printed = {one.id: one.source for area in areas for one in area.statements}
    printed |= {one.answer.id: one.limit_source for area in areas for one in area.calculations}

    assert decided
    for number in decided:
        assert "recalled" in printed[number]


def test_every_default_that_was_put_into_a_formula_is_listed(plan):
    view = view_of(plan)
    used = {
        row.source.removeprefix("default ").partition(",")[0]
        for row in input_rows(view)
        if row.default
    }

    assert used - {row[0] for row in view.defaults.rows} == set()


def test_every_document_behind_a_default_or_a_finding_is_listed(plan):
    view = view_of(plan)
    sources = [plan.defaults.of(row[0]).source for row in view.defaults.rows]
    for one in plan.findings:
        sources.append(one.source)
        if isinstance(one.outcome, Compared):
            sources += [each.source for each in (*one.outcome.inputs, one.outcome.limit)]

    listed = {row[0] for row in view.documents.rows}

    assert {one.document for one in sources} - {""} - listed == set()


@pytest.mark.parametrize(
    ("in_file", "asked", "paper"),
    [
        ("", None, "letter"),
        ('\npaper = "a4"', None, "a4"),
        ("", "a4", "a4"),
        ('\npaper = "a4"', "letter", "letter"),
    ],
)
def test_paper_is_asked_for_or_named_in_the_file_or_goes_by_rule_set(
    planned, in_file, asked, paper
):
    plan = planned("half_measured", ('profile = "us-osha-gi"', f'profile = "us-osha-gi"{in_file}'))

    assert view_of(plan, asked).paper == paper


@pytest.mark.parametrize(
    ("in_file", "depth"),
    [("", "21.00 ft (6.40 m)"), ('\nunits = "si"', "6.40 m (21.00 ft)")],
)
def test_the_readers_units_come_first(planned, in_file, depth):
    swap = ('profile = "us-osha-gi"', f'profile = "us-osha-gi"{in_file}')

    view = view_of(planned("pump_station", swap))

    assert view.space_table.rows[0][1] == depth
    assert any(depth in text.text for text in view.spaces[0].drawings[0].texts)


def test_the_cover_says_how_long_the_plan_holds_and_for_which_day_it_was_checked(sample_plan):
    view = view_of(sample_plan("pump_station"))
    facts = {one.label: one.text for one in view.which}

    assert facts["Issued"] == "2 Nov 2026, valid until 30 Apr 2027"
    assert facts["Checked for"] == "25 Nov 2026"
    assert view.valid_until == "30 Apr 2027"


def test_the_equipment_list_holds_every_item_and_says_what_is_not_stated(planned):
    kept = '\nkept_at = "Crew truck, left locker"'

    rows = view_of(planned("pump_station", (kept, ""))).equipment.rows

    assert len(rows) == 2 + 1 + 5 + 9  # supports, devices, other equipment of the sample
    harness = next(row for row in rows if row.head == "6 x Harnesses nos. 1 to 6")
    texts = tuple(cell.text for cell in harness.cells)
    assert texts[1:] == ("MV-H-001 to 006", "NOT STATED", "5 Oct 2026", "5 Apr 2027", "", "")
    assert [cell.tick for cell in harness.cells[-2:]] == [
        "kit/item/harness/here",
        "kit/item/harness/sound",
    ]


def test_the_crew_list_says_every_part_that_a_person_plays(sample_plan):
    rows = {row[0]: row[1] for row in view_of(sample_plan("pump_station")).crew.rows}

    assert rows["Ines Holloway"] == (
        "Wet well 2: haul (primary), haul (fallback); "
        "Valve chamber 2A: haul (primary), medic (fallback)"
    )
    assert rows["Junia Farrow"] == (
        "Wet well 2: watches for flood, watches for weather; Valve chamber 2A: caller (fallback)"
    )


def test_the_crew_list_says_who_has_no_part(planned):
    plan = planned("pump_station", ('escort = "corwin"', 'escort = "junia"'))

    rows = {row[0]: row[1] for row in view_of(plan).crew.rows}

    assert rows["Corwin Hale"] == "not in a rescue"


def test_the_notice_names_who_decided_and_who_did_not(sample_plan):
    ready = dict(view_of(sample_plan("pump_station")).notice)["Who decided."]
    not_ready = dict(view_of(sample_plan("call_and_wait")).notice)["Who decided."]

    assert "Wet well 2: Osric Vane on 2 Nov 2026" in ready
    assert "Meter vault C: NOBODY YET" in not_ready


def test_every_notice_defers_to_local_rules_and_names_whom_to_ask(plan):
    words = " ".join(text for _, text in view_of(plan).notice)

    for said in ("authority having jurisdiction", "equipment maker", "licensed practice"):
        assert said in words
    assert plan.site.plan.competent_person in words
    assert "no permit, no approval and no certificate" in words


def test_an_outcome_in_words_has_both_figures_the_relation_and_the_limit(sample_plan):
    plan = sample_plan("call_and_wait")
    found = next(one for one in plan.findings if one.rule.id == "haul/line-too-short")

    # 20 ft is 6.096 m, rounded down.
    assert outcome_text(found, UnitSystem.US).endswith(
        "; at most 20.00 ft (6.09 m), line on Yard hoist"
    )


@pytest.mark.parametrize(
    ("source", "text"),
    [
        (Source.site("space.x.depth"), "site file: space.x.depth"),
        (Source(mark=Mark.READ, document="EN 547-1", clause="4"), "EN 547-1 4"),
        (Source(mark=Mark.RECALLED, document="EN 547-1"), "EN 547-1, recalled, unverified"),
        (Source(mark=Mark.CHOICE), "default of this tool"),
        (Source(mark=Mark.CHOICE, key="stature"), "default stature"),
        (Source(mark=Mark.RECALLED, key="stature"), "default stature, recalled, unverified"),
        (Source.derived("a + b"), "derived, a + b"),
        (
            Source(mark=Mark.SITE, key="stature", note="measured (A, 2 Nov 2026)"),
            "changed from default stature: measured (A, 2 Nov 2026)",
        ),
    ],
)
def test_a_source_in_words_says_document_mark_and_note(source, text):
    assert source_text(source) == text


def test_a_service_says_everything_or_that_it_is_not_stated(sample_plan, planned):
    tank = view_of(sample_plan("storage_tank")).services[0]
    agreed, comes = ({one.label: one.text for one in rows} for rows in (tank.agreed, tank.comes))

    assert tank.name == "Ellerbrook Vale Ambulance (public)"
    assert agreed["Told of hazards"] == "12 Nov 2026"
    assert agreed["Agreed"] == "NO RECORD"
    assert agreed["Reports when away"] == agreed["Called each shift"] == "not stated"
    assert comes == {
        "Based at": "Quernby station, Mill Street",
        "Turn-out takes": "2 min",
        "Drive takes": "8 min 20 s, on 12 Nov 2026",
        "Walk-in takes": "1 min 30 s",
        "Equipped for": "not stated",
    }
    assert "Takes over at the landing table" in tank.notes

    swap = (
        'turn_out = "2 min"',
        'turn_out = "2 min"\nreports_unavailability = false\ncalled_each_shift = true\n'
        'capable_of = ["confined-space"]\nconfirmed_on = 2026-11-12\nagreed_on = 2026-11-01\n'
        'agreed_by = "Liv Ambry"',
    )
    full = view_of(planned("storage_tank", swap)).services[0]
    said = {one.label: one.text for one in (*full.agreed, *full.comes)}

    assert said["Reports when away"] == "NO"
    assert said["Called each shift"] == "yes"
    assert said["Agreed"] == "1 Nov 2026, Liv Ambry"
    assert said["Equipped for"] == "confined space, in writing 12 Nov 2026"


def test_the_way_in_and_out_is_printed_stretch_by_stretch(sample_plan):
    """22 ft is 6.7056 m; 0.5 m/s is 98.4 ft/min."""
    rows = view_of(sample_plan("storage_tank")).spaces[0].route.rows

    assert rows[1] == (
        "Through the manway, over the sill, 2 ft down to the floor",
        "5.00 ft (1.52 m)",
        "crawl in set, 10 s held up",
        "drag, 1 min 30 s held up",
    )
    assert rows[2][1:] == (
        "22.00 ft (6.71 m)",
        "walk, at 98.4 ft/min (30.0 m/min)",
        "drag",
    )
    assert view_of(sample_plan("pump_station")).spaces[0].route.rows == ()


def test_a_manway_in_the_side_is_not_said_to_be_deep(sample_plan):
    view = view_of(sample_plan("storage_tank"))
    facts = {one.label: one.text for one in view.spaces[0].facts}

    assert view.space_table.rows[0][1] == (
        "entered from the side, floor 24.0 in (610 mm) below the sill"
    )
    assert facts["Opening"] == "round, 30 in, entered from the side, floor 2 ft below the sill"


def test_a_manway_in_the_side_gets_no_section_of_a_shaft(planned):
    side = ("[space.opening]", "[space.opening]\nfrom_side = true")

    view = view_of(planned("pump_station", side))

    titles = [[one.title for one in space.drawings] for space in view.spaces]
    assert not any(one.startswith("Section of") for one in titles[0])
    assert any(one.startswith("Manway of") for one in titles[0])
    assert sum(one.startswith("Section of") for one in titles[1]) == 1


def test_a_space_without_a_line_has_no_haul_area_and_loses_no_finding(sample_plan):
    tank = view_of(sample_plan("storage_tank")).spaces[0]
    well = view_of(sample_plan("pump_station")).spaces[0]

    assert tank.chains == ()
    assert [one.title for one in tank.areas] == [
        "Response time",
        "Clearance",
        "Arrangement and records",
    ]
    assert tank.areas[-1].statements[0].rule == "haul/casualty-mass-assumed"
    assert well.areas[0].title == "Haul capacity"


def test_no_two_statements_of_a_space_read_the_same(sample_plan):
    """The way, step or gas that a row is about stands beside its title."""
    for area in view_of(sample_plan("storage_tank")).spaces[0].areas:
        rows = [(one.title, one.part, one.found) for one in area.statements]

        assert len(rows) == len(set(rows))


@pytest.mark.parametrize(
    ("serial", "is_long"),
    [("MV-W-004", False), ("0.000024999999999999998", False), ("W" * 25, True), ("7" * 25, True)],
)
def test_only_words_break_the_columns_and_no_number_does(serial, is_long):
    """25 ppm is 0.000024999999999999998 as data: 22 characters that nobody prints."""
    plan = plan_with(put("device", "winch-2", serial=serial), sample="grain_terminal")

    assert view_of(plan).has_long_words is is_long


def test_the_crew_list_names_escort_watchers_and_who_holds_keys(sample_plan):
    rows = {row[0]: row[1] for row in view_of(sample_plan("borough_culvert")).crew.rows}

    assert rows["Brenna Oakes"] == "escort"
    assert rows["Wilf Naylor"] == (
        "Hobbin Beck culvert at chamber 4: watches for flood, watches for weather, keys"
    )


def test_a_set_point_at_the_limit_has_nothing_to_spare():
    plan = plan_with(
        lambda data: data["space"][0]["set_points"].update(oxygen_high="23 %"),
        sample="grain_terminal",
    )
    one = next(o for o in plan.findings if o.about == "most oxygen")

    assert one.verdict is Verdict.MARGINAL
    assert outcome_text(one, UnitSystem.SI).endswith("; nothing to spare")
