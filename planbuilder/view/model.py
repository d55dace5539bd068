"""What the templates see: strings, and tuples of them. Nothing here can be computed with."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from planbuilder.view.chart import Chart
from planbuilder.view.drawing import Drawing
from planbuilder.view.form import DebriefSheet, DrillRecord, Form


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and what stands behind it."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead somewhere in the plan; *to* is the id of that place, or empty."""

    text: str
    to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The verdict of one finding: a shape and a word, with what was found.

    *cites* is the source in pieces that lead to the list of documents; *sheet* is the id of the
    place where it stands with its numbers.
    """

    id: str
    shape: str
    verdict: str
    weight: str
    title: str
    rule: str
    about: str
    part: str
    found: str
    settle: str
    keys: str
    source: str
    cites: tuple[Link, ...]
    sheet: str
    accepted: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InputRow:
    """One number put into a formula."""

    symbol: str
    label: str
    value: str
    source: str
    default: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """One check worked out: formula, numbers, result, limit, verdict."""

    answer: Answer
    result_symbol: str
    result_label: str
    result: str
    formula: str
    relation: str
    limit: str
    limit_label: str
    limit_source: str
    limit_link: str
    shared: tuple[Fact, ...]  # symbols and values that the list of the space explains
    inputs: tuple[InputRow, ...]


@dataclass(frozen=True, slots=True)
class Area:
    """The checks of one area of a space: worked out, and looked up."""

    id: str
    title: str
    calculations: tuple[Calculation, ...]
    statements: tuple[Answer, ...]
    asked: tuple[tuple[Answer, ...], ...]  # the statements, one row a question
    as_before: tuple[Answer, ...]  # those that read the same in the first space, met there too
    before: Link


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRow:
    """One step of a timeline."""

    id: str
    what: str
    who: str
    after: str
    usual: str
    slow: str
    start: str
    finish: str
    slack: str
    decides: str
    evidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockRow:
    """One of the three moments."""

    name: str
    slow: str
    ordinary: str
    limit: str
    owner: str
    judged: str
    path: str
    by_hand: str
    buy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepWorking:
    """How the time of a computed step was worked out."""

    title: str
    symbol: str
    formula: str
    result: str
    inputs: tuple[InputRow, ...]


@dataclass(frozen=True, slots=True)
class TimelineView:
    """A rescue method in time."""

    title: str
    steps: tuple[StepRow, ...]
    clocks: tuple[ClockRow, ...]
    charts: tuple[Chart, ...]  # one, or none where no clock can be given
    evidence: str
    sampled: str
    workings: tuple[StepWorking, ...]
    missing: str


@dataclass(frozen=True, slots=True)
class ChainRow:
    """One part between casualty and ground."""

    part: str
    carries: str
    holds: str
    reserve: str
    verdict: str
    mark: str


@dataclass(frozen=True, slots=True)
class Chain:
    """The parts of one method, from casualty to ground, with the weakest marked."""

    title: str
    rows: tuple[ChainRow, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under headings."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceView:
    """An outside rescue service: what it agreed to and was shown, how it comes, what it can do."""

    name: str
    agreed: tuple[Fact, ...]
    comes: tuple[Fact, ...]
    evaluation: Table
    notes: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendantCard:
    """What the attendant finds in ten seconds."""

    space: str
    ban: str
    not_ready: str
    leave: str
    roster: str
    lost: str
    sign: str
    inside: tuple[str, ...]
    at_once: str
    out_at: tuple[Fact, ...]
    stops: str
    contact: str
    steps: tuple[str, ...]
    calls: tuple[Fact, ...]
    script: tuple[str, ...]
    leader: str
    relief: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MethodView:
    """One way out, as the leader needs it."""

    name: str
    kind: str
    posture: str
    describe: Markup
    free_first: Markup
    roles: tuple[Fact, ...]
    gear: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeaderCard:
    """What the rescue leader finds in a minute."""

    clocks: tuple[ClockRow, ...]
    answers: tuple[Fact, ...]
    methods: tuple[MethodView, ...]
    abort: tuple[str, ...]
    cautions: Markup
    hazards: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class PocketBlock:
    """A heading and the lines below it on a card for the pocket."""

    head: str
    lines: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketCard:
    """The first things of a card in two columns; *more* says so where something is left out."""

    title: str
    ban: str
    left: tuple[PocketBlock, ...]
    right: tuple[PocketBlock, ...]
    more: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GoView:
    """The last check before entry into one space, and how long its records are kept."""

    space: str
    rows: Form
    signed: Form
    kept: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceView:
    """One space: its two cards, its sketch, its calculations."""

    id: str
    name: str
    facts: tuple[Fact, ...]
    attendant: AttendantCard
    leader: LeaderCard
    pockets: tuple[PocketCard, ...]
    scenarios: Table
    role_steps: Form
    drawings: tuple[Drawing, ...]
    timelines: tuple[TimelineView, ...]
    route: Table
    isolation: Table
    readings: Table
    communications: Form
    chains: tuple[Chain, ...]
    bases: tuple[Drawing, ...]
    shared: tuple[InputRow, ...]
    areas: tuple[Area, ...]
    go: GoView
    drill: DrillRecord
    debrief: DebriefSheet


@dataclass(frozen=True, slots=True)
class ContentsRow:
    """What stands on which page of one space, or of the whole site."""

    label: str
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """The whole plan."""

    language: str
    paper: str
    title: str
    number: str
    revision: str
    status: str
    ready: bool
    counts: str
    hash: str
    hash_short: str
    valid_until: str
    on: str
    profile: str
    short_notice: str
    has_long_words: bool
    author: str
    where: tuple[Fact, ...]
    which: tuple[Fact, ...]
    directions: Markup
    cautions: tuple[tuple[str, Markup], ...]
    space_table: Table
    contents: tuple[ContentsRow, ...]
    history: Table
    signatures: Form
    spaces: tuple[SpaceView, ...]
    crew: Table
    sign_off: Form
    certificates: Table
    equipment: Form
    equipment_signed: Form
    inspection_records: str
    after: Form
    services: tuple[ServiceView, ...]
    drills: Table
    employers: Table
    told: Table
    exchanged: Form
    debrief: tuple[Fact, ...]
    open_findings: tuple[Answer, ...]
    met: str
    defaults: Table
    limits: Table
    elements: Table
    overrides: Table
    estimates: str
    notice: tuple[tuple[str, str], ...]
    usual_cautions: tuple[str, ...]
    documents: Table
    document_ids: tuple[str, ...]
