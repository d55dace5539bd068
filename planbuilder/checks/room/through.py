"""Clearance: casualty, rescuer with set, and both together through every ring of the way out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache, partial

from planbuilder.checks.room.bodies import (
    Body,
    arms_down,
    arms_up,
    passage,
    with_casualty,
    with_set,
)
from planbuilder.checks.room.rings import SETTLE, Clear, rings, tightest, unmeasured
from planbuilder.checks.scene import Scene, Way, Working, finding
from planbuilder.clearance.population import (
    Group,
    Spread,
    deepest_through_oval_m,
    deepest_through_rectangle_m,
    deepest_through_round_m,
    share_passing,
)
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.method import CrewRole, MethodKind
from planbuilder.site.opening import OpeningShape
from planbuilder.site.rig import Attach
from planbuilder.tables import table

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
CASUALTY = Rule(
    "clearance/casualty-too-wide", "Casualty through the opening", Weight.BLOCKS, GEOMETRY
)
ARMS_UP = Rule(
    "clearance/casualty-passes-arms-up-only",
    "Casualty through the opening if the arms come down",
    Weight.WARNS,
    GEOMETRY,
)
RESCUER = Rule(
    "clearance/rescuer-with-set-too-big",
    "Rescuer with breathing set through the opening",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="A.II.7, B.8"),
)
PAIR = Rule(
    "clearance/pair-too-big",
    "Casualty and the rescuer who rides along through the opening together",
    Weight.BLOCKS,
    GEOMETRY,
)
SHARE = Rule(
    "clearance/few-people-pass",
    "Share of surveyed people who pass the opening",
    Weight.NOTES,
    Source(mark=Mark.READ, document="NATICK/TR-15/007"),
)
PUBLISHED = Rule(
    "clearance/below-published-opening",
    "Opening against published least openings",
    Weight.NOTES,
    Source(mark=Mark.RECALLED, document="BS 470", note="and those that the finding names"),
)


def check_casualty_passes(scene: Scene) -> Iterator[Finding]:
    """The broadest entrant, clothed, passes every ring; arms up only where wristlets draw them."""
    if not scene.space.is_confined:
        return
    down = [arms_down(scene, one) for one in scene.entrants]
    drawn_up = [way for way in scene.ways() if _by_wrists(way)]
    if len(drawn_up) < len(tuple(scene.ways())):
        yield tightest(scene, CASUALTY, partial(_each, down), settle=_advice(scene))
    for way in drawn_up:
        up = [arms_up(scene, one) for one in scene.entrants]
        yield tightest(scene, CASUALTY, partial(_each, up), about=f"{way.name}, arms up")
        yield tightest(
            scene,
            ARMS_UP,
            partial(_each, down),
            about=way.name,
            settle="Keep the wristlets on until the casualty is out; know what is done if an arm "
            "slips back in the opening.",
        )


def check_rescuer_passes(scene: Scene) -> Iterator[Finding]:
    """Whoever must go in with a set on the back passes every ring with it."""
    for way in scene.ways():
        if way.method.method is not MethodKind.ENTRY or not scene.space.is_confined:
            continue
        team = way.crew(CrewRole.ENTRY) + way.crew(CrewRole.BACK_UP)
        bodies = [with_set(arms_down(scene, one), way) for one in team or (None,)]
        yield tightest(scene, RESCUER, partial(_each, bodies), about=way.name)


def check_pair_passes(scene: Scene) -> Iterator[Finding]:
    """A rescuer who rides along on the line passes with the casualty held in front."""
    for way in scene.ways():
        if way.rig is None or way.rig.rides_along is None or not scene.space.is_confined:
            continue
        rider = arms_down(scene, scene.person(way.rig.rides_along))
        if way.method.breathing_set is not None:
            rider = with_set(rider, way)
        bodies = [with_casualty(rider, scene, one) for one in scene.entrants]
        yield tightest(
            scene,
            PAIR,
            partial(_each, bodies),
            about=way.name,
            settle="Raise casualty and rescuer one after the other, or plan another way out.",
        )


def check_share(scene: Scene) -> Iterator[Finding]:
    """How many of the surveyed soldiers would pass the rings, as a note for the reader."""
    if not scene.space.is_confined:
        return
    missing = unmeasured(scene)
    outcome: Stated | Missing = Missing(because="the smallest clear opening is not measured")
    if not missing:
        note = table("body_sizes")["note"]
        shares = {name: _share(scene, name) for name in ("men", "women")}
        words = ", ".join(f"{100 * share:.0f} % of {name}" for name, share in shares.items())
        because = f"arms down, clothed, by a model of the survey: about {words}; {note}"
        outcome = Stated(holds=min(shares.values()) >= HALF, because=because)
    yield finding(
        SHARE,
        outcome,
        settle_by="Measure everybody who may go in: many people do not pass here arms down.",
        keys=missing or (scene.key("opening"),),
        space=scene.space,
    )


def check_published(scene: Scene) -> Iterator[Finding]:
    """The rings against published least openings: a comparison, never a verdict on the plan."""
    if not scene.space.is_confined:
        return
    missing = unmeasured(scene)
    outcome: Stated | Missing = Missing(because="the smallest clear opening is not measured")
    if not missing:
        side = "side" if scene.space.opening.from_side else "up"
        rows = [one for one in table("least_openings")["opening"] if one["facing"] in (side, "any")]
        sizes = [_sizes(one) for one in rings(scene)]
        below = [one for one in rows if not all(_as_large(ring, one) for ring in sizes)]
        here = [_named(one) for one in below if "elsewhere" not in one]
        elsewhere = [_named(one) for one in below if "elsewhere" in one]
        words = f"below {'; '.join(here)}" if here else "as large as every one that may hold here"
        if elsewhere:
            words += f"; below what holds elsewhere: {'; '.join(elsewhere)}"
        outcome = Stated(holds=not here, because=words)
    yield finding(
        PUBLISHED,
        outcome,
        settle_by="Nothing here decides: a drill through this very opening, with the sets, shows "
        "what passes.",
        keys=missing or (scene.key("opening"),),
        space=scene.space,
    )


# Below it, whoever is sent in at short notice may well not come out upright.
HALF = 0.5


def _by_wrists(way: Way) -> bool:
    return way.rig is not None and way.rig.attachment is Attach.WRISTLETS


def _each(bodies: list[Body], ring: Clear) -> list[Working]:
    return [passage(ring, one) for one in bodies]


def _advice(scene: Scene) -> str:
    """Where the casualty passes with the arms drawn up, that is said: the smallest change."""
    if unmeasured(scene):
        return SETTLE
    up = [arms_up(scene, one) for one in scene.entrants]
    passes = all(
        work.value <= ring.available.value for ring in rings(scene) for work in _each(up, ring)
    )
    words = " With the arms drawn up by wristlets the casualty would pass." if passes else ""
    return SETTLE + words


def _share(scene: Scene, name: str) -> float:
    allowance_m = scene.defaults.of("opening-allowance").value
    return min(_share_through(name, *_sizes(one), allowance_m) for one in rings(scene))


def _sizes(ring: Clear) -> tuple[OpeningShape | None, float, float]:
    """Shape of *ring*, its long side, and its short side or diameter, in m."""
    short_m = ring.available.value
    return ring.ring.shape, short_m if ring.is_round else ring.long_side.value, short_m


@lru_cache(maxsize=256)
def _share_through(
    name: str, shape: OpeningShape | None, long_m: float, short_m: float, allowance_m: float
) -> float:
    """Share of a group that passes one ring; many openings of a site are alike."""
    group = _group(name)

    def deepest_m(breadth_m: float) -> float:
        """The deepest body that passes, both sizes without clothing."""
        clothed_m = breadth_m + allowance_m
        if shape is OpeningShape.ROUND:
            return deepest_through_round_m(short_m, clothed_m) - allowance_m
        is_oval = shape is OpeningShape.OVAL
        through = deepest_through_oval_m if is_oval else deepest_through_rectangle_m
        return through(long_m, short_m, clothed_m) - allowance_m

    return share_passing(group, deepest_m)


@cache
def _group(name: str) -> Group:
    """A group of the survey. A body is as deep as chest or belly, whichever is deeper."""
    sizes = table("body_sizes")[name]
    deep = map(max, sizes["body-depth"], sizes["abdominal-depth-sitting"])
    return Group(
        breadth=Spread(*sizes["shoulder-breadth"][:3]),
        depth=Spread(*tuple(deep)[:3]),
        correlation=table("body_sizes")["jointly"][name],
    )


def _as_large(ring: tuple[OpeningShape | None, float, float], row: dict[str, float]) -> bool:
    """Round rows are for round rings, the others for those with two sides."""
    shape, long_m, short_m = ring
    is_round = shape is OpeningShape.ROUND
    if is_round or "round" in row:
        return is_round is not ("round" in row) or short_m >= row["round"]
    return short_m >= row["short"] and long_m >= row["long"]


def _named(row: dict[str, str | float]) -> str:
    size = f"{row['round']} m round" if "round" in row else f"{row['long']} by {row['short']} m"
    clause = f" {row['clause']}" if "clause" in row else ""
    return f"{size} ({row['document']}{clause}, {row['mark']}: {row['what']})"
