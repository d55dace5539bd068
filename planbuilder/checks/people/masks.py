"""Is each fit test one of the mask that goes with the set of the plan?"""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.people.training import IN_SETS, fresh_fit_tests
from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.people import Person

MASK = Rule(
    "plan/fit-test-other-mask",
    "Fit test with the mask of the set that is worn",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(f)(2)"),
)


def check_mask(scene: Scene) -> Iterator[Finding]:
    """A fit test counts for the mask that it was made with, and for no other."""
    for way in scene.ways():
        worn = way.method.breathing_set
        wearers = {one.person: None for one in way.method.crew if one.role in IN_SETS}
        people = [scene.person(one) for one in wearers]
        tested = [one for one in people if fresh_fit_tests(scene, one)]
        if worn is None or not tested:
            continue  # that there is no fit test is another finding
        yield finding(
            MASK,
            _fitted(way, worn, tested),
            settle_by="State under fitted_to which equipment each fit test was made with; test "
            "again with the mask that is worn.",
            keys=tuple(f"person.{one.id}.certificate" for one in tested),
            space=scene.space,
            about=way.name,
        )


def _fitted(way: Way, worn: str, people: list[Person]) -> Stated | Missing:
    name = way.scene.equipment(worn).name
    other: list[str] = []
    unsaid: list[str] = []
    for one in people:
        masks = [test.fitted_to for test in fresh_fit_tests(way.scene, one)]
        if any(worn in each for each in masks):
            continue
        (other if all(masks) else unsaid).append(one.name)
    if other:
        return Stated(holds=False, because=f"{name}: tested with another mask: {', '.join(other)}")
    if unsaid:
        return Missing(because=f"{name}: with which mask is not stated: {', '.join(unsaid)}")
    return Stated(holds=True, because=f"{name}: {', '.join(one.name for one in people)}")
