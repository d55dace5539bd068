"""What the user can put right. Anything else is our bug and keeps its traceback."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


class PlanbuilderError(Exception):
    """The message is for the user: it says what is wrong and what to do about it."""


class MissingLibraryError(PlanbuilderError):
    """A system library that only the PDF output needs is not there."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong in a file: where it stands and what to do about it."""

    line: int
    key: str
    text: str


class FileProblemsError(PlanbuilderError):
    """Everything wrong with one TOML file, one line each, in the order of the file."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        """Keep the problems for callers; the message lists them all."""
        self.path = path
        self.problems = tuple(sorted(problems))
        rows = [f"{path}:{one.line}: {one.key}: {one.text}" for one in self.problems]
        super().__init__("\n".join(rows))
