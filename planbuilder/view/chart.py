"""The bars of a timeline on paper: millimetres and words."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.sketches.bars import Bar, Bars, Moment
from planbuilder.view.numbers import half_minutes, stopwatch
from planbuilder.view.scales import Rounding

WIDTH_MM = 180.0
NAMES_MM = 42.0  # the column of step names
RIGHT_MM = 14.0  # room for the time of what runs off the paper
ROW_MM = 5.0
HEAD_MM = 6.0
BAR_MM = 2.6
TICK_S = (15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200)
MOST_TICKS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRow:
    """One row: a bar with its tail, or a clock from ordinary to planned."""

    name: str
    y: str
    text_y: str
    x: str
    width: str
    tail_x: str
    tail_width: str
    decides: bool
    beyond: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A line of the time axis."""

    x: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """Everything that the SVG template of a timeline needs, as strings."""

    alt: str
    width: str
    height: str
    names_x: str
    beyond_x: str
    top: str
    bottom: str
    axis_y: str
    rows: tuple[BarRow, ...]
    clocks: tuple[BarRow, ...]
    ticks: tuple[Tick, ...]
    limit_x: str
    limit_text: str


@dataclass(frozen=True, slots=True)
class _Axis:
    end_s: float

    def x(self, time_s: float) -> float:
        room = WIDTH_MM - NAMES_MM - RIGHT_MM
        return NAMES_MM + room * min(max(time_s, 0.0), self.end_s) / self.end_s


def chart(picture: Bars, names: dict[str, str], alt: str) -> Chart:
    """The chart of *picture*; *names* says what a clock is called."""
    axis = _Axis(picture.end_s)
    rows = tuple(_bar(one, number, axis) for number, one in enumerate(picture.bars))
    count = len(rows)
    clocks = tuple(
        _clock(one, names[one.name], count + number, axis)
        for number, one in enumerate(picture.moments)
    )
    bottom = HEAD_MM + (count + len(clocks)) * ROW_MM + 1
    return Chart(
        alt=alt,
        width=_n(WIDTH_MM),
        height=_n(bottom + 6),
        names_x=_n(NAMES_MM - 2),
        beyond_x=_n(WIDTH_MM - RIGHT_MM + 1),
        top=_n(HEAD_MM - 1),
        bottom=_n(bottom),
        axis_y=_n(bottom + 4),
        rows=rows,
        clocks=clocks,
        ticks=tuple(Tick(_n(axis.x(at)), stopwatch(at)) for at in _ticks(picture.end_s)),
        limit_x=_n(axis.x(picture.limit_s)),
        limit_text=f"limit {stopwatch(picture.limit_s, Rounding.DOWN)}",
    )


def _bar(one: Bar, number: int, axis: _Axis) -> BarRow:
    end_s = max(one.usual_end_s, one.slow_end_s)
    return _row(
        one.name,
        number,
        axis,
        (one.start_s, one.usual_end_s, end_s),
        decides=one.decides,
        beyond=_beyond(end_s, one.usual_end_s, stopwatch(one.usual_end_s), axis),
    )


def _clock(one: Moment, name: str, number: int, axis: _Axis) -> BarRow:
    return _row(
        name,
        number,
        axis,
        (one.ordinary_s, one.ordinary_s, one.planned_s),
        decides=True,
        beyond=_beyond(one.planned_s, one.ordinary_s, half_minutes(one.ordinary_s), axis),
    )


def _beyond(end_s: float, usual_s: float, usual: str, axis: _Axis) -> str:
    """What stands at the end of a row that runs off the paper.

    Always the usual end, so that rows compare: slow times of steps do not add up to a slow clock.
    """
    if end_s <= axis.end_s:
        return ""
    return f"> {usual}" if usual_s > axis.end_s else ">"


def _row(
    name: str,
    number: int,
    axis: _Axis,
    times_s: tuple[float, float, float],
    *,
    decides: bool,
    beyond: str,
) -> BarRow:
    start, usual, slow = (axis.x(one) for one in times_s)
    y = HEAD_MM + number * ROW_MM
    return BarRow(
        name=name,
        y=_n(y + (ROW_MM - BAR_MM) / 2),
        text_y=_n(y + ROW_MM / 2 + 1.0),
        x=_n(start),
        width=_n(usual - start),
        tail_x=_n(usual),
        tail_width=_n(slow - usual),
        decides=decides,
        beyond=beyond,
    )


def _ticks(end_s: float) -> range:
    step = next((one for one in TICK_S if end_s / one <= MOST_TICKS), TICK_S[-1])
    return range(0, int(end_s) + 1, step)


def _n(value: float) -> str:
    return f"{value:.2f}"
