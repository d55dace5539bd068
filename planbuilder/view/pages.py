"""Plan to PlanView: every page of the document, in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.timing.postures import posture_words
from planbuilder.findings import Compared, Quantity, Unit
from planbuilder.plan import READY, Plan, SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.site.people import Person
from planbuilder.site.space import Space
from planbuilder.view.air_tests import air_tests
from planbuilder.view.cards import attendant_card, leader_card
from planbuilder.view.chain import chains
from planbuilder.view.contents import contents
from planbuilder.view.elements import elements_table
from planbuilder.view.exchange import debrief_facts, employers_table, exchange_signed, told_table
from planbuilder.view.form import Form, form
from planbuilder.view.go import go_view
from planbuilder.view.in_force import limits_in_force
from planbuilder.view.isolation import isolation_table
from planbuilder.view.kit import after_form, communication_form, equipment_form, equipment_signed
from planbuilder.view.model import Fact, PlanView, SpaceView, Table
from planbuilder.view.notices import (
    USUAL_CAUTIONS,
    estimates,
    long_notice,
    overlays_text,
    short_notice,
)
from planbuilder.view.numbers import amount, half_minutes
from planbuilder.view.outside import route_table, service_view
from planbuilder.view.pocket import pocket_cards
from planbuilder.view.prose import prose
from planbuilder.view.records import debrief_sheet, drill_record
from planbuilder.view.report import summary, units_of
from planbuilder.view.role_steps import role_steps
from planbuilder.view.scenarios import scenario_table
from planbuilder.view.sheets import answer, areas, shared_inputs, sheet_ids
from planbuilder.view.sign_off import people_facts, sign_off
from planbuilder.view.sketched import bases, drawings
from planbuilder.view.surroundings import coordinates_text, surroundings
from planbuilder.view.timelines import timeline_view
from planbuilder.view.words import (
    depth_text,
    document_id,
    is_default,
    quantity_text,
    source_text,
)

# A word that no column of a table can hold; a hyphen is a place to break.
_LONG_WORD = re.compile(r'[^\s"\\-]{25}')
_JSON_TEXT = re.compile(
    r'"(?:[^"\\]|\\.)*"'
)  # a number has more digits than a column, and is rounded


def view_of(plan: Plan, paper: str | None = None) -> PlanView:
    """The whole plan in words; *paper* overrides site file and profile."""
    system, facts, site = units_of(plan), plan.site.plan, plan.site.site
    own_paper = facts.paper.value if facts.paper else plan.limits.profile.paper
    on_paper = paper or own_paper
    open_findings = [one for one in plan.findings if one.open]
    sheets = {number: place for one in plan.spaces for number, place in sheet_ids(one).items()}
    spaces = tuple(_space_view(plan, one, system, on_paper) for one in plan.spaces)
    documents = _documents(plan)
    return PlanView(
        language="en",
        paper=on_paper,
        title=facts.title,
        number=facts.number,
        revision=facts.revision,
        status=plan.status,
        ready=plan.status == READY,
        counts=summary(plan)[0].partition(": ")[2],
        hash=plan.content_hash,
        hash_short=plan.content_hash[:12],
        valid_until=day_text(facts.valid_until),
        on=day_text(plan.on),
        profile=plan.limits.profile.title,
        short_notice=short_notice(plan),
        has_long_words=_has_long_words(plan),
        author=facts.author,
        where=_where(plan),
        which=_which(plan),
        directions=prose(site.directions),
        cautions=tuple(
            (label, prose(text))
            for label, text in (("Overhead", site.overhead), ("Traffic", site.traffic))
            if text
        ),
        space_table=_space_table(plan, system),
        history=Table(
            ("Revision", "Date", "Change"),
            tuple((one.revision, day_text(one.on), one.change) for one in facts.history),
        ),
        signatures=_signatures(plan),
        spaces=spaces,
        contents=contents(spaces),
        crew=_crew(plan),
        sign_off=sign_off(plan),
        certificates=_certificates(plan),
        equipment=equipment_form(plan),
        equipment_signed=equipment_signed(),
        inspection_records=facts.inspection_records or "",
        after=after_form(plan),
        services=tuple(service_view(one, system) for one in plan.site.service),
        drills=_drills(plan),
        employers=employers_table(plan),
        told=told_table(plan),
        exchanged=exchange_signed(plan),
        debrief=debrief_facts(plan),
        open_findings=tuple(
            answer(one, f"open-{number}", system, sheets[id(one)])
            for number, one in enumerate(open_findings, 1)
        ),
        met=f"{len(plan.findings) - len(open_findings)} findings are met; they stand with their "
        "numbers on the calculation pages of each space.",
        defaults=_defaults(plan, system),
        limits=limits_in_force(plan.limits),
        elements=elements_table(plan),
        overrides=Table(
            ("What", "New value", "Reason", "By", "On"),
            tuple(
                (o.what, o.value or "accepted", o.reason, o.by, day_text(o.on))
                for o in plan.site.override
            ),
        ),
        estimates=estimates(plan),
        notice=long_notice(plan),
        usual_cautions=USUAL_CAUTIONS,
        documents=documents,
        document_ids=tuple(document_id(row[0]) for row in documents.rows),
    )


def _signatures(plan: Plan) -> Form:
    rows = (
        ("author", ("Author", plan.site.plan.author)),
        ("approver", ("Approver", plan.site.plan.approver)),
        ("host", ("Host employer",)),
        ("leader", ("Rescue leader",)),
    )
    return form("signed", ("For", "Name", "Signature", "Date"), rows)


def _has_long_words(plan: Plan) -> bool:
    texts = _JSON_TEXT.findall(plan.site.model_dump_json())
    return any(_LONG_WORD.search(one) for one in texts)


def _where(plan: Plan) -> tuple[Fact, ...]:
    site = plan.site.site
    escort = _name(plan, site.escort)
    return _facts(
        ("Site", site.name),
        ("Operator", site.operator),
        ("Address", f"{site.address}, {site.country}"),
        ("Position", site.position),
        ("Coordinates", coordinates_text(site.coordinates)),
        ("Gate", site.gate),
        ("Escort", escort),
        ("Co-ordinates the work", _name(plan, site.coordinator)),
        ("Muster point", site.muster),
        ("Landing place", site.landing_place),
    )


def _name(plan: Plan, person_id: str | None) -> str | None:
    return next((one.name for one in plan.site.person if one.id == person_id), None)


def _which(plan: Plan) -> tuple[Fact, ...]:
    site, facts, profile = plan.site.site, plan.site.plan, plan.limits.profile
    return _facts(
        ("Emergency", site.emergency_number),
        ("Call back", site.call_back),
        ("Hospital", site.hospital),
        ("Programme reviewed", _day(facts.programme_reviewed_on)),
        ("Issued", f"{day_text(facts.issued)}, valid until {day_text(facts.valid_until)}"),
        ("Supersedes", facts.supersedes),
        ("Rule set", f"{profile.title}, version {profile.version}"),
        ("Overlays", overlays_text(plan)),
        ("Checked for", day_text(plan.on)),
        ("Competent person", f"{facts.competent_person}, {facts.competent_person_phone}"),
    )


def _day(day: date | None) -> str | None:
    return day_text(day) if day else None


def _facts(*rows: tuple[str, str | None]) -> tuple[Fact, ...]:
    return tuple(Fact(label, text) for label, text in rows if text)


def _space_table(plan: Plan, system: UnitSystem) -> Table:
    rows = []
    for space in plan.spaces:
        facts, way = space.scene.space, next(space.scene.ways())
        clock = space.timelines[0].clock("air") if space.timelines else None
        open_count = sum(one.blocks for one in space.findings)
        rows.append(
            (
                f"{facts.name} ({facts.sign})",
                _how_far_down(space, system),
                f"{way.method.method}, {way.method.posture}".replace("-", " "),
                half_minutes(clock.slow_s) if clock else "no clock",
                f"{open_count} blocking" if open_count else "none blocking",
            )
        )
    heads = ("Space", "Depth or height", "Primary method", "Allow, to air (min:s)", "Findings")
    return Table(heads, tuple(rows))


def _how_far_down(space: SpacePlan, system: UnitSystem) -> str:
    facts, (depth, _) = space.scene.space, space.scene.down
    if depth is None:
        return "depth not measured"
    text = amount(depth.m, Unit.M, system)
    return depth_text(facts, text) if facts.opening.from_side else text


def _opening(facts: Space) -> tuple[Fact, ...]:
    """The way in, in the words of the site file."""
    if not facts.is_confined:
        return ()
    opening, depth = facts.opening, facts.shape.depth
    sizes = [one.written for one in (opening.diameter, opening.length, opening.width) if one]
    size = " by ".join(sizes) or "size not stated"
    deep = depth_text(facts, depth.written if depth else "")
    return (Fact("Opening", ", ".join((*filter(None, [opening.shape]), size, deep))),)


def _space_view(plan: Plan, space: SpacePlan, system: UnitSystem, paper: str) -> SpaceView:
    facts = space.scene.space
    attendant, leader = attendant_card(plan, space), leader_card(space, system)
    return SpaceView(
        id=facts.id,
        name=facts.name,
        facts=(
            Fact("Sign", facts.sign),
            Fact("Where", facts.where),
            *_opening(facts),
            Fact("Entry route", facts.entry_route),
            Fact("Task", facts.task.what),
            Fact("When", _when(space)),
            *people_facts(facts),
            Fact("Rescuers wait", posture_words(space.scene)),
            *_before_entry(space),
            *surroundings(space.scene),
            *_for_the_hospital(facts),
        ),
        attendant=attendant,
        leader=leader,
        pockets=pocket_cards(facts.name, attendant, leader, paper),
        scenarios=scenario_table(facts),
        role_steps=role_steps(space.scene),
        drawings=drawings(space, system),
        timelines=tuple(timeline_view(space, one, system) for one in space.timelines),
        route=route_table(facts, system),
        isolation=isolation_table(space.scene),
        readings=air_tests(space.scene),
        communications=communication_form(space.scene),
        chains=chains(space, system),
        bases=bases(space, system),
        shared=shared_inputs(space, system),
        areas=areas(space, system, plan.spaces[0] if space is not plan.spaces[0] else None),
        go=go_view(plan, space),
        drill=drill_record(space),
        debrief=debrief_sheet(plan, space),
    )


def _for_the_hospital(facts: Space) -> tuple[Fact, ...]:
    """Of each hazard the data sheet that goes along, and what to tell."""
    rows = []
    for one in facts.hazard:
        told = ", ".join(filter(None, (one.sheet, one.tell_hospital)))
        if told:
            rows.append(f"{one.kind.replace('-', ' ')}: {told}")
    return (Fact("For the hospital", "; ".join(rows)),) if rows else ()


def _before_entry(space: SpacePlan) -> tuple[Fact, ...]:
    """Who finds out before each entry that help can come."""
    rescue = space.scene.space.rescue
    if rescue.help_confirmed_by is None or rescue.help_confirmed_how is None:
        return ()
    name = space.scene.person(rescue.help_confirmed_by).name
    return (Fact("Before each entry", f"{name} {rescue.help_confirmed_how}"),)


def _when(space: SpacePlan) -> str:
    task = space.scene.space.task
    return day_text(task.start) + (f" to {day_text(task.finish)}" if task.finish else "")


def _crew(plan: Plan) -> Table:
    rows = []
    for person in plan.site.person:
        parts = [part for space in plan.spaces for part in _parts_of(person, space)]
        parts += ["escort"] if person.id == plan.site.site.escort else []
        rows.append((person.name, "; ".join(parts) or "not in a rescue", person.phone or "-"))
    return Table(("Name", "Part in this plan", "Phone"), tuple(rows))


def _parts_of(person: Person, space: SpacePlan) -> list[str]:
    facts = space.scene.space
    parts = ["attendant"] if person.id in facts.attendant else []
    parts += ["relief attendant"] if person.id == facts.relief_attendant else []
    parts += ["entrant"] if person.id in facts.entrants else []
    parts += ["entry supervisor"] if person.id == facts.supervisor else []
    parts += ["deputy leader"] if person.id == facts.deputy_leader else []
    parts += [
        f"{one.role} ({way.name})".replace("-", " ")
        for way in space.scene.ways()
        for one in way.method.crew
        if one.person == person.id
    ]
    watched = (one for one in facts.trigger if one.watched_by == person.id)
    parts += [f"watches for {one.kind.replace('-', ' ')}" for one in watched]
    parts += ["keys"] if any(one.key_held_by == person.id for one in facts.isolation) else []
    return [f"{facts.name}: {', '.join(parts)}"] if parts else []


def _certificates(plan: Plan) -> Table:
    """One row a person, so that the whole crew is seen at once."""
    rows = [
        (
            person.name,
            "; ".join(
                f"{one.kind.replace('-', ' ')} {day_text(one.issued)} to {day_text(one.expires)}"
                for one in person.certificate
            ),
        )
        for person in plan.site.person
        if person.certificate
    ]
    return Table(("Name", "Certificates, each from day of issue to last day"), tuple(rows))


def _drills(plan: Plan) -> Table:
    rows = []
    for one in sorted(plan.site.drill, key=lambda drill: drill.on, reverse=True):
        took = one.took.written if one.took else "not timed"
        took += f", to {one.reached.replace('-', ' ')}" if one.reached and one.took else ""
        result = "passed" if one.passed else "NOT PASSED"
        result += ", a real rescue" if one.real_rescue else ""
        practised = f"{one.way}: {one.method}"
        rows.append(
            (day_text(one.on), ", ".join(one.space), practised, took, result, one.notes or "-")
        )
    return Table(("Date", "Spaces", "Practised", "Took", "Result", "Learned"), tuple(rows))


def _used(plan: Plan) -> Iterator[Quantity]:
    """Every number that was put into a comparison or a time, or into one of those."""
    put_in: list[Quantity] = []
    for one in plan.findings:
        if isinstance(one.outcome, Compared):
            put_in += (*one.outcome.inputs, one.outcome.limit)
    for space in plan.spaces:
        for times in space.timelines:
            for step in times.steps:
                put_in += (step.usual, step.slow, *(step.working.inputs if step.working else ()))
    for each in put_in:
        yield from each.all()


def _defaults(plan: Plan, system: UnitSystem) -> Table:
    used = {each.source.key for each in _used(plan) if is_default(each)}
    rows = [
        (
            name,
            plan.defaults.of(name).label,
            quantity_text(plan.defaults.of(name), system),
            source_text(plan.defaults.of(name).source).replace(f", default {name}", ""),
        )
        for name in sorted(used)
    ]
    return Table(("Default", "What", "Value", "Where from"), tuple(rows))


def _documents(plan: Plan) -> Table:
    cited: dict[str, list[str]] = {}
    listed = plan.limits.documents
    sources = [one.source for one in plan.findings]
    sources += [one.source for one in _used(plan)]
    for source in sources:
        if source.document:
            clauses = cited.setdefault(source.document, [])
            if source.clause and source.clause not in clauses:
                clauses.append(source.clause)
    rows = [
        (
            name,
            listed[name].title,
            listed[name].edition,
            "; ".join(clauses) or "-",
            listed[name].seen,
        )
        for name, clauses in cited.items()
    ]
    return Table(("Document", "Title", "Edition", "Clauses used", "Seen as"), tuple(rows))
