"""Who speaks with whom during an entry, by what, and what is left when that fails."""

from __future__ import annotations

from enum import StrEnum

from planbuilder.site.fields import Day, Strict, Text


class Between(StrEnum):
    """The two ends of a communication."""

    ENTRANT = "entrant-attendant"
    RESCUERS = "attendant-rescuers"
    INSIDE = "rescuers-outside"
    SERVICE = "attendant-service"


class Means(StrEnum):
    """What is spoken by. Radio and telephone go by radio waves, which steel and depth stop."""

    VOICE = "voice"
    LINE = "line-signals"
    FIXED_LINE = "fixed-line"
    HORN = "horn"
    RUNNER = "runner"
    RADIO = "radio"
    PHONE = "phone"


class Communication(Strict):
    """One communication with its backup.

    *means* may be left out where the space's contact says it: how the attendant knows of trouble,
    and how help is called. *dead_zones* are where nothing was heard in the test, or "none".
    """

    between: Between
    means: Means | None = None
    channel: Text | None = None
    backup: Means | None = None
    backup_channel: Text | None = None
    tested_on: Day | None = None
    dead_zones: Text | None = None

    @property
    def is_dead_somewhere(self) -> bool:
        """Whether the test found a place where nothing is heard."""
        return self.dead_zones is not None and self.dead_zones.strip().lower() != "none"
