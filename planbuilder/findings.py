"""The words of every answer: Document, Source, Quantity, Rule, Finding and its verdict.

A finding never stores its verdict. It stores what was compared, what was stated, or what is
missing, and the verdict follows from that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from functools import lru_cache

# Binary fractions only: 0.1 + 0.2 must not fail a limit of 0.3.
EQUAL_SLACK = 1e-9
# Sources kept to be used again: a plan names some thousand, the same keys and notes many times.
KEPT = 4096


class Mark(StrEnum):
    """How well a value is known."""

    READ = "read"
    RECALLED = "recalled"
    DERIVED = "derived"
    CHOICE = "choice"
    MEASURED = "measured"
    ESTIMATED = "estimated"
    SITE = "site file"


class Bind(StrEnum):
    """How strongly a limit binds, strongest first."""

    LAW = "law"
    ACOP = "acop"
    GUIDANCE = "guidance"
    CONSENSUS = "consensus"
    HOST = "host"
    TOOL = "tool"


class Unit(StrEnum):
    """The unit of a number inside: SI, a count or a ratio. Never mixed within a dimension."""

    M = "m"
    KG = "kg"
    N = "N"
    S = "s"
    RAD = "rad"
    M_PER_S = "m/s"
    M_PER_S2 = "m/s2"
    N_M = "N m"
    W = "W"
    N_PER_M = "N/m"
    PA = "Pa"
    PA_GAUGE = "Pa gauge"  # what the gauge of a cylinder shows
    KG_PER_M3 = "kg/m3"
    M2 = "m2"
    M3 = "m3"
    M3_PER_S = "m3/s"
    K = "K"
    V = "V"
    RATIO = "1"
    COMPRESSIBILITY = "Z"  # of a gas against an ideal one
    COUNT = "count"
    FRACTION = "fraction"
    DAYS = "days"
    MONTHS = "months"


class Verdict(StrEnum):
    """The answer of a check."""

    FAILS = "fails"
    UNKNOWN = "unknown"
    MARGINAL = "marginal"
    MEETS = "meets"


class Weight(StrEnum):
    """What a finding that is not met does to the plan, heaviest first."""

    BLOCKS = "blocks"
    WARNS = "warns"
    NOTES = "notes"


class Relation(StrEnum):
    """How a result must stand to its limit."""

    AT_MOST = "<="
    LESS_THAN = "<"
    AT_LEAST = ">="
    MORE_THAN = ">"

    @property
    def wants_small(self) -> bool:
        """True where a smaller result is the better one."""
        return self in (Relation.AT_MOST, Relation.LESS_THAN)

    def holds(self, value: float, limit: float) -> bool:
        """True if *value* stands in this relation to *limit*; NaN never does."""
        slack = EQUAL_SLACK * max(1.0, abs(limit)) if math.isfinite(limit) else 0.0
        match self:
            case Relation.AT_MOST:
                return value <= limit + slack
            case Relation.AT_LEAST:
                return value >= limit - slack
            case Relation.LESS_THAN:
                return value < limit - slack
            case Relation.MORE_THAN:
                return value > limit + slack


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value comes from: a document with clause, a key of the site file, or a choice.

    *document* is the id of an entry of ``tables/documents.toml``, or "" for a key of the site
    file, a derivation or a choice of this tool.
    """

    mark: Mark
    document: str = ""
    clause: str = ""
    bind: Bind | None = None
    key: str = ""
    note: str = ""

    @classmethod
    @lru_cache(maxsize=KEPT)
    def site(cls, key: str) -> Source:
        """A value that the site file states under *key*."""
        return cls(mark=Mark.SITE, key=key)

    @classmethod
    @lru_cache(maxsize=KEPT)
    def derived(cls, note: str) -> Source:
        """A value worked out on the way; *note* says how."""
        return cls(mark=Mark.DERIVED, note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number that may reach the plan: symbol, label, value in its inside unit, source.

    *written* keeps the words of the site file or the rule ("24 in"), for the page; *of* are the
    quantities that a derived one was worked out from.
    """

    symbol: str
    label: str
    value: float
    unit: Unit
    source: Source
    written: str = ""
    of: tuple[Quantity, ...] = ()

    def valued(self, value: float) -> Quantity:
        """This quantity with another value. Quicker than `replace`: every comparison does it."""
        return Quantity(
            symbol=self.symbol,
            label=self.label,
            value=value,
            unit=self.unit,
            source=self.source,
            written=self.written,
            of=self.of,
        )

    def all(self) -> Iterator[Quantity]:
        """This quantity and everything that it was worked out from."""
        yield self
        for one in self.of:
            yield from one.all()


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing that is checked. *id* is stable and readable, area first."""

    id: str
    title: str
    weight: Weight
    source: Source
    judged: bool = False  # it is for the competent person to decide, so that a failure may stand

    @property
    def area(self) -> str:
        """The part of the id before the stroke: haul, response, clearance or plan."""
        return self.id.partition("/")[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A computed result against a limit."""

    result: Quantity
    relation: Relation
    limit: Quantity
    formula: str
    inputs: tuple[Quantity, ...]
    slack: float = 0.0  # a result that meets its limit by less than this is marginal
    easier: float = 0.0  # an ordinary day is better than the result by this: met then is marginal

    @property
    def verdict(self) -> Verdict:
        """Meets, marginal or fails, from result, relation, limit and slack."""
        value, limit = self.result.value, self.limit.value
        ordinary = value - self.easier if self.relation.wants_small else value + self.easier
        if not self.relation.holds(ordinary, limit):
            return Verdict.FAILS
        if not self.relation.holds(value, limit):
            return Verdict.MARGINAL
        margin = limit - value if self.relation.wants_small else value - limit
        return Verdict.MARGINAL if margin < self.slack - EQUAL_SLACK else Verdict.MEETS

    @property
    def reserve(self) -> float:
        """How many times over the result meets its limit: below 1 it fails."""
        over, under = self.limit.value, self.result.value
        if not self.relation.wants_small:
            over, under = under, over
        return over / under if under > 0 else math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """Something the site file says that is, or is not, as the rule wants it."""

    holds: bool
    because: str

    @property
    def verdict(self) -> Verdict:
        """Meets or fails."""
        return Verdict.MEETS if self.holds else Verdict.FAILS


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """Data that the rule needs and the site file does not give, or gives out of range."""

    because: str

    @property
    def verdict(self) -> Verdict:
        """Always unknown: what is not known never passes."""
        return Verdict.UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The answer of one check.

    *settle_by* says what would settle it when it is not met; *keys* are the site-file keys to
    touch; *about* names the part of the plan ("primary", a device) where a rule is asked more
    than once in a space.
    """

    rule: Rule
    outcome: Compared | Stated | Missing
    settle_by: str
    keys: tuple[str, ...]
    space: str | None = None
    about: str = ""
    accepted: str = field(default="")  # who accepted a warning, when and why
    due: date | None = None  # when what it rests on runs out
    # What a rule set says of it: how heavily it counts there, and by which clause.
    weighs: Weight | None = None
    asked_by: Source | None = None

    @property
    def verdict(self) -> Verdict:
        """Follows from what was compared, stated or missing."""
        return self.outcome.verdict

    @property
    def weight(self) -> Weight:
        """The weight under the rule set in force, else that of the rule."""
        return self.weighs or self.rule.weight

    @property
    def source(self) -> Source:
        """What the rule set in force cites for it, else the source of the rule."""
        return self.asked_by or self.rule.source

    @property
    def blocks(self) -> bool:
        """True if the plan is not ready because of this finding; unknown blocks like fails."""
        stands = self.verdict in (Verdict.FAILS, Verdict.UNKNOWN)
        return self.weight is Weight.BLOCKS and stands and not self.accepted

    @property
    def open(self) -> bool:
        """True if somebody should still do something about it."""
        return self.verdict is not Verdict.MEETS
