"""Who may import whom, and who may print, exit, read the clock or touch files.

The list below is the house plan: a module may import what stands in a later row, never the same
row or an earlier one. Imports inside functions count like all others.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import planbuilder

PACKAGE = Path(planbuilder.__file__).parent
ROWS = (
    ("__main__",),
    ("cli",),
    ("render",),
    ("screen", "sandbox", "fixed_texts"),
    ("theme",),
    ("archive",),
    ("pango",),
    ("results",),
    ("view",),
    ("sketches",),
    ("plan",),
    ("overrides",),
    ("checks",),
    ("haul", "response", "clearance"),
    ("defaults",),
    ("limits",),
    ("profiles",),
    ("tables",),
    ("site",),
    ("units",),
    ("findings",),
    ("errors",),
    ("__init__",),
)
ROW_OF = {name: number for number, row in enumerate(ROWS) for name in row}
# Libraries that only a part may import, and which: one, or two that read files alike.
OWNERS = {
    "numpy": "response",
    "shapely": "clearance",
    "jinja2": "render sandbox",
    "weasyprint": "render",
    "pydyf": "archive",
    "pint": "units",
    "pydantic": "site profiles theme",
    "pydantic_core": "site",
    "dateutil": "site",
    "click": "cli",
    "markdown": "view",
    "nh3": "view",
    "markupsafe": "view",
}
MODULES = sorted(PACKAGE.rglob("*.py"))


def part_of(path: Path) -> str:
    """The part of the house that a file belongs to."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(tree: ast.AST) -> Iterator[str]:
    """Every module that is imported, with its full name, wherever it is imported."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full"
            yield from (f"{node.module}.{one.name}" for one in node.names)


def read(path: Path) -> ast.Module:
    """The code of a file."""
    return ast.parse(path.read_text(encoding="utf-8"))


def name_of(path: Path) -> str:
    """The file, for the name of a test."""
    return path.relative_to(PACKAGE).as_posix()


def own_parts(path: Path) -> set[str]:
    """The parts of the house that a file imports."""
    names = [one for one in imports(read(path)) if one.split(".")[0] == "planbuilder"]
    return {
        second if second in ROW_OF else "__init__"
        for second in (name.split(".")[1] for name in names)
    }


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_module_imports_only_what_stands_below_it(path):
    own = part_of(path)

    upward = {one for one in own_parts(path) - {own} if ROW_OF[one] <= ROW_OF[own]}

    assert upward == set()


def test_every_module_has_a_place_in_the_list():
    assert {part_of(one) for one in MODULES} == set(ROW_OF)


@pytest.mark.parametrize("part", ["haul", "response", "clearance"])
def test_the_calculations_know_neither_each_other_nor_the_site_nor_pages(part):
    """Floats in, floats out: they can be read, and tested, beside their document."""
    seen = set()
    for path in (PACKAGE / part).rglob("*.py"):
        seen |= own_parts(path)

    assert seen <= {part}


def test_only_the_renderer_asks_for_pango():
    users = {name_of(one) for one in MODULES if "pango" in own_parts(one) - {part_of(one)}}

    assert users == {"render.py"}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_library_has_one_part_that_uses_it(path):
    allowed = {one for one, owner in OWNERS.items() if part_of(path) in owner.split()}
    tops = {one.split(".")[0] for one in imports(read(path))}

    assert tops - allowed - {"planbuilder", *sys.stdlib_module_names} == set()


def calls(path: Path) -> list[str]:
    """What a file calls, as written: ``sys.exit``."""
    tree = read(path)
    return [ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)]


@pytest.mark.parametrize("path", [one for one in MODULES if part_of(one) != "cli"], ids=name_of)
def test_only_the_command_line_prints_exits_and_reads_the_clock(path):
    forbidden = ("print", "input", "exit", "quit", "sys.exit", "os._exit", "time.time")
    endings = (".now", ".today", ".utcnow", ".echo", "stdout.write", "stderr.write", ".monotonic")

    assert [one for one in calls(path) if one in forbidden or one.endswith(endings)] == []


@pytest.mark.parametrize(
    "path", [one for one in MODULES if name_of(one) != "render.py"], ids=name_of
)
def test_only_the_renderer_writes_files(path):
    endings = ("write_text", "write_bytes", "mkstemp", "mkdir", ".unlink", ".rename", ".fdopen")

    assert [one for one in calls(path) if one == "open" or one.endswith(endings)] == []


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_nothing_uses_the_network_or_starts_programs(path):
    names = {one for one in imports(read(path)) if not one.startswith("urllib.parse.")}
    tops = {one.split(".")[0] for one in names}

    assert tops & {"socket", "urllib", "http", "ssl", "ftplib", "subprocess", "webbrowser"} == set()


@pytest.mark.parametrize(
    ("arguments", "absent"),
    [
        (("--help",), ("pint", "pydantic", "weasyprint", "jinja2", "markdown", "planbuilder.plan")),
        (("build", "--help"), ("pint", "pydantic", "weasyprint")),
        (("check", "--help"), ("pint", "pydantic", "weasyprint")),
        (("sources",), ("pint", "weasyprint")),
        (("check", "sample_sites/half_measured.toml"), ("weasyprint", "jinja2")),
        (("build", "sample_sites/misspelled.toml", "--format", "json"), ("weasyprint",)),
    ],
    ids=" ".join,
)
def test_a_command_pays_only_for_what_it_needs(arguments, absent):
    """In a fresh process, since this one has imported everything."""
    program = (
        "import sys\n"
        "from planbuilder.cli import main\n"
        "try:\n"
        f"    main({list(arguments)!r}, prog_name='planbuilder')\n"
        "except SystemExit:\n"
        "    pass\n"
        f"print(sorted(set(sys.modules) & set({absent!r})), file=sys.stderr)\n"
    )

    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=PACKAGE.parent,
        capture_output=True,
        text=True,
        check=True,
    )

    assert done.stderr.splitlines()[-1] == "[]"
