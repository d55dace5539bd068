"""The measures that a section is drawn by, each known or guessed, and where they come from."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.arrangement.sketched import guessed
from planbuilder.checks.casualty import largest
from planbuilder.checks.scene import Way
from planbuilder.clearance.lift import Attachment, attachment_to_toe_m, feet_above_rim_m
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.shapes import Words

# Used only to draw something where a measure is missing: dashed, and named as a guess.
GUESSED_DEPTH_M = 3.0
GUESSED_OPENING_M = 0.6
GUESSED_HOOK_M = 2.2
DRAWN_HEAD_M = 0.1  # the head of a support above its hook, where nobody says how high it is


@dataclass(frozen=True, slots=True)
class Measures:
    """The measures of one section, each known or guessed.

    The line hangs at x = 0; *middle* is where the middle of the shaft stands beside it.
    """

    depth: float
    opening: float
    inside: float
    middle: float
    coaming: float
    neck: float
    liquid: float
    hook: float | None
    head: float
    guesses: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def left(self) -> float:
        """The left wall of the shaft."""
        return self.middle - self.inside / 2

    @property
    def right(self) -> float:
        """The right wall of the shaft."""
        return self.middle + self.inside / 2


@dataclass(frozen=True, slots=True)
class Picture:
    """What a section is drawn from: a way out, its measures, the reader's words, what failed."""

    way: Way
    measures: Measures
    words: Words
    marks: Marks

    @property
    def attachment(self) -> Attachment:
        """Where the line is drawn to the body: at the back, if nobody said where."""
        stated = self.way.rig.attachment if self.way.rig else None
        return Attachment(stated.value) if stated else Attachment.DORSAL

    @property
    def to_toe_m(self) -> float:
        """From the attachment to the toes of the tallest casualty, in m."""
        return attachment_to_toe_m(
            attachment=self.attachment,
            stature_m=largest(self.way.scene, "stature").value,
            harness_stretch_m=self.way.scene.defaults.of("hanging-stretch").value,
        )

    @property
    def feet_m(self) -> float | None:
        """The toes above the rim at full lift, in m, or None where that is not known."""
        rig, hook = self.way.rig, self.measures.hook
        if rig is None or hook is None or rig.block is None or rig.connector is None:
            return None
        if rig.hook_height is None or rig.attachment is None:
            return None
        return feet_above_rim_m(
            hook_height_m=hook,
            block_m=rig.block.m,
            connector_m=rig.connector.m,
            sling_m=rig.sling.m if rig.sling else 0.0,
            attachment_to_toe_m=self.to_toe_m,
            coaming_m=self.measures.coaming,
        )


def measures(way: Way) -> Measures:
    """The measures of the section of *way*."""
    scene = way.scene
    opening, shape, depth = scene.space.opening, scene.space.shape, scene.down[0]
    clear = opening.diameter or opening.width
    clear_m = clear.m if clear else GUESSED_OPENING_M
    plumb = way.rig.plumb_at if way.rig else None
    head_m, notes = _head(way)
    return Measures(
        depth=depth.m if depth else GUESSED_DEPTH_M,
        opening=clear_m,
        inside=max(shape.inside_width.m if shape.inside_width else 2 * clear_m, clear_m),
        middle=-plumb[0].m if plumb else 0.0,
        coaming=opening.coaming.m if opening.coaming else 0.0,
        neck=opening.neck.m if opening.neck else 0.0,
        liquid=shape.liquid_depth.m if shape.liquid_depth else 0.0,
        hook=_hook(way),
        head=head_m,
        guesses=tuple(guessed(way)),
        notes=notes,
    )


def _hook(way: Way) -> float | None:
    if way.rig is None:
        return None
    return way.rig.hook_height.m if way.rig.hook_height else GUESSED_HOOK_M


def _head(way: Way) -> tuple[float, tuple[str, ...]]:
    """How far the top of the support stands above its hook, and what is said about it."""
    rig = way.rig
    if rig is None:
        return DRAWN_HEAD_M, ()
    if rig.overhead is not None and rig.overhead.head_above_hook is not None:
        return rig.overhead.head_above_hook.m, ()
    if rig.top_height and rig.hook_height and rig.top_height.m >= rig.hook_height.m:
        return rig.top_height.m - rig.hook_height.m, ()
    return DRAWN_HEAD_M, ("How far the support stands above its hook is not stated.",)
