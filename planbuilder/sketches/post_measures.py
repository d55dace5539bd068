"""The measures of a post with its arm, each known or guessed."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.scene import Way
from planbuilder.site.rig import Rig
from planbuilder.site.supports import PlatformPost, PostDavitArm
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.measures import GUESSED_DEPTH_M, GUESSED_HOOK_M
from planbuilder.sketches.shapes import Pen, Words

BEYOND_M = 0.25  # where the edge is not stated, the hook is drawn that far beyond it
GUESSED_REACH_M, GUESSED_HEIGHT_M = 0.8, 1.2


@dataclass(frozen=True, slots=True)
class Post:
    """A way that hangs on a post's arm, with the measures that it is drawn by."""

    way: Way
    rig: Rig
    arm: PostDavitArm
    post: PlatformPost
    words: Words
    marks: Marks
    reach: float
    height: float
    hook: float
    below: float
    edge: float
    guesses: tuple[str, ...]

    def pen(self, known: Pen, *names: str) -> Pen:
        """A dashed guess where one of *names* is not measured."""
        return Pen.GUESS if set(names) & set(self.guesses) else known


def measured(way: Way, words: Words, marks: Marks) -> Post | None:
    """The post and arm of *way*, or None where it hangs on no such arm."""
    rig = way.rig
    arm = way.scene.support(rig.support) if rig else None
    if rig is None or not isinstance(arm, PostDavitArm):
        return None
    post = way.scene.support(arm.post)
    if not isinstance(post, PlatformPost):
        return None
    reach = rig.reach.m if rig.reach else GUESSED_REACH_M
    edge, below = rig.anchor_to_edge or rig.stand.edge_distance, way.scene.down[0]
    known = {
        "reach": rig.reach,
        "height of the arm": rig.stand.height,
        "hook height": rig.hook_height,
        "height": below,
        "edge": edge,
    }
    return Post(
        way=way,
        rig=rig,
        arm=arm,
        post=post,
        words=words,
        marks=marks,
        reach=reach,
        height=rig.stand.height.m if rig.stand.height else GUESSED_HEIGHT_M,
        hook=rig.hook_height.m if rig.hook_height else GUESSED_HOOK_M,
        below=below.m if below else GUESSED_DEPTH_M,
        edge=edge.m if edge else max(0.0, reach - BEYOND_M),
        guesses=tuple(name for name, one in known.items() if one is None),
    )
