"""Text copied from another space: said of a place of another shape, or naming the other place."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Rule, Source, Stated, Weight
from planbuilder.site.file import Site
from planbuilder.site.space import Space

COPIED = Rule(
    "plan/text-copied",
    "Text written for this space",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="common fault: a plan copied from another job"),
)
NAMED = Rule(
    "plan/other-space-named",
    "No other space named in the text of this one",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="common fault: a plan copied from another job"),
)
ALIKE = 0.95
SHORTEST = 60  # characters: shorter texts repeat in honest plans


def _texts(space: Space) -> Iterator[tuple[str, str]]:
    """The free text of a space, each with its key."""
    yield "where", space.where
    if space.cautions:
        yield "cautions", space.cautions
    for number, hazard in enumerate(space.hazard, 1):
        yield f"hazard[{number}].control", hazard.control
    for number, case in enumerate(space.scenario, 1):
        if case.describe:
            yield f"scenario[{number}].describe", case.describe
    for name in ("primary", "fallback"):
        method = getattr(space.rescue, name)
        if method is not None:
            yield f"rescue.{name}.describe", method.describe
            if method.free_first:
                yield f"rescue.{name}.free_first", method.free_first


def _like(first: str, second: str) -> bool:
    if first == second:
        return True
    match = difflib.SequenceMatcher(None, first, second, autojunk=False)
    quick = match.real_quick_ratio() > ALIKE and match.quick_ratio() > ALIKE
    return quick and match.ratio() > ALIKE


def _plain(text: str) -> str:
    return " ".join(text.lower().split())


def _long_texts(site: Site) -> tuple[tuple[Space, str, str], ...]:
    """Every text of the site that is long enough to be recognised, with space and key."""
    return tuple(
        (space, key, _plain(text))
        for space in site.space
        for key, text in _texts(space)
        if len(text) >= SHORTEST
    )


def check_copied(scene: Scene) -> Iterator[Finding]:
    """No long text of this space also stands, nearly word for word, at one of another shape."""
    if len(scene.site.space) == 1:
        return
    here, everything = scene.space, _long_texts(scene.site)
    rooms = (here.opening, here.shape)
    found = [
        (key, f"{key.replace('_', ' ')} reads like {other.name}, {other_key.replace('_', ' ')}")
        for space, key, text in everything
        if space is here
        for other, other_key, other_text in everything
        if other is not here and (other.opening, other.shape) != rooms and _like(text, other_text)
    ]
    words = "; ".join(dict.fromkeys(words for _, words in found))
    yield finding(
        COPIED,
        Stated(holds=not found, because=words or "no long text repeats one of another space"),
        settle_by="Read it at the opening and write what holds here; or have somebody accept it "
        "as an override, with the reason.",
        keys=tuple(dict.fromkeys(scene.key(key) for key, _ in found)) or (scene.key("where"),),
        space=scene.space,
    )


def check_named(scene: Scene) -> Iterator[Finding]:
    """The text of this space names no other space, unless that is linked to it."""
    here = scene.space
    others = [
        one
        for one in scene.site.space
        if one is not here and one.id not in (here.linked_to or ()) and one.name != here.name
    ]
    if not others:
        return
    names = {name: _plain(name) for other in others for name in (other.name, other.sign)}
    found = [
        (key, f"{key.replace('_', ' ')} names {name}")
        for key, text in ((key, _plain(text)) for key, text in _texts(here))
        for name, plain in names.items()
        if plain in text
        and name not in (here.name, here.sign)
        # Not "Pit 1" in "pit 12".
        and re.search(rf"\b{re.escape(plain)}\b", text)
    ]
    words = "; ".join(dict.fromkeys(words for _, words in found))
    yield finding(
        NAMED,
        Stated(holds=not found, because=words or "no other space is named"),
        settle_by=f"Is this the plan of {here.name}? Correct the text, or state linked_to where "
        "the spaces belong together.",
        keys=tuple(dict.fromkeys(scene.key(key) for key, _ in found)) or (scene.key("where"),),
        space=scene.space,
    )
