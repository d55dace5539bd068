"""As many equations of statics as unknown forces, solved together. Standard library only."""

from collections.abc import Sequence

# A pivot this small beside the largest entry of its equation is rounding, not statics.
PIVOT_SLACK = 1e-12


def solve(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> tuple[float, ...]:
    """The unknowns x of *matrix* x = *right*, one row an equation.

    Gaussian elimination; rows are scaled to a largest entry of 1, and the largest pivot is taken.
    For the few unknowns of a rope system or a base. Raises ValueError unless there are as many
    equations as unknowns, or if the system is singular: the equations do not settle the unknowns.
    """
    size = len(right)
    if len(matrix) != size or any(len(row) != size for row in matrix):
        raise ValueError(
            f"needs a square system, as many equations as unknowns, got {len(matrix)} equations of "
            f"{sorted({len(row) for row in matrix})} unknowns and {size} right-hand sides"
        )
    rows = [_scaled(row, value) for row, value in zip(matrix, right, strict=True)]
    for column in range(size):
        _clear_below(rows, column)
    return _substituted(rows)


def _scaled(row: Sequence[float], value: float) -> list[float]:
    """The equation with its right-hand side at the end, its largest coefficient made 1."""
    largest = max(map(abs, row))
    if largest == 0:
        raise ValueError("the system is singular: one equation has no unknown in it")
    return [entry / largest for entry in (*row, value)]


def _clear_below(rows: list[list[float]], column: int) -> None:
    """Bring the largest pivot up to row *column* and clear the column below it."""
    pivot = max(range(column, len(rows)), key=lambda row: abs(rows[row][column]))
    rows[column], rows[pivot] = rows[pivot], rows[column]
    top = rows[column]
    if abs(top[column]) < PIVOT_SLACK:
        raise ValueError(f"the system is singular: unknown {column} is not settled by it")
    for row in rows[column + 1 :]:
        share = row[column] / top[column]
        for place in range(column, len(row)):
            row[place] -= share * top[place]


def _substituted(rows: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """The unknowns of an upper triangle of equations, from the last one back."""
    found: list[float] = []
    for column in reversed(range(len(rows))):
        *_, value = rows[column]
        known = rows[column][column + 1 : -1]
        rest = value - sum(one * x for one, x in zip(known, found, strict=True))
        found.insert(0, rest / rows[column][column])
    return tuple(found)
