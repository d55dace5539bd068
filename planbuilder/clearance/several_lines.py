"""Several lines in one column, seen from above: do they cross, how near do they hang. Derived."""

import math

Point = tuple[float, float]

# A nanometre: points nearer than this to a line are on it.
ON_LINE_M = 1e-9


def distance_m(first: Point, second: Point) -> float:
    """Distance between two points in plan, in m."""
    return math.dist(first, second)


def lines_cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    """True if two lines, each from its head to its entrant, meet anywhere but at a shared head.

    Lines that touch, or lie along each other, count as crossing: then one runs over the other.
    """
    (head, end), (other_head, other_end) = first, second
    turns = (
        _side_m(other_head, other_end, head),
        _side_m(other_head, other_end, end),
        _side_m(head, end, other_head),
        _side_m(head, end, other_end),
    )
    if _opposite(turns[0], turns[1]) and _opposite(turns[2], turns[3]):
        return True
    on_lines = (_is_on(end, second), _is_on(other_end, first))
    if distance_m(head, other_head) <= ON_LINE_M:
        return any(on_lines) and not _both_at(head, end, other_end)
    return any(on_lines) or _is_on(head, second) or _is_on(other_head, first)


def _both_at(head: Point, end: Point, other_end: Point) -> bool:
    """One of them hangs straight down from the shared head: there is nothing to cross."""
    return min(distance_m(head, end), distance_m(head, other_end)) <= ON_LINE_M


def _side_m(start: Point, end: Point, point: Point) -> float:
    """How far *point* lies to the left of the line from *start* to *end*, in m."""
    along = (end[0] - start[0], end[1] - start[1])
    beside = (point[0] - start[0], point[1] - start[1])
    length = math.hypot(*along)
    cross = along[0] * beside[1] - along[1] * beside[0]
    return cross / length if length > ON_LINE_M else math.hypot(*beside)


def _opposite(one_m: float, other_m: float) -> bool:
    return min(one_m, other_m) < -ON_LINE_M and max(one_m, other_m) > ON_LINE_M


def _is_on(point: Point, line: tuple[Point, Point]) -> bool:
    beyond_m = distance_m(point, line[0]) + distance_m(point, line[1]) - distance_m(*line)
    return beyond_m <= ON_LINE_M and abs(_side_m(*line, point)) <= ON_LINE_M
