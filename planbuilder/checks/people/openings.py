"""Several openings under one team: are they open at once, and can it be at each in time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.scene import Scene, Working, finding, output, stated
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.checks.timing.routes import way_between
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
from planbuilder.response.teams import DAY_S, cover_s, later_by_s, open_at_once
from planbuilder.site.method import Method
from planbuilder.site.space import Space

COVERS = Rule(
    "response/team-covers-too-much",
    "One team for each opening that it can reach in time",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a team can be in one place; one event can take two openings"),
)

Answer = tuple[Compared | Stated | Missing, tuple[str, ...]]  # with the keys to touch


@dataclass(frozen=True, slots=True)
class Daily:
    """Between when and when somebody may be inside, each day, in s."""

    start_s: float
    stay_s: float


def daily(space: Space) -> Daily | None:
    """The hours of work in *space*, if both ends are stated."""
    first, last = space.task.enter_from, space.task.out_by
    if first is None or last is None:
        return None
    return Daily(first.s, later_by_s(last.s, than_s=first.s) or DAY_S)


def same_days(scene: Scene) -> list[Space]:
    """Other openings worked in on a day of this one, by somebody who is in the team here."""
    own, team = scene.space, _team(scene.space)
    return [
        one
        for one in scene.site.space
        if one.id != own.id and _share_a_day(own, one) and team & (_team(one) | _held_there(one))
    ]


def meanwhile(scene: Scene) -> list[Space]:
    """Other spaces worked in at the same hours of a day; hours not stated count as all day."""
    own = scene.space
    return [
        one
        for one in scene.site.space
        if one.id != own.id and _share_a_day(own, one) and _share_an_hour(daily(own), daily(one))
    ]


def at_once(scene: Scene) -> list[Space]:
    """Those of them that may be open at the same time; hours not stated count as all day."""
    return [one for one in same_days(scene) if _share_an_hour(daily(scene.space), daily(one))]


def open_together(one: Space, other: Space) -> bool:
    """Whether both may be open at the same time; hours not stated count as all day."""
    return _share_a_day(one, other) and _share_an_hour(daily(one), daily(other))


def _share_a_day(one: Space, other: Space) -> bool:
    ends = one.task.finish or one.task.start, other.task.finish or other.task.start
    return one.task.start <= ends[1] and other.task.start <= ends[0]


def _share_an_hour(one: Daily | None, other: Daily | None) -> bool:
    if one is None or other is None:
        return True
    return open_at_once(
        start_s=one.start_s,
        stay_s=one.stay_s,
        other_start_s=other.start_s,
        other_stay_s=other.stay_s,
    )


def _team(space: Space) -> set[str]:
    methods: list[Method] = [space.rescue.primary]
    methods += [space.rescue.fallback] if space.rescue.fallback else []
    people = {f"person {one.person}" for method in methods for one in method.crew}
    return people | {f"service {one.service}" for one in methods if one.service}


def _held_there(space: Space) -> set[str]:
    """Whoever is inside or watches: nobody can call them away."""
    relief = [space.relief_attendant] if space.relief_attendant else []
    return {f"person {one}" for one in (*space.entrants, *space.attendant, *relief)}


def check_team_covers(scene: Scene) -> Iterator[Finding]:
    """A team that covers several openings at once can be at each in time, and stops the others."""
    others = at_once(scene)
    if not others:
        return
    names = ", ".join(one.name for one in others)
    outcome, keys = _tied(scene, others) or _linked(scene, others) or _reach(scene)
    if isinstance(outcome, Missing):
        outcome = Missing(because=f"same team as {names}, open at once; {outcome.because}")
    yield finding(
        COVERS,
        outcome,
        settle_by="Work there at other hours and state enter_from and out_by of each, name a "
        "second team, or state linked_to and cover: how soon the team is ready here, and that "
        "the others stop.",
        keys=keys,
        space=scene.space,
        about=names,
    )


def _tied(scene: Scene, others: list[Space]) -> Answer | None:
    """Nobody of the team here is inside, or keeps watch, at another opening."""
    tied = [
        f"{scene.person(name.removeprefix('person ')).name} ({one.name})"
        for one in others
        for name in sorted(_team(scene.space) & _held_there(one))
    ]
    if not tied:
        return None
    words = f"inside or on watch elsewhere at the time: {', '.join(tied)}"
    return Stated(holds=False, because=words), (scene.key("rescue"), scene.key("task.enter_from"))


def _linked(scene: Scene, others: list[Space]) -> Answer | None:
    """One event that takes both openings needs two teams."""
    key = scene.key("linked_to")
    linked = [
        one.name
        for one in others
        if one.id in (scene.space.linked_to or []) or scene.space.id in (one.linked_to or [])
    ]
    if linked:
        words = f"one event can make unsafe at once, under one team: {', '.join(linked)}"
        return Stated(holds=False, because=words), (key, scene.key("task.enter_from"))
    if scene.space.linked_to is None:
        return Missing(because="linked to not given"), (key,)
    return None


def _reach(scene: Scene) -> Answer:
    cover, key = scene.space.cover, scene.key("cover")
    on_foot = way_between(scene, cover.way, f"{key}.way")
    missing = [f"{key}.{one}" for one in ("notify", "derig", "rig") if getattr(cover, one) is None]
    missing += [f"{key}.don"] if cover.don is None and _wears_sets(scene) else []
    missing += on_foot if isinstance(on_foot, tuple) else ()
    missing += [f"{key}.stop_others"] if cover.stop_others is None else []
    if missing or isinstance(on_foot, tuple):
        words = ", ".join(one.removeprefix(f"{key}.").replace("_", " ") for one in missing)
        return Missing(because=f"{words} not given"), tuple(missing)
    if not cover.stop_others:
        words = "the others go on working while their team is away"
        return Stated(holds=False, because=words), (f"{key}.stop_others",)
    return _ready(scene, on_foot), (f"{key}.way", f"{key}.rig")


def _ready(scene: Scene, on_foot: Working) -> Compared:
    cover, key = scene.space.cover, scene.key("cover")
    given = {
        name: stated(f"t_{name}", label, time, Unit.S, f"{key}.{name}")
        for name, label, time in (
            ("notify", "to reach the team", cover.notify),
            ("derig", "to leave the other opening", cover.derig),
            ("rig", "to rig here", cover.rig),
            ("don", "to don sets", cover.don),
        )
        if time is not None
    }

    def seconds(name: str) -> float:
        return given[name].value if name in given else 0.0

    value = cover_s(
        notify_s=seconds("notify"),
        derig_s=seconds("derig"),
        walk_s=on_foot.value,
        rig_s=seconds("rig"),
        don_s=seconds("don"),
    )
    formula = " + ".join([*(one.symbol for one in given.values()), on_foot.formula])
    inputs: tuple[Quantity, ...] = (*given.values(), *on_foot.inputs)
    return Working(value, formula, inputs).against(
        Relation.AT_MOST,
        air_limit(scene),
        result=output("t_ready", "team ready here, from another opening", Unit.S),
    )


def _wears_sets(scene: Scene) -> bool:
    return any(way.method.breathing_set for way in scene.ways())
