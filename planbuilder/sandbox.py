"""Templates of users, run where they reach the words of the plan and nothing else."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jinja2
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, LoopContext, Macro
from jinja2.sandbox import ImmutableSandboxedEnvironment

from planbuilder.errors import PlanbuilderError
from planbuilder.theme import Layout

SHIPPED = "shipped/"
FILTERS = (
    *("batch", "capitalize", "default", "e", "escape", "first", "join", "last", "length", "list"),
    *("lower", "replace", "reverse", "safe", "selectattr", "title", "trim", "upper"),
)
ARITHMETIC = frozenset(("+", "-", "*", "/", "//", "%", "**"))


def file_of(name: str, *roots: Path) -> Path | None:
    """The file of that *name* in the first of *roots* that has it; no link leads out of a root."""
    for root in roots:
        path = (root / name).resolve()
        if path.is_relative_to(root.resolve()) and path.is_file():
            return path
    return None


class _Sandbox(ImmutableSandboxedEnvironment):
    """Words are placed, not worked on: no arithmetic, no calls but of macros."""

    intercepted_binops = ARITHMETIC

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:  # noqa: ANN401, ARG002
        """Refuse: numbers come worked out, and ``"x" * 10**9`` is a way to stop a machine."""
        message = f"templates do no arithmetic ({operator})"
        raise SecurityError(message)

    def is_safe_callable(self, obj: Any) -> bool:  # noqa: ANN401
        """Only macros, blocks, and what a loop says of itself."""
        is_loop = isinstance(getattr(obj, "__self__", None), LoopContext)
        return is_loop or isinstance(obj, Macro | BlockReference)


def sandbox(layout: Layout, shipped: Path) -> jinja2.Environment:
    """Runs the templates of *layout*, and those of *shipped* that it leaves alone.

    ``shipped/`` before a name asks for the one that ships, also where the layout has its own.
    """
    environment = _Sandbox(
        loader=jinja2.FunctionLoader(lambda name: _source(name, layout.folder, shipped)),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters = {name: environment.filters[name] for name in FILTERS}
    environment.globals = {"theme": layout.look}
    return environment


def _source(name: str, own: Path, shipped: Path) -> tuple[str, str, Callable[[], bool]] | None:
    roots = (shipped,) if name.startswith(SHIPPED) else (own, shipped)
    path = file_of(name.removeprefix(SHIPPED), *roots)
    if path is None:
        return None
    return path.read_text(encoding="utf-8"), str(path), lambda: True


def rendered(environment: jinja2.Environment, layout: Layout, **words: object) -> str:
    """The page of *layout*. Raises PlanbuilderError that names file and line of what is wrong."""
    try:
        return environment.get_template("plan.html").render(**words)
    except jinja2.TemplateSyntaxError as error:
        message = f"{error.filename or layout.folder}:{error.lineno}: {error.message}"
        raise PlanbuilderError(message) from error
    except Exception as error:
        rows = traceback.extract_tb(error.__traceback__)
        own = [one for one in rows if Path(one.filename).is_relative_to(layout.folder)]
        if not own and not isinstance(error, jinja2.TemplateError):
            raise  # our own mistake
        where = f"{own[-1].filename}:{own[-1].lineno}" if own else str(layout.folder)
        message = f"{where}: {error or 'cannot be worked out'}"
        raise PlanbuilderError(message) from error
