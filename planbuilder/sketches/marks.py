"""What the findings say of a thing that is drawn, in words: the colour of a line is not enough."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.findings import Compared, Finding, Verdict

_WORDS = {Verdict.FAILS: "FAILS", Verdict.UNKNOWN: "UNKNOWN", Verdict.MARGINAL: "MARGINAL"}


@dataclass(frozen=True, slots=True)
class Mark:
    """The words of a mark, empty where everything is met, and whether something fails."""

    words: str
    fails: bool

    def after(self, text: str) -> str:
        """*text* with the mark behind it."""
        return f"{text}: {self.words}" if self.words else text


@dataclass(frozen=True, slots=True)
class Marks:
    """The findings of one space, asked for one way out of it."""

    findings: tuple[Finding, ...]
    way: str

    def of(self, *rules: str, thing: str = "") -> Mark:
        """The mark of whatever is not met of *rules*, for this way, or for one *thing* of it."""
        open_ = [one for rule in rules for one in self._all(rule, thing) if one.verdict in _WORDS]
        said = dict.fromkeys(f"{_WORDS[one.verdict]} {one.rule.id}" for one in open_)
        return Mark("; ".join(said), fails=any(one.verdict is Verdict.FAILS for one in open_))

    def compared(self, rule: str, *, thing: str = "") -> Compared | None:
        """The worst comparison of *rule* for this way, or None where it is unknown or not asked."""
        outcomes = [one.outcome for one in self._all(rule, thing)]
        known = [one for one in outcomes if isinstance(one, Compared)]
        return min(known, key=lambda one: one.reserve, default=None)

    def _all(self, rule: str, thing: str) -> Iterator[Finding]:
        """The findings of the thing; without one, those that name nothing or this way."""
        wanted = (thing, f"{self.way}, {thing}") if thing else ("", self.way)
        for one in self.findings:
            part = not thing and one.about.startswith(f"{self.way}, ")
            if one.rule.id == rule and (one.about in wanted or part):
                yield one
