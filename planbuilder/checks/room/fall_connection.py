"""From the anchor to the D-ring before the fall: does it reach, from above, over which edge."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.falling import answered, arrest_distance, free_fall, measure
from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.clearance.fall import retractor_distance_m
from planbuilder.findings import (
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
from planbuilder.site.fall import Fall, LineEdge

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics", note="straight line from anchor to D-ring")
SHORT = Rule(
    "clearance/connector-too-short", "Connector reaches the D-ring", Weight.BLOCKS, GEOMETRY
)
PAID_OUT = Rule(
    "clearance/retractor-line-too-short",
    "Line left in the device for the arrest",
    Weight.BLOCKS,
    GEOMETRY,
)
BELOW = Rule(
    "clearance/lanyard-anchored-below-dring",
    "Lanyard anchored at the D-ring or above",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a longer free fall than the line wants an absorber for it"),
)
EDGE = Rule(
    "clearance/line-over-bare-edge",
    "Edges under the line in the fall",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="an edge cuts a line that a fall pulls over it"),
)
RETRACTOR = "self-retracting-line"
_WORDS = {
    LineEdge.NONE: "the line runs over no edge",
    LineEdge.PROTECTED: "the edge is padded or has a roller",
    LineEdge.RATED: "the equipment is marked for an edge",
    LineEdge.BARE: "the line runs over a bare edge",
}


def _upper_end(scene: Scene, fall: Fall, needs: Needs) -> Quantity:
    """The height of what the connector hangs from: the grab on its rope, or the anchor."""
    if fall.arrest == "rope-grab":
        return measure(scene, needs, "h_g", "grab height", fall.grab_height, "grab_height")
    return measure(scene, needs, "h_A", "anchor height", fall.anchor_height, "anchor_height")


def _apart(scene: Scene, fall: Fall, needs: Needs) -> Working:
    """How far the D-ring is from what the connector hangs from; a grab follows its user."""
    upper = _upper_end(scene, fall, needs)
    dring = measure(scene, needs, "h_D0", "D-ring height", fall.dring_height, "dring_height")
    if fall.arrest == "rope-grab":
        return Working(
            abs(upper.value - dring.value), "max(h_g - h_D0, h_D0 - h_g)", (upper, dring)
        )
    offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
    apart_m = retractor_distance_m(
        anchor_height_m=upper.value, dring_height_m=dring.value, offset_m=offset.value
    )
    return Working(apart_m, "sqrt(x**2 + (h_A - h_D0)**2)", (offset, upper, dring))


def check_connector(scene: Scene) -> Iterator[Finding]:
    """A lanyard is long enough to be clipped on where the work is."""
    fall = scene.space.fall
    if fall is None or fall.arrest == RETRACTOR:
        return
    needs = Needs()
    apart = _apart(scene, fall, needs)
    line = measure(scene, needs, "l", "connector", fall.connector, "connector")
    yield answered(
        SHORT,
        scene,
        needs,
        lambda: apart.against(
            Relation.AT_MOST, line, result=output("r", "from anchor to D-ring", Unit.M)
        ),
        settle_by=lambda: f"Use a connector of at least {up(apart.value)} m, or anchor nearer.",
        keys=(scene.key("fall.connector"), scene.key("fall.offset")),
    )


def check_paid_out(scene: Scene) -> Iterator[Finding]:
    """A self-retracting device still holds the line that it lets out while it stops the fall."""
    fall = scene.space.fall
    if fall is None or fall.arrest != RETRACTOR:
        return
    needs = Needs()
    apart, arrest = _apart(scene, fall, needs), arrest_distance(scene, fall, needs)
    length = scene.device(fall.device).line_length if fall.device else None
    key = f"device.{fall.device}.line_length" if fall.device else scene.key("fall.device")
    line = needs.take("l", "line of the device", length, Unit.M, key)
    out = Working(apart.value + arrest.value, f"{apart.formula} + a", (*apart.inputs, arrest))
    yield answered(
        PAID_OUT,
        scene,
        needs,
        lambda: out.against(
            Relation.AT_MOST, line, result=output("r", "line out when the fall stops", Unit.M)
        ),
        settle_by=lambda: (
            f"Use a device with at least {up(out.value)} m of line, or hang it nearer."
        ),
        keys=(key, scene.key("fall.offset")),
    )


def check_from_above(scene: Scene) -> Iterator[Finding]:
    """A lanyard anchored below the D-ring falls more than its length: the absorber must take it."""
    fall = scene.space.fall
    if fall is None or fall.arrest == RETRACTOR:
        return
    needs, taken = Needs(), fall.absorber.free_fall
    if taken is not None:
        key, falling = scene.key("fall.absorber.free_fall"), free_fall(scene, fall, needs)
        most = needs.take("FF_max", "free fall the absorber is marked for", taken, Unit.M, key)
        result, relation = output("FF", "free fall", Unit.M), Relation.AT_MOST
    else:
        upper, relation = _upper_end(scene, fall, needs), Relation.AT_LEAST
        falling = Working(upper.value, upper.symbol, (upper,))
        most = measure(scene, needs, "h_D0", "D-ring height", fall.dring_height, "dring_height")
        result, key = output(upper.symbol, upper.label, Unit.M), upper.source.key
    yield answered(
        BELOW,
        scene,
        needs,
        lambda: falling.against(relation, most, result=result),
        settle_by=lambda: _raised(fall, falling, most),
        keys=(key, scene.key("fall.absorber.free_fall")),
    )


def _raised(fall: Fall, falling: Working, most: Quantity) -> str:
    hang = "Keep the grab" if fall.arrest == "rope-grab" else "Anchor"
    if fall.absorber.free_fall is None:
        return (
            f"{hang} at least {up(most.value)} m above the surface, or state the free fall that "
            "the absorber is marked for (absorber.free_fall)."
        )
    lack_m = falling.value - most.value
    return f"{hang} {up(lack_m)} m higher, or use an absorber marked for {up(falling.value)} m."


def check_edge(scene: Scene) -> Iterator[Finding]:
    """Off the plumb line, or below the feet, a line may come to lie on an edge: what is there?"""
    fall = scene.space.fall
    if fall is None or (fall.edge is None and not _may_meet_edge(fall)):
        return
    outcome: Stated | Missing = Missing(because="nobody said what edge the line comes to lie on")
    if fall.edge is not None:
        outcome = Stated(holds=fall.edge is not LineEdge.BARE, because=_WORDS[fall.edge])
    yield finding(
        EDGE,
        outcome,
        settle_by="Anchor straight above the work, pad the edge or use equipment marked for an "
        'edge, and state edge: "none", "protected" or "rated-for-edge".',
        keys=(scene.key("fall.edge"),),
        space=scene.space,
    )


def _may_meet_edge(fall: Fall) -> bool:
    aside = fall.offset is not None and fall.offset.m > 0
    low = fall.anchor_height is not None and fall.anchor_height.m <= 0
    return aside or low
