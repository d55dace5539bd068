"""What a rule set says under a key: a limit, a duty or a permission, and which is the stricter."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.findings import Bind, Quantity, Relation, Source
from planbuilder.profiles.rule_file import Need

_NEEDS = tuple(Need)
_BINDING = (Bind.LAW, Bind.ACOP, Bind.HOST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """What a layer says under a key. *approver* answers for it where it loosens a layer below."""

    key: str
    layer: str
    approver: str = ""

    @property
    def strictness(self) -> tuple[float, ...]:
        """Orders what layers say under one key, the strictest first."""
        raise NotImplementedError

    def stricter_than(self, other: Statement) -> bool:
        """True if whatever meets this meets *other*, and not the other way round."""
        return self.strictness < other.strictness


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Statement):
    """A number that a result is held against."""

    relation: Relation
    quantity: Quantity
    backed: bool = False  # another layer that binds has a number for the key as well

    @property
    def strictness(self) -> tuple[float, ...]:
        """By the number; of two equal ones that is stricter which the number itself fails."""
        value = float(f"{self.quantity.value:.9g}")  # 5 ft and 1.524 m are equal
        is_open = self.relation in (Relation.LESS_THAN, Relation.MORE_THAN)
        return (value if self.relation.wants_small else -value, not is_open)

    @property
    def source(self) -> Source:
        """Where the number comes from."""
        return self.quantity.source

    @property
    def binds(self) -> bool:
        """True where law, a code that law stands behind, or the host sets a number.

        Also where the number in force is a stricter one that does not bind by itself: whoever
        fails it may fail the binding one too.
        """
        return self.backed or self.source.bind in _BINDING

    @property
    def words(self) -> str:
        """In short."""
        return f"{self.relation} {self.quantity.written}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty(Statement):
    """Something that a layer asks for, how firmly, and in whose words."""

    need: Need
    text: str
    source: Source

    @property
    def binds(self) -> bool:
        """True where it must be done: by law, by a code that law stands behind, or by the host."""
        return self.need is Need.REQUIRED and self.source.bind in _BINDING

    @property
    def strictness(self) -> tuple[float, ...]:
        """By how firmly it is asked for, then by whether that binds; whom it binds by is equal."""
        return (_NEEDS.index(self.need), self.source.bind not in _BINDING)

    @property
    def words(self) -> str:
        """In short."""
        return self.need.replace("-", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Permission(Statement):
    """Something that a layer allows, or does not."""

    allowed: bool
    text: str
    source: Source

    @property
    def strictness(self) -> tuple[float, ...]:
        """What is not allowed is stricter."""
        return (self.allowed,)

    @property
    def words(self) -> str:
        """In short."""
        return "allowed" if self.allowed else "not allowed"


AnyStatement = Limit | Duty | Permission
