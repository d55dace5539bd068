"""What the profiles command prints: the list, one rule set, several side by side, and as JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from planbuilder.cli import main
from planbuilder.profiles.profile import load_profile, overlay_ids, profile_ids
from planbuilder.view.rule_sets import WIDTH

EVERY = (*profile_ids(), *overlay_ids())
LOOSE = """
[profile]
id = "quarry-rules"
title = "Rules of the quarry"
version = "4"
source_date = "issue 4"
country = "US"
overlay_of = "*"

[[document]]
id = "Quarry rules"
title = "Rescue rules of the quarry"
edition = "issue 4"
seen = "official text"

[atmosphere.o2_max]
value = 24.0
unit = "%"
op = "<="
document = "Quarry rules"
clause = "3"
bind = "host"
mark = "read"
approver = "Hale Brock"
"""


def run(*arguments: str) -> Result:
    """The command with *arguments*."""
    return CliRunner().invoke(main, ["profiles", *arguments], prog_name="planbuilder")


def printed(*arguments: str) -> str:
    """What a good command prints, its lines joined where they were wrapped."""
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return " ".join(result.stdout.split())


def data(*arguments: str) -> dict[str, Any]:
    """The same as JSON."""
    found: dict[str, Any] = json.loads(run(*arguments, "--json").stdout)
    return found


def rows(*ids: str) -> dict[str, str]:
    """The marker of each row of a comparison, by the beginning of its label."""
    lines = run(*ids).stdout.splitlines()
    return {line[10:34].strip(): line[:10].strip() for line in lines if line[:10].strip("-= ")}


def test_the_list_names_every_rule_set_with_title_version_and_recalled_entries():
    text = printed()

    for name in EVERY:
        rules = load_profile(name)
        assert f" {name} {rules.title}, version {rules.version}" in text
        said = len(rules.says) + len(rules.silent)
        assert f"{said} entries, {rules.recalled} recalled" in text


@pytest.mark.parametrize("name", EVERY)
def test_one_rule_set_shows_every_key_that_it_has_with_clause_bind_and_mark(name):
    rules, text = load_profile(name), printed(name)

    for key in (*rules.says, *rules.silent):
        assert f"[{key}]" in text
    for source in (*(one.source for one in rules.says.values()), *rules.silent.values()):
        assert f"{source.document} {source.clause}" in text
    assert ("recalled, unverified" in text) is (rules.recalled > 0)


def test_where_a_rule_set_sets_no_number_it_says_so_beside_that_of_the_tool():
    text = printed("uk-gb")

    assert (
        "least oxygen: >= 19.5 % [atmosphere.o2_min] default of this tool | set by tool "
        "sets no number of its own: Confined Spaces Regulations 1997 reg 1(2) | read"
    ) in text
    assert "no height in the regulations" in text


def test_a_rule_set_shows_where_it_asks_for_each_part_of_a_plan():
    text = printed("uk-gb")

    for element, clause in load_profile("uk-gb").clauses.items():
        assert f": {clause} [{element}]" in text
    assert "Where it asks for" not in printed("us-wa")


def test_what_the_tool_adds_is_counted_by_itself():
    rules = load_profile("uk-gb")
    said = len(rules.says) + len(rules.silent)

    assert f"entries: {said} entries and " in printed("uk-gb")
    assert f"of the tool, {rules.recalled} recalled" in printed("uk-gb")
    assert "of the tool" not in printed("us-wa")


def test_an_overlay_is_laid_on_with_who_wins():
    text = printed("us-osha-gi", "--with", "host-example")

    assert ">= 2 [people.idlh_standby_min] Quarrymoor rescue rules 5.1 | host | read" in text
    assert "set by host-example" in text


def test_what_a_file_in_this_folder_loosens_is_told_with_who_answers(tmp_path, monkeypatch):
    (tmp_path / "quarry.toml").write_text(LOOSE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)

    assert "loosened: Hale Brock answers for it" in printed("us-osha-gi", "--with", "quarry.toml")


def test_side_by_side_marks_what_differs_by_a_sign_and_a_word():
    marked = rows("us-osha-gi", "us-osha-constr", "uk-gb", "ca-federal")

    assert marked["most oxygen"] == "≠ differs"
    assert marked["hydrogen sulfide"] == "same"


def test_side_by_side_shows_what_each_says_in_one_row():
    text = run("us-osha-gi", "ca-federal").stdout
    (line,) = [one for one in text.splitlines() if "most oxygen" in one]

    assert "<= 23.5 % (law)" in line
    assert "<= 23 % (law)" in line


def test_the_same_number_that_binds_differently_differs():
    """12 months by law in the US, 12 by the tool in Great Britain."""
    assert rows("us-osha-gi", "uk-gb")["months between practice"] == "≠ differs"
    assert rows("us-osha-gi", "us-osha-constr")["months between practice"] == "same"


def test_a_rule_set_beside_itself_differs_nowhere():
    assert data("uk-gb", "uk-gb")["differing_keys"] == []
    assert printed("uk-gb", "uk-gb").count("≠") == 0


def test_a_province_beside_the_federal_rules_is_laid_on_them():
    found = data("ca-federal", "ca-on")

    assert [one["name"] for one in found["rule_sets"]] == ["ca-federal", "ca-federal + ca-on"]
    assert "atmosphere.lfl_max" in found["differing_keys"]
    assert "atmosphere.o2_max" not in found["differing_keys"]


@pytest.mark.parametrize(
    "arguments",
    [(), *((name,) for name in EVERY), profile_ids(), (*profile_ids(), "ca-on")],
    ids=str,
)
def test_no_line_is_longer_than_the_page(arguments):
    lines = run(*arguments).stdout.splitlines()

    assert max(map(len, lines)) <= WIDTH
    assert [one for one in lines if one != one.rstrip()] == []


def test_six_side_by_side_are_all_there():
    text = printed(*profile_ids(), "ca-on", "us-wa")

    assert "ca-federal + ca-on" in text
    assert "us-osha-gi + us-wa" in text


@pytest.mark.parametrize("name", EVERY)
def test_the_json_of_a_rule_set_holds_all_of_it(name):
    (found,) = data(name)["rule_sets"]
    rules = load_profile(name)

    assert {*rules.says, *rules.silent} <= {one["key"] for one in found["entries"]}
    assert found["clauses"] == dict(rules.clauses)
    for one in found["entries"]:
        assert one["mark"] in {"read", "recalled", "choice"}
        assert one["bind"] in {"law", "acop", "guidance", "consensus", "host", "tool", "none"}
        assert (one["value"] is None) == (one["kind"] != "limit")


def test_the_json_of_the_list_counts_what_is_recalled():
    found = {one["name"]: one["recalled"] for one in data()["rule_sets"]}

    assert found == {name: load_profile(name).recalled for name in EVERY}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("us-osha-ig",), "no profile"),
        (("uk-gb", "--with", "us-wa"), "must be uk-gb here"),
        (("uk-gb", "host-example"), "--with host-example"),
        (("--with", "us-wa"), "--with needs the ID"),
        (("uk-gb", "--with", "no-such"), "no overlay"),
        (("uk-gb", "--with", "../quarry.toml"), "no overlay"),
    ],
)
def test_a_wrong_name_is_refused_with_what_would_be_right(arguments, words):
    result = run(*arguments)

    assert result.exit_code == 2
    assert words in result.stderr
    assert not result.stdout


def test_a_rule_set_is_read_from_no_other_folder(tmp_path, monkeypatch):
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "quarry.toml").write_text(LOOSE, encoding="utf-8")
    monkeypatch.chdir(inside)

    assert run("us-osha-gi", "--with", str(tmp_path / "quarry.toml")).exit_code == 2
    assert not list(Path().iterdir())
