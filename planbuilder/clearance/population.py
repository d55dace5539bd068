"""Share of a surveyed group that passes an opening; a note for the reader, never a verdict.

Each size is spread so that its 5th, 50th and 95th percentile are those of the survey (a shifted
lognormal), and breadth and depth go together by a Gaussian copula. Held against counts of the
survey itself, the share is right to four in a hundred, and to three at a round opening.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

# Steps of the sum over breadths, from 5 deviations below the median to 5 above.
STEPS = 1000
REACH = 5.0
SCORES = tuple(REACH * (2 * step / STEPS - 1) for step in range(STEPS + 1))
WEIGHTS = tuple(math.exp(-(score**2) / 2) for score in SCORES)

# The standard normal score of the 95th percentile; of the 5th with a minus.
SCORE_95 = 1.6448536269514722
# Below this skew a lognormal is a normal distribution, and its formula divides by nothing.
EVEN = 1e-6


@dataclass(frozen=True, slots=True)
class Spread:
    """A size in m by its 5th, 50th and 95th percentile."""

    low_m: float
    middle_m: float
    high_m: float

    @property
    def skew(self) -> float:
        """How much wider the spread is for each score upward; 0 for a normal distribution."""
        up_m, down_m = self.high_m - self.middle_m, self.middle_m - self.low_m
        return math.log(up_m / down_m) / SCORE_95

    def size_m(self, score: float) -> float:
        """The size that lies *score* standard deviations of a normal variable above the median."""
        skew = self.skew
        if abs(skew) < EVEN:
            return self.middle_m + self._even_m * score
        return self.middle_m + self._scale_m(skew) * math.expm1(skew * score)

    def score(self, size_m: float) -> float:
        """The score of *size_m*: minus infinity below the least size there is."""
        skew = self.skew
        if abs(skew) < EVEN:
            return (size_m - self.middle_m) / self._even_m
        share = (size_m - self.middle_m) / self._scale_m(skew)
        if share <= -1:
            return math.copysign(math.inf, -skew)
        return math.log1p(share) / skew

    @property
    def _even_m(self) -> float:
        return (self.high_m - self.low_m) / (2 * SCORE_95)

    def _scale_m(self, skew: float) -> float:
        return (self.high_m - self.middle_m) / math.expm1(skew * SCORE_95)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """How shoulder breadth and body depth are spread, and how they go together."""

    breadth: Spread
    depth: Spread
    correlation: float


def share_passing(group: Group, deepest_m: Callable[[float], float]) -> float:
    """Share of *group* whose depth is at most *deepest_m* of their breadth, 0 to 1.

    *deepest_m* gives the deepest body, in m, that passes with a breadth in m (below 0: none).
    """
    own = math.sqrt(1 - group.correlation**2)
    total = 0.0
    for score, weight in zip(SCORES, WEIGHTS, strict=True):
        room_m = deepest_m(group.breadth.size_m(score))
        if room_m > 0:
            room = group.depth.score(room_m)
            total += weight * _below((room - group.correlation * score) / own)
    return total / sum(WEIGHTS)


def deepest_through_round_m(diameter_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through a round opening, in m; below 0: none."""
    return diameter_m if breadth_m <= diameter_m else -1.0


def deepest_through_oval_m(long_m: float, short_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through an oval opening of two axes, in m; below 0: none."""
    if breadth_m <= short_m:
        return long_m
    return short_m if breadth_m <= long_m else -1.0


def deepest_through_rectangle_m(long_m: float, short_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through a rectangular opening, in m; below 0: none.

    An ellipse at the best turn: its lesser axis within the short side, and its box in the opening.
    """
    diagonal_m2 = long_m**2 + short_m**2 - breadth_m**2
    if diagonal_m2 <= 0:
        return -1.0
    box_m = math.sqrt(diagonal_m2)
    return box_m if breadth_m <= short_m else min(box_m, short_m)


def _below(score: float) -> float:
    return (1 + math.erf(score / math.sqrt(2))) / 2
