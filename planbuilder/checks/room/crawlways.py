"""Clearance: stretches that are crawled: who and what is drawn through, and who passes whom."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.bodies import Body, arms_down, passage, with_casualty, with_set
from planbuilder.checks.room.lengths import up, up_to_mm
from planbuilder.checks.room.rings import Clear
from planbuilder.checks.scene import Scene, Way, Working, finding, output, stated
from planbuilder.clearance.crawlway import beside_width_m, flat_height_m, flat_width_m
from planbuilder.clearance.stretcher import section_diameter_m
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.method import CrewRole, MethodKind
from planbuilder.site.opening import OpeningShape, Ring
from planbuilder.site.travel import Crawlway, Going

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
SMALL = Rule(
    "clearance/crawlway-too-small",
    "Crawled stretch against who and what is drawn through it",
    Weight.BLOCKS,
    GEOMETRY,
)
BESIDE = Rule(
    "clearance/no-room-beside-casualty",
    "Room for a rescuer beside the casualty in a crawled stretch",
    Weight.WARNS,
    GEOMETRY,
)
_CRAWLED = (Going.CRAWL, Going.CRAWL_IN_SET)
_WHERE = {
    "ahead": "the rescuers are ahead of the casualty",
    "behind": "the rescuers are behind the casualty",
    "both-ends": "one rescuer is ahead of the casualty and one behind",
}
MEASURE = (
    "Measure the stretch at its narrowest, and what passes; say is_opening where it is the opening."
)
# What is needed, and the clear size that it is held against.
Fit = tuple[Working, Quantity]


@dataclass(frozen=True, slots=True)
class Crawled:
    """A stretch of the way out that is crawled: its clear sizes, and their key."""

    what: str
    clear: Crawlway
    key: str

    @property
    def missing(self) -> tuple[str, ...]:
        """The keys of what is not measured: a diameter, or width and height."""
        clear = self.clear
        if clear.diameter is not None:
            return ()
        if clear.width is None and clear.height is None:
            return (f"{self.key}.diameter",)
        wanted = (one for one in ("width", "height") if getattr(clear, one) is None)
        return tuple(f"{self.key}.{one}" for one in wanted)

    @property
    def unmeasured(self) -> str:
        """What is not measured, in words."""
        names = " and ".join(one.rpartition(".")[2] for one in self.missing)
        return f"clear {names or 'sizes'} not measured"

    @property
    def pipe(self) -> Clear:
        """A round one, as a ring of its diameter."""
        ring = Ring(name="pipe", shape=OpeningShape.ROUND, diameter=self.clear.diameter)
        return Clear(ring, self.key)

    def side(self, name: str) -> Quantity:
        """Its clear width or height, where that is measured."""
        amount = self.clear.width if name == "width" else self.clear.height
        assert amount is not None  # noqa: S101 - nothing is missing
        return stated("d_clear", f"clear {name}", amount, Unit.M, f"{self.key}.{name}")


def crawled(scene: Scene) -> Iterator[Crawled]:
    """Every stretch of the way out that is crawled, or that states a crawlway."""
    for number, one in enumerate(scene.space.route, start=1):
        clear = one.crawlway or Crawlway()
        if (one.crawlway or one.going_in in _CRAWLED) and not clear.is_opening:
            yield Crawled(one.what, clear, scene.key(f"route[{number}].crawlway"))


def check_crawlways(scene: Scene) -> Iterator[Finding]:
    """Casualty, rescuers with their sets and the packed stretcher pass lying flat."""
    for one in crawled(scene) if scene.space.is_confined else ():
        casualties = [arms_down(scene, person) for person in scene.entrants]
        yield _tightest(scene, one, partial(_lying, bodies=casualties), "casualty")
        for way in scene.ways():
            if way.method.method is not MethodKind.ENTRY:
                continue
            team = _team(way)
            about = f"{way.name}, rescuer with set"
            yield _tightest(scene, one, partial(_lying, bodies=team), about)
            if way.method.stretcher is not None:
                yield _packed(way, one)


def check_beside(scene: Scene) -> Iterator[Finding]:
    """Where no rescuer fits beside the casualty, the plan says who is ahead and who behind."""
    for way in scene.ways():
        if way.method.method is MethodKind.ENTRY and scene.space.is_confined:
            for one in crawled(scene):
                yield _beside(way, one)


def _team(way: Way) -> list[Body]:
    """Those who go in, with the set on the back; nobody named: the defaults."""
    people = way.crew(CrewRole.ENTRY) + way.crew(CrewRole.BACK_UP)
    return [with_set(arms_down(way.scene, person), way) for person in people or (None,)]


def _lying(at: Crawled, bodies: list[Body]) -> list[Fit]:
    if at.clear.diameter is not None:
        return [(passage(at.pipe, body), at.pipe.available) for body in bodies]
    return [fit for body in bodies for fit in _flat(at, body)]


def _flat(at: Crawled, body: Body) -> Iterator[Fit]:
    """Width and height for a body lying flat, each by itself."""
    allowance, inputs = body.allowance, (*body.inputs, body.allowance)
    set_width_m, set_depth_m = (one.value for one in body.carried) if body.carried else (0.0, 0.0)
    worn = body.carried or ()
    width_m = flat_width_m(
        breadth_m=body.breadth_m, set_width_m=set_width_m, allowance_m=allowance.value
    )
    across = f"max({body.breadth}, w_set) + c" if worn else f"{body.breadth} + c"
    yield Working(width_m, across, (*inputs, *worn[:1])), at.side("width")
    height_m = flat_height_m(
        depth_m=body.depth.value, set_depth_m=set_depth_m, allowance_m=allowance.value
    )
    high = "D + d_set + c" if worn else "D + c"
    yield Working(height_m, high, (body.depth, *worn[1:], allowance)), at.side("height")


def _packed(way: Way, at: Crawled) -> Finding:
    """The stretcher or sheet with the casualty, its width level."""
    assert way.method.stretcher is not None  # noqa: S101 - asked before
    item, needs = way.scene.equipment(way.method.stretcher), Needs()
    key, packed = f"equipment.{item.id}.packed", item.packed
    width = needs.take(
        "w_p", "width as packed", packed.width if packed else None, Unit.M, f"{key}.width"
    )
    depth = needs.take(
        "d_p", "depth as packed", packed.depth if packed else None, Unit.M, f"{key}.depth"
    )

    def fits(at: Crawled) -> list[Fit]:
        if at.clear.diameter is None:
            return [
                (Working(width.value, "w_p", (width,)), at.side("width")),
                (Working(depth.value, "d_p", (depth,)), at.side("height")),
            ]
        needed_m = section_diameter_m(width_m=width.value, depth_m=depth.value)
        working = Working(needed_m, "sqrt(w_p**2 + d_p**2)", (width, depth))
        return [(working, at.pipe.available)]

    about = f"{way.name}, packed casualty"
    return _tightest(way.scene, at, fits, about, missing=tuple(needs.missing))


def _tightest(
    scene: Scene,
    at: Crawled,
    fits: Callable[[Crawled], list[Fit]],
    about: str,
    *,
    missing: tuple[str, ...] = (),
) -> Finding:
    """The size of *at* that leaves the least."""
    outcome: Compared | Missing = Missing(because=at.unmeasured)
    settle, keys = MEASURE, (*at.missing, *missing)
    if not keys:
        working, clear = max(fits(at), key=lambda fit: fit[0].value - fit[1].value)
        outcome = _held(scene, working, clear)
        settle = (
            f"It passes from a {clear.label} of {up_to_mm(working.value)} m on: clear the stretch, "
            "pack smaller, send smaller people, or plan another way out."
        )
        keys = (clear.source.key,)
    words = f"{at.what}: {about}"
    return finding(SMALL, outcome, settle_by=settle, keys=keys, space=scene.space, about=words)


def _held(scene: Scene, working: Working, clear: Quantity) -> Compared:
    return working.against(
        Relation.AT_MOST,
        clear,
        result=output("d_need", "clear size needed", Unit.M),
        slack=scene.defaults.of("opening-warning").value,
    )


def _beside(way: Way, at: Crawled) -> Finding:
    scene = way.scene
    outcome: Compared | Stated | Missing = Missing(because=at.unmeasured)
    settle, keys = MEASURE, at.missing
    if not keys:
        pairs = [
            _side_by_side(at, with_casualty(body, scene, person))
            for body in _team(way)
            for person in scene.entrants
        ]
        working, clear = max(pairs, key=lambda fit: fit[0].value - fit[1].value)
        outcome = _held(scene, working, clear)
        if working.value > clear.value and at.clear.rescuers is not None:
            needed = f"{working.value:.2f} m needed beside the casualty"
            outcome = Stated(holds=True, because=f"{needed}; {_WHERE[at.clear.rescuers]}")
        settle = (
            f"Nobody passes the casualty under a {clear.label} of {up(working.value)} m: say under "
            "rescuers who is ahead, behind or at both ends, and send them in in that order."
        )
        keys = (f"{at.key}.rescuers",)
    words = f"{way.name}, {at.what}"
    return finding(BESIDE, outcome, settle_by=settle, keys=keys, space=scene.space, about=words)


def _side_by_side(at: Crawled, body: Body) -> Fit:
    """A rescuer beside the casualty: in a pipe the smallest circle round both, else the width."""
    if at.clear.diameter is not None:
        return passage(at.pipe, body), at.pipe.available
    assert body.front is not None  # noqa: S101 - a casualty was put there
    other = body.front[0]
    width_m = beside_width_m(
        breadth_m=body.breadth_m, other_m=other.value, allowance_m=body.allowance.value
    )
    inputs = (*body.inputs, other, body.allowance)
    return Working(width_m, f"{body.breadth} + B_c + 2*c", inputs), at.side("width")
