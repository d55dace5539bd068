"""What a site file may say of the isolation of a space: points, locks, keys, trials."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import Day, Id, Strict, Text, reference


class Energy(StrEnum):
    """What is kept away from the people inside."""

    ELECTRICAL = "electrical"
    MECHANICAL = "mechanical"
    FLUID = "fluid"
    GAS = "gas"
    STEAM = "steam"
    GRAVITY = "gravity"
    ENGULFMENT = "free-flowing-material"


class IsolationMethod(StrEnum):
    """How a point is isolated."""

    LOCK = "lock"
    BLANK = "blank"
    DOUBLE_BLOCK = "double-block-and-bleed"
    DISCONNECT = "disconnect"
    CHAIN = "chain-or-block"
    GROUND = "lock-and-ground"


class Isolation(Strict):
    """One point at which energy or material is kept away. *pipes* are those it closes."""

    point: Text
    energy: Energy
    method: IsolationMethod
    pipes: list[Text] = Field(default_factory=list, max_length=20)
    lock: Text | None = None
    key_held_by: Annotated[Id, reference("person")] | None = None
    tried_by: Annotated[Id, reference("person")] | None = None
    tried_on: Day | None = None


class EnergyBan(Strict):
    """Who could put energy back, and was told that it stays off until the rescue is over."""

    told_to: Text | None = None
    told_on: Day | None = None
