"""The rings that the way out narrows at: the opening as measured, and every other one stated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import Scene, Working, finding, once_a_scene, output, stated
from planbuilder.findings import Compared, Finding, Missing, Quantity, Relation, Rule, Unit
from planbuilder.site.opening import OpeningShape, Ring
from planbuilder.units import Length

SETTLE = (
    "Measure the smallest clear opening inside gasket, hinge and ladder stub; if it is too small, "
    "plan another way out or other people."
)


@dataclass(frozen=True, slots=True)
class Clear:
    """One ring of the way out with its keys; the wanted ones are those it does not give."""

    ring: Ring
    key: str

    @property
    def is_round(self) -> bool:
        """True for a ring with a diameter alone."""
        return self.ring.shape is OpeningShape.ROUND

    @property
    def is_oval(self) -> bool:
        """True for an oval ring."""
        return self.ring.shape is OpeningShape.OVAL

    @property
    def measure(self) -> str:
        """What is measured across it, for whoever has to find a larger one."""
        if self.is_round:
            return "in diameter"
        return "on the short axis" if self.is_oval else "on the short side"

    @property
    def missing(self) -> tuple[str, ...]:
        """The keys of what is not measured."""
        ring = self.ring
        if ring.shape is None:
            return (f"{self.key}.shape",)
        wanted = ("diameter",) if self.is_round else ("width", "length")
        return tuple(f"{self.key}.{one}" for one in wanted if getattr(ring, one) is None)

    @property
    def sides(self) -> tuple[tuple[Length, str], tuple[Length, str]]:
        """Short and long side or axis, each with its key; only of a ring that is measured."""
        width, length = self.ring.width, self.ring.length
        assert width is not None  # noqa: S101 - nothing is missing
        assert length is not None  # noqa: S101 - nothing is missing
        short, long = sorted(((width, "width"), (length, "length")), key=lambda one: one[0].m)
        return (short[0], f"{self.key}.{short[1]}"), (long[0], f"{self.key}.{long[1]}")

    @property
    def available(self) -> Quantity:
        """The diameter or short side that there is."""
        what = "" if self.key.endswith("opening") else f" of {self.ring.name}"
        if self.is_round:
            diameter = self.ring.diameter
            assert diameter is not None  # noqa: S101 - nothing is missing
            label, key = f"clear diameter{what}", f"{self.key}.diameter"
            return stated("d_clear", label, diameter, Unit.M, key)
        short, key = self.sides[0]
        return stated("d_clear", f"clear short side{what}", short, Unit.M, key)

    @property
    def long_side(self) -> Quantity:
        """The long side or axis of a ring that is not round."""
        long, key = self.sides[1]
        return stated("L_side", "clear long side", long, Unit.M, key)


@once_a_scene
def rings(scene: Scene) -> tuple[Clear, ...]:
    """Every ring of the way out. Where only the cover was measured, it does not count."""
    opening = scene.space.opening
    own = (Clear(opening, scene.key("opening")),)
    others = tuple(
        Clear(one, scene.key(f"opening.ring[{number}]"))
        for number, one in enumerate(opening.ring, start=1)
    )
    return (*own, *others)


def unmeasured(scene: Scene) -> tuple[str, ...]:
    """The keys that keep the way out from being judged at all."""
    opening = scene.space.opening
    if opening.measured == "cover" and not opening.ring:
        return (scene.key("opening.ring"),)
    return tuple(key for one in rings(scene) for key in one.missing)


def tightest(
    scene: Scene,
    rule: Rule,
    needed: Callable[[Clear], list[Working]],
    *,
    about: str = "",
    settle: str = SETTLE,
    missing: tuple[str, ...] = (),
) -> Finding:
    """The finding of *rule* at the ring that is the tightest for what has to pass.

    *needed* gives, for one ring, the diameter or short side that each candidate needs.
    """
    missing = (*missing, *unmeasured(scene))
    outcome: Compared | Missing
    if missing:
        outcome, keys = Missing(because=_why(scene, missing)), missing
    else:
        pairs = [(one, work) for one in rings(scene) for work in needed(one)]
        ring, working = max(pairs, key=lambda pair: pair[1].value - pair[0].available.value)
        outcome = working.against(
            Relation.AT_MOST,
            ring.available,
            result=output("d_need", "opening needed", Unit.M),
            slack=scene.defaults.of("opening-warning").value,
        )
        keys = (f"{ring.key}.{'diameter' if ring.is_round else 'width'}",)
        settle = f"It takes {up(working.value)} m {ring.measure}. {settle}"
    return finding(rule, outcome, settle_by=settle, keys=keys, space=scene.space, about=about)


def _why(scene: Scene, missing: tuple[str, ...]) -> str:
    if missing[-1] == scene.key("opening.ring"):
        return "only the cover is measured, no ring below it"
    if not all(key.startswith(scene.key("opening")) for key in missing):
        return "the sizes of what passes are not measured"
    return "the smallest clear opening is not measured"
