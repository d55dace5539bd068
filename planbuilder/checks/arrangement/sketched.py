"""What the sketch of a way out has to guess, because the site file does not say."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight

SCALE = Rule(
    "plan/sketch-not-to-scale",
    "Measures that the sketch needs to be to scale",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a stranger reads the picture first, and believes it"),
)


def guessed(way: Way) -> dict[str, tuple[str, ...]]:
    """What a section of *way* has to guess, each with the keys that would settle it."""
    scene, rig = way.scene, way.rig
    opening, shape, (depth, down) = scene.space.opening, scene.space.shape, scene.down
    found: dict[str, tuple[str, ...]] = {}
    if scene.space.is_confined:
        if not (opening.diameter or opening.width):
            found["opening"] = (scene.key("opening.diameter"), scene.key("opening.width"))
        if shape.inside_width is None:
            found["inside width"] = (scene.key("shape.inside_width"),)
    if depth is None:
        found["depth"] = (scene.key(down),)
    if rig is not None:
        if rig.hook_height is None:
            found["hook height"] = (way.key("rig.hook_height"),)
        if not (rig.block and rig.connector):
            found["block and connector"] = (way.key("rig.block"), way.key("rig.connector"))
        if rig.attachment is None:
            found["attachment"] = (way.key("rig.attachment"),)
    return found


def check_to_scale(scene: Scene) -> Iterator[Finding]:
    """Where a section is drawn, its measures are known; what is guessed is named."""
    for way in scene.ways():
        if way.rig is None or scene.space.opening.from_side:
            continue
        missing = guessed(way)
        yield finding(
            SCALE,
            Missing(because=f"drawn NOT TO SCALE, guessed: {', '.join(missing)}")
            if missing
            else Stated(holds=True, because="every measure of the section is stated"),
            settle_by="Measure what is missing, and state it.",
            keys=tuple(key for keys in missing.values() for key in keys) or (way.key("rig"),),
            space=scene.space,
            about=way.name,
        )
