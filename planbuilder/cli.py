"""The commands. The only module that prints, exits and reads the clock."""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from planbuilder import __version__
from planbuilder.errors import PlanbuilderError

if TYPE_CHECKING:
    from planbuilder.plan import Plan

EXIT_CODES = """
\b
Exit codes:
  0  no finding blocks: the plan is ready for review
  1  at least one finding blocks: the plan is written and marked NOT READY
  2  a file or the command line is wrong: nothing is written
"""


@click.group(epilog=EXIT_CODES, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(prog)s %(version)s")
def main() -> None:
    """Turn a site file into a computed, site-specific rescue plan."""


def _refuse(error: PlanbuilderError) -> NoReturn:
    click.echo(str(error), err=True)
    sys.exit(2)


def _day(_context: click.Context, _parameter: click.Parameter, value: str | None) -> dt.date:
    if value is None:
        return dt.datetime.now().astimezone().date()
    try:
        return dt.date.fromisoformat(value)
    except ValueError as error:
        message = f'must be a date such as 2026-11-02 (got "{value}")'
        raise click.BadParameter(message) from error


_ON = click.option(
    "--on",
    metavar="DATE",
    callback=_day,
    help="Check the plan as of this day, such as 2026-11-02.  [default: today]",
)
_PROFILE = click.option(
    "--profile", metavar="ID", help="Rule set to check against.  [default: the site file's]"
)


@main.command(epilog=EXIT_CODES)
@click.argument("site", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    help="File to write.  [default: the site file's name, in this folder]",
)
@_PROFILE
@_ON
@click.option("--paper", type=click.Choice(["a4", "letter"]), help="Paper.  [default: by rule set]")
@click.option(
    "--format",
    "kind",
    type=click.Choice(["pdf", "html", "json"]),
    default="pdf",
    show_default=True,
    help="What to write.",
)
@click.option(
    "--templates",
    metavar="DIR",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Layout of your own: a folder with theme.toml, and templates that stand in for ours.",
)
def build(
    site: Path,
    output: Path | None,
    profile: str | None,
    on: dt.date,
    paper: str | None,
    kind: str,
    templates: Path | None,
) -> None:
    """Write the rescue plan of SITE and say in three lines what was found."""
    from planbuilder.render import written  # noqa: PLC0415 - only this command needs it

    target = output or Path(f"{site.stem}.{kind}")
    try:
        plan = _plan(site, profile, on)
        if target.exists() and target.samefile(site):
            message = f"{target}: is the site file itself; write the plan elsewhere"
            raise PlanbuilderError(message)  # noqa: TRY301 - answered like every other refusal
        written(plan, target, kind=kind, paper=paper, templates=templates)
    except PlanbuilderError as error:
        _refuse(error)
    for line in _summary(plan):
        click.echo(line)
    click.echo(f"Written: {target}")
    sys.exit(1 if plan.blocking else 0)


@main.command(epilog=EXIT_CODES)
@click.argument(
    "sites", metavar="SITE...", nargs=-1, required=True, type=click.Path(path_type=Path)
)
@_PROFILE
@_ON
@click.option(
    "--json", "as_json", is_flag=True, help="Print the results as JSON, one object a site."
)
@click.option("--all", "everything", is_flag=True, help="Print the findings that are met as well.")
def check(
    sites: tuple[Path, ...],
    profile: str | None,
    on: dt.date,
    *,
    as_json: bool,
    everything: bool,
) -> None:
    """Print the findings of each SITE, worst first, each with what would settle it."""
    code = 0
    for site in sites:
        try:
            plan = _plan(site, profile, on)
        except PlanbuilderError as error:
            click.echo(str(error), err=True)
            code = 2
            continue
        code = max(code, 1 if plan.blocking else 0)
        click.echo(_report(plan, site, as_json=as_json, everything=everything), nl=False)
    sys.exit(code)


def _plan(site: Path, profile: str | None, on: dt.date) -> Plan:
    from planbuilder.plan import build_plan  # noqa: PLC0415 - keeps --help quick
    from planbuilder.site.load import load_site  # noqa: PLC0415

    return build_plan(load_site(site), on=on, profile=profile)


def _summary(plan: Plan) -> list[str]:
    from planbuilder.view.report import summary  # noqa: PLC0415

    return summary(plan)


def _report(plan: Plan, site: Path, *, as_json: bool, everything: bool) -> str:
    if as_json:
        from planbuilder.results import results_json  # noqa: PLC0415

        return results_json(plan)
    from planbuilder.view.report import report  # noqa: PLC0415

    return report(plan, str(site), everything=everything)


@main.command()
def schema() -> None:
    """Print the JSON Schema of the results, for scripts that read them."""
    from planbuilder.results import schema_text  # noqa: PLC0415

    click.echo(schema_text(), nl=False)


@main.command()
@click.argument("ids", metavar="[ID]...", nargs=-1)
@click.option(
    "--with",
    "overlays",
    metavar="OVERLAY",
    multiple=True,
    help="Lay an overlay on each ID: one that ships, or a TOML file in this folder.",
)
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def profiles(ids: tuple[str, ...], overlays: tuple[str, ...], *, as_json: bool) -> None:
    """List the rule sets; show the one of that ID; or put several side by side."""
    from planbuilder.view import rule_entries, rule_sets, rule_sets_json  # noqa: PLC0415

    if overlays and not ids:
        message = "--with needs the ID of the profile that the overlay is laid on"
        raise click.UsageError(message)
    try:
        sets = rule_entries.chosen(ids, overlays, Path()) if ids else rule_entries.every_rule_set()
    except PlanbuilderError as error:
        _refuse(error)
    if as_json:
        click.echo(rule_sets_json.as_json(sets, compared=len(ids) > 1), nl=False)
    elif not ids:
        click.echo(rule_sets.listed(sets), nl=False)
    elif len(ids) == 1:
        click.echo(rule_sets.shown(sets[0]), nl=False)
    else:
        click.echo(rule_sets.side_by_side(sets), nl=False)


@main.command()
@click.option("--json", "as_json", is_flag=True, help="Print the list as JSON.")
def sources(*, as_json: bool) -> None:
    """List every document that the tool cites, with its edition and how it was seen."""
    from planbuilder.view.report import sources_json, sources_text  # noqa: PLC0415

    click.echo(sources_json() if as_json else sources_text(), nl=False)
