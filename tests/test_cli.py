"""The commands: what they print where, what they write, and the number they end with."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planbuilder import __version__, render
from planbuilder.cli import main
from planbuilder.errors import MissingLibraryError
from planbuilder.tables import documents

ROOT = Path(__file__).parents[1]
ON = ("--on", "2026-11-25")
EXITS = {
    "pump_station": 0,
    "storage_tank": 0,
    "storage_tank_short_air": 1,
    "borough_culvert": 0,
    "grain_terminal": 0,
    "cramped_chamber": 1,
    "call_and_wait": 1,
    "half_measured": 1,
    "misspelled": 2,
}
PLANS = [name for name, code in EXITS.items() if code < 2]


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Runs a command in an empty folder."""
    monkeypatch.chdir(tmp_path)

    def invoke(*arguments: object) -> Result:
        return CliRunner().invoke(main, [str(one) for one in arguments], prog_name="planbuilder")

    return invoke


@pytest.mark.parametrize(("name", "code"), EXITS.items())
def test_check_ends_with_what_the_plan_is_worth(run, sample, name, code):
    assert run("check", sample(name), *ON).exit_code == code


@pytest.mark.parametrize("kind", ["json", "html"])
@pytest.mark.parametrize(("name", "code"), EXITS.items())
def test_build_ends_with_what_the_plan_is_worth_and_writes_only_plans(
    run, sample, tmp_path, name, code, kind
):
    result = run("build", sample(name), "--format", kind, *ON)

    assert result.exit_code == code
    assert [one.name for one in tmp_path.iterdir()] == ([f"{name}.{kind}"] if code < 2 else [])


@pytest.mark.pdf
@pytest.mark.parametrize("name", ["storage_tank", "half_measured", "misspelled"])
def test_build_writes_a_pdf_also_of_a_plan_that_is_not_ready(
    run, sample, tmp_path, monkeypatch, printed, name
):
    """One of each exit code; the PDF of the session stands in for a second rendering."""
    code = EXITS[name]
    monkeypatch.setattr(render, "to_pdf", lambda plan, paper, _: printed(name, paper).data)

    result = run("build", sample(name), *ON)

    assert result.exit_code == code
    files = list(tmp_path.iterdir())
    assert [one.name for one in files] == ([f"{name}.pdf"] if code < 2 else [])
    assert all(one.read_bytes().startswith(b"%PDF-1.7") for one in files)


def test_build_says_in_three_lines_what_it_found(run, sample):
    result = run("build", sample("call_and_wait"), "--format", "json", "-o", "out.json", *ON)

    status, first, written = result.stdout.splitlines()
    assert re.fullmatch(r"NOT READY: \d+ blocking, \d+ to look at, \d+ met", status)
    assert first.startswith("First: ")
    assert written == "Written: out.json"
    assert result.stderr == ""


def test_build_of_a_plan_without_open_findings_says_that_nothing_is_left(run, sample, tmp_path):
    """The deck with its worker under the anchor, and its fallback drilled three times."""
    text = sample("transformer_deck").read_text(encoding="utf-8")
    drill = text[text.rindex("[[drill]]") :].partition("# ----")[0]
    for number, day in enumerate(("2026-03-12", "2026-06-25")):
        text += "\n" + drill.replace("deck-other-", f"deck-{number}-").replace("2026-09-30", day)
    path = tmp_path / "closed.toml"
    path.write_text(text.replace('offset = "2 ft"', 'offset = "1 in"'), encoding="utf-8")

    result = run("build", path, "--format", "json", *ON)

    assert result.exit_code == 0
    assert result.stdout.splitlines()[1] == "Nothing is left open."


@pytest.mark.parametrize("command", ["check", "build"])
def test_problems_of_a_file_go_to_stderr_and_leave_stdout_empty(run, sample, command):
    path = sample("misspelled")

    result = run(command, path, *ON)

    assert result.stdout == ""
    lines = result.stderr.splitlines()
    assert len(lines) == 6
    assert all(re.match(rf"{re.escape(str(path))}:\d+: \S+: ", line) for line in lines)


def test_check_of_several_sites_goes_on_behind_a_bad_one(run, sample):
    result = run("check", *(sample(name) for name in EXITS), *ON)

    assert result.exit_code == 2
    for name in PLANS:
        assert f"{sample(name)}: " in result.stdout
        assert str(sample(name)) not in result.stderr
    assert str(sample("misspelled")) in result.stderr
    assert str(sample("misspelled")) not in result.stdout


@pytest.mark.parametrize("names", [("pump_station", "call_and_wait"), tuple(PLANS[::-1])])
def test_check_of_several_sites_ends_with_the_worst(run, sample, names):
    assert run("check", *(sample(name) for name in names), *ON).exit_code == 1


