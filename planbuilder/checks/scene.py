"""What every check looks at: one space of one site, under limits and defaults, on a day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import wraps
from typing import Any, TypeVar

from planbuilder.defaults import Defaults
from planbuilder.findings import (
    Compared,
    Finding,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.limits import Limits
from planbuilder.profiles.statements import Duty, Limit
from planbuilder.site.equipment import (
    Equipment,
    LoweringDevice,
    RopeSystem,
    SelfRetractingLine,
    Winch,
)
from planbuilder.site.file import Site
from planbuilder.site.method import CrewRole, Method
from planbuilder.site.people import Person, Service
from planbuilder.site.rig import Rig
from planbuilder.site.space import Space
from planbuilder.site.supports import PostDavitArm, Support
from planbuilder.units import Amount, Length

AnyDevice = Winch | SelfRetractingLine | RopeSystem | LoweringDevice


@dataclass(frozen=True, slots=True)
class Scene:
    """One space with everything that is known about it on the day *on*."""

    site: Site
    space: Space
    limits: Limits
    defaults: Defaults
    on: date
    # What has been worked out or looked up once: many checks ask for one weight, one clock.
    known: dict[Any, Any] = field(default_factory=dict, compare=False, repr=False)

    def key(self, tail: str) -> str:
        """The site-file key of something in this space."""
        return f"space.{self.space.id}.{tail}"

    @property
    def work_ends(self) -> date:
        """The last day of the work."""
        return self.space.task.finish or self.space.task.start

    @property
    def last_day(self) -> date:
        """The day on which records must still be valid: the last of the work, or later *on*."""
        return max(self.work_ends, self.on)

    @property
    def entrants(self) -> tuple[Person, ...]:
        """The people who go in."""
        return tuple(self.person(one) for one in self.space.entrants)

    @property
    def inside_at_once(self) -> int:
        """How many are inside together: as stated, else everybody who goes in."""
        return self.space.task.inside_at_once or len(self.space.entrants)

    def person(self, person_id: str) -> Person:
        """The person of that id."""
        found: Person = self._by_id("person")[person_id]
        return found

    def device(self, device_id: str) -> AnyDevice:
        """The device of that id."""
        found: AnyDevice = self._by_id("device")[device_id]
        return found

    def support(self, support_id: str) -> Support:
        """The support of that id."""
        found: Support = self._by_id("support")[support_id]
        return found

    def equipment(self, equipment_id: str) -> Equipment:
        """The piece of equipment of that id."""
        found: Equipment = self._by_id("equipment")[equipment_id]
        return found

    def service(self, service_id: str) -> Service:
        """The rescue service of that id."""
        found: Service = self._by_id("service")[service_id]
        return found

    @property
    def down(self) -> tuple[Length | None, str]:
        """How far down the line has to go, and its key: the depth, or the height to fall."""
        if self.space.is_confined:
            return self.space.shape.depth, "shape.depth"
        return (self.space.fall.below if self.space.fall else None), "fall.below"

    def supports_of(self, way: Way) -> tuple[Support, ...]:
        """Every support that *way* hangs on: of device and backup, and what these stand on."""
        if way.rig is None:
            return ()
        found: dict[str, Support] = {}
        for one in (way.rig.support, way.rig.backup_support):
            if one is not None:
                support = found[one] = self.support(one)
                if isinstance(support, PostDavitArm):
                    found[support.post] = self.support(support.post)
        return tuple(found.values())

    def devices_of(self, way: Way) -> tuple[AnyDevice, ...]:
        """The lifting device of *way* and its backup."""
        if way.rig is None:
            return ()
        ids = dict.fromkeys(one for one in (way.rig.device, way.rig.backup) if one is not None)
        return tuple(self.device(one) for one in ids)

    def _by_id(self, table: str) -> dict[str, Any]:
        """The entries of a table of the site file, by id."""
        if table not in self.known:
            self.known[table] = {one.id: one for one in getattr(self.site, table)}
        entries: dict[str, Any] = self.known[table]
        return entries

    def ways(self) -> Iterator[Way]:
        """The ways out that the plan names: the primary one, then the fallback."""
        if "ways" not in self.known:
            rescue = self.space.rescue
            both = (("primary", rescue.primary), ("fallback", rescue.fallback))
            self.known["ways"] = tuple(Way(self, name, one) for name, one in both if one)
        found: tuple[Way, ...] = self.known["ways"]
        return iter(found)

    def given(self, symbol: str, label: str, amount: Amount, unit: Unit, tail: str) -> Quantity:
        """A quantity that the site file states under the key *tail* of this space."""
        return stated(symbol, label, amount, unit, self.key(tail))


@dataclass(frozen=True, slots=True)
class Way:
    """One way of getting the casualty out."""

    scene: Scene
    name: str
    method: Method

    def key(self, tail: str) -> str:
        """The site-file key of something in this method."""
        return self.scene.key(f"rescue.{self.name}.{tail}")

    @property
    def rig(self) -> Rig | None:
        """How support and device stand, if the method has any."""
        return self.method.rig

    def crew(self, role: CrewRole) -> tuple[Person, ...]:
        """The people in that role."""
        return tuple(self.scene.person(one.person) for one in self.method.crew if one.role is role)


Answer = TypeVar("Answer")


def once_a_scene(function: Callable[[Scene], Answer]) -> Callable[[Scene], Answer]:
    """*function* with its answer kept in the scene."""

    @wraps(function)
    def kept(scene: Scene) -> Answer:
        if function not in scene.known:
            scene.known[function] = function(scene)
        answer: Answer = scene.known[function]
        return answer

    return kept


def once_a_way(function: Callable[[Way], Answer]) -> Callable[[Way], Answer]:
    """*function* with its answer kept in the scene, by the name of the way."""

    @wraps(function)
    def kept(way: Way) -> Answer:
        known, key = way.scene.known, (function, way.name)
        if key not in known:
            known[key] = function(way)
        answer: Answer = known[key]
        return answer

    return kept


@dataclass(frozen=True, slots=True)
class Working:
    """A value worked out, with the formula as printed and the numbers put in."""

    value: float
    formula: str
    inputs: tuple[Quantity, ...]

    def against(
        self,
        relation: Relation,
        limit: Quantity,
        *,
        result: Quantity,
        slack: float = 0.0,
        easier: float = 0.0,
    ) -> Compared:
        """This value, named as *result*, held against *limit*."""
        return Compared(
            result=result.valued(self.value),
            relation=relation,
            limit=limit,
            formula=self.formula,
            inputs=self.inputs,
            slack=slack,
            easier=easier,
        )


def output(symbol: str, label: str, unit: Unit) -> Quantity:
    """The name of a result whose value a Working gives."""
    return Quantity(
        symbol=symbol, label=label, value=0.0, unit=unit, source=Source.derived("computed")
    )


def stated(symbol: str, label: str, amount: Amount, unit: Unit, key: str) -> Quantity:
    """A quantity that the site file states under *key*."""
    return Quantity(
        symbol=symbol,
        label=label,
        value=amount.value,
        unit=unit,
        source=Source.site(key),
        written=amount.written,
    )


def counted(symbol: str, label: str, value: float, key: str) -> Quantity:
    """A count that follows from entries of the site file under *key*."""
    return Quantity(
        symbol=symbol, label=label, value=value, unit=Unit.COUNT, source=Source.site(key)
    )


def derived(
    symbol: str,
    label: str,
    value: float,
    unit: Unit,
    note: str,
    of: tuple[Quantity, ...] = (),
) -> Quantity:
    """A quantity worked out on the way; *note* says how, *of* from which others."""
    return Quantity(
        symbol=symbol, label=label, value=value, unit=unit, source=Source.derived(note), of=of
    )


def finding(
    rule: Rule,
    outcome: Compared | Stated | Missing,
    *,
    settle_by: str,
    keys: tuple[str, ...],
    space: Space | None = None,
    about: str = "",
    duty: Duty | Limit | None = None,
    due: date | None = None,
) -> Finding:
    """The finding of *rule*, for a space or for the whole site; *due* is when it runs out.

    Where a rule set states a *duty*, or the limit that makes it one, its clause is cited, and it
    blocks where the duty binds.
    """
    return Finding(
        rule=rule,
        outcome=outcome,
        settle_by=settle_by,
        keys=keys,
        space=space.id if space else None,
        about=about,
        due=due,
        weighs=Weight.BLOCKS if duty and duty.binds else None,
        asked_by=duty.source if duty else None,
    )


def listed(keys: Iterable[str]) -> str:
    """The last parts of site-file *keys*, each once, as words."""
    return ", ".join(dict.fromkeys(key.rpartition(".")[2].replace("_", " ") for key in keys))


def absent(**values: object) -> tuple[str, ...]:
    """The names of those *values* that the site file does not give; __ stands for a dot."""
    return tuple(name.replace("__", ".") for name, value in values.items() if value is None)