def test_check_prints_the_worst_first_with_what_would_settle_it(run, sample):
    text = run("check", sample("call_and_wait"), *ON).stdout
    lines = text.partition("  still to measure or state")[0].splitlines()

    assert lines[0].startswith(f"{sample('call_and_wait')}: NOT READY: ")
    words = [line.split()[0] for line in lines[2:] if re.match(r"  \w", line)]
    assert words == sorted(words, key=("BLOCKS", "look", "warns", "notes").index)
    assert sum("settle:" in line for line in lines) == len(words)
    assert sum("keys:" in line for line in lines) == len(words)


def test_check_prints_what_is_met_only_when_asked(run, sample):
    short = run("check", sample("pump_station"), *ON).stdout
    whole = run("check", sample("pump_station"), "--all", *ON).stdout
    met = int(re.findall(r"(\d+) met", short)[0])

    assert not re.findall(r"^  met ", short, re.MULTILINE)
    assert len(re.findall(r"^  met ", whole, re.MULTILINE)) == met


def test_json_of_several_sites_is_one_object_each(run, sample):
    text = run("check", "--json", *(sample(name) for name in PLANS), *ON).stdout

    reader, objects = json.JSONDecoder(), []
    while text.strip():
        found, end = reader.raw_decode(text.lstrip())
        objects.append(found)
        text = text.lstrip()[end:]

    assert [one["plan"]["number"] for one in objects] == [
        "EV-RP-0017",
        "EV-RP-0052",
        "EV-RP-0052",
        "TB-RES-031",
        "SL-ERP-12",
        "EV-RP-0058",
        "EV-RP-0009",
        "EV-RP-0031",
    ]
    assert [one["status"] for one in objects] == [
        "NOT READY" if EXITS[name] else "READY FOR REVIEW" for name in PLANS
    ]


def test_check_ends_with_every_key_that_is_missing_once_each(run, sample):
    text = run("check", sample("half_measured"), *ON).stdout
    asked = text.partition("still to measure or state, once each:")[2]

    assert asked
    names = [
        f"{thing.strip()}.{name.strip()}"
        for thing, names in re.findall(r"^ {11}(\S+): ((?:.|\n {13})*)", asked, re.MULTILINE)
        for name in names.split(",")
    ]
    assert len(names) == len(set(names)) > 10
    assert "space.vault.opening.coaming" in names or "space.vault.shape.depth" in names
    assert "still to measure" not in run("check", sample("pump_station"), *ON).stdout


def test_json_on_stdout_and_json_in_a_file_are_the_same(run, sample, tmp_path):
    printed_json = run("check", "--json", sample("half_measured"), *ON).stdout
    run("build", sample("half_measured"), "--format", "json", "-o", "out.json", *ON)

    assert (tmp_path / "out.json").read_text(encoding="utf-8") == printed_json
    assert json.loads(printed_json)["on"] == "2026-11-25"


def test_what_is_out_of_date_on_the_day_of_the_check_is_not_ready(run, sample):
    """The monitors were last inspected on 16 November 2026, for a month; the work is long over."""
    late = run("check", sample("pump_station"), "--on", "2027-01-25")

    assert "as of 25 Jan 2027" in late.stdout
    assert late.exit_code == 1


@pytest.mark.parametrize("value", ["yesterday", "2026-02-30", "25.11.2026", ""])
@pytest.mark.parametrize("command", ["check", "build"])
def test_a_day_that_is_none_is_refused(run, sample, tmp_path, command, value):
    result = run(command, sample("pump_station"), "--on", value)

    assert result.exit_code == 2
    assert result.stdout == ""
    assert f'must be a date such as 2026-11-02 (got "{value}")' in result.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["check", "build"])
def test_an_unknown_rule_set_is_answered_with_the_ones_there_are(run, sample, tmp_path, command):
    result = run(command, sample("pump_station"), "--profile", "us-osha-ig", *ON)

    assert result.exit_code == 2
    assert result.stderr == (
        'no profile "us-osha-ig"; profiles: ca-federal, uk-gb, us-osha-constr, us-osha-gi\n'
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "arguments",
    [
        ("build",),
        ("check",),
        ("build", "a.toml", "b.toml"),
        ("build", "a.toml", "--paper", "a5"),
        ("build", "a.toml", "--format", "docx"),
        ("check", "a.toml", "--no-such-option"),
        ("no-such-command",),
    ],
    ids=" ".join,
)
def test_a_wrong_command_line_ends_with_two(run, arguments):
    result = run(*arguments)

    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Traceback" not in result.output


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_file_that_is_not_there_ends_with_two(run, command):
    result = run(command, "absent.toml", *ON)

    assert result.exit_code == 2
    assert result.stderr == "absent.toml: cannot be read (No such file or directory)\n"


def test_a_plan_for_a_folder_that_is_not_there_is_refused(run, sample, tmp_path):
    target = Path("no", "such", "folder", "plan.json")

    result = run("build", sample("pump_station"), "--format", "json", "-o", target, *ON)

    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr == f"{target}: cannot be written (No such file or directory)\n"
    assert list(tmp_path.iterdir()) == []


def test_a_folder_is_no_place_for_a_plan_of_its_own_name(run, sample, tmp_path):
    (tmp_path / "plan.json").mkdir()

    result = run("build", sample("pump_station"), "--format", "json", "-o", "plan.json", *ON)

    assert result.exit_code == 2
    assert list((tmp_path / "plan.json").iterdir()) == []


def test_a_plan_never_replaces_the_site_file_it_is_made_of(run, edited):
    path = edited("pump_station")
    before = path.read_bytes()

    result = run("build", path, "--format", "json", "-o", path, *ON)

    assert path.read_bytes() == before
    assert result.exit_code == 2


@pytest.mark.parametrize(
    ("broken", "error"),
    [
        ("to_html", RuntimeError("the template broke")),
        ("to_html", MissingLibraryError("no Pango")),
    ],
)
def test_a_build_that_fails_leaves_the_old_plan_alone(
    run, sample, tmp_path, monkeypatch, broken, error
):
    target = tmp_path / "plan.html"
    target.write_text("the plan of last week", encoding="utf-8")

    def fail(*_arguments):
        raise error

    monkeypatch.setattr(render, broken, fail)
    result = run("build", sample("pump_station"), "--format", "html", "-o", target, *ON)

    assert result.exit_code == (2 if isinstance(error, MissingLibraryError) else 1)
    assert target.read_text(encoding="utf-8") == "the plan of last week"
    assert list(tmp_path.iterdir()) == [target]


def test_a_disk_that_fills_up_leaves_the_old_plan_alone(run, sample, tmp_path, monkeypatch):
    target = tmp_path / "plan.json"
    target.write_text("the plan of last week", encoding="utf-8")

    def full(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    result = run("build", sample("pump_station"), "--format", "json", "-o", target, *ON)

    assert result.exit_code == 2
    assert result.stderr == f"{target}: cannot be written (No space left on device)\n"
    assert target.read_text(encoding="utf-8") == "the plan of last week"
    assert list(tmp_path.iterdir()) == [target]


def test_a_missing_library_is_told_without_a_traceback_and_the_rest_still_works(
    run, sample, tmp_path, monkeypatch
):
    def missing(*_arguments):
        raise MissingLibraryError("PDF output needs the Pango library")

    monkeypatch.setattr("planbuilder.pango.load_weasyprint", missing)

    pdf = run("build", sample("pump_station"), *ON)
    html = run("build", sample("pump_station"), "--format", "html", *ON)
    check = run("check", sample("pump_station"), *ON)

    assert (pdf.exit_code, pdf.stdout) == (2, "")
    assert pdf.stderr == "PDF output needs the Pango library\n"
    assert (html.exit_code, check.exit_code) == (0, 0)
    assert [one.name for one in tmp_path.iterdir()] == ["pump_station.html"]


def test_our_own_mistake_keeps_its_traceback(run, sample, monkeypatch):
    def broken(*_arguments, **_keywords):
        raise ZeroDivisionError

    monkeypatch.setattr("planbuilder.plan.build_plan", broken)

    assert isinstance(run("check", sample("pump_station"), *ON).exception, ZeroDivisionError)


@pytest.mark.parametrize("arguments", [(), ("build",), ("check",)], ids=["main", "build", "check"])
def test_help_tells_the_exit_codes(run, arguments):
    result = run(*arguments, "--help")

    assert result.exit_code == 0
    for line in (
        "  0  no finding blocks: the plan is ready for review",
        "  1  at least one finding blocks: the plan is written and marked NOT READY",
        "  2  a file or the command line is wrong: nothing is written",
    ):
        assert line in result.stdout


def test_help_names_every_command(run):
    text = run("--help").stdout

    assert [name for name in main.commands if f"\n  {name} " not in text] == []


def test_the_version_is_that_of_the_package(run):
    assert run("--version").stdout == f"planbuilder {__version__}\n"


def test_sources_lists_every_document_with_edition_and_how_it_was_seen(run):
    text = run("sources").stdout

    for one in documents().values():
        assert f"{one.id}: {one.title}\n    {one.edition}; seen as: {one.seen}\n" in text


def test_sources_as_json_are_the_same_documents(run):
    rows = json.loads(run("sources", "--json").stdout)

    assert [one["id"] for one in rows] == list(documents())
    assert all(set(one) == {"id", "title", "edition", "seen"} for one in rows)


@pytest.mark.parametrize(("name", "code"), EXITS.items())
def test_a_real_process_ends_with_the_same_number(name, code):
    done = subprocess.run(
        [sys.executable, "-m", "planbuilder", "check", f"sample_sites/{name}.toml", *ON],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == code
    assert bool(done.stdout) is (code < 2)
    assert bool(done.stderr) is (code == 2)
    assert "Traceback" not in done.stderr
