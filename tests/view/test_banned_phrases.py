"""Words that promise what no plan can: they are held out of everything that the tool says.

"checked against", "no failed checks for" and "planning limit" stand in their place.
"""

from __future__ import annotations

import html
import re

import pytest
from click.testing import CliRunner

from planbuilder.cli import main
from planbuilder.profiles.profile import overlay_ids, profile_ids
from planbuilder.render import to_html
from planbuilder.results import results_json
from planbuilder.view.pages import view_of
from planbuilder.view.report import report, sources_json, sources_text, summary

BANNED = re.compile(
    r"complies with|complying with|compliant|(?:osha|hse)[- ]approved|approved by (?:osha|hse)"
    r"|certified plan|guarantee|\b(?:un)?safe(?:ly)?\b|will survive|meets all requirements"
    r"|legal limit is",
    re.IGNORECASE,
)
SAMPLES = [
    "pump_station",
    "storage_tank",
    "call_and_wait",
    "half_measured",
    "borough_culvert",
    "grain_terminal",
]


def said(text: str) -> str:
    """What a reader of HTML sees, on one line, with style sheets left out."""
    text = re.sub(r"<style>.*?</style>", " ", text, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).split())


@pytest.mark.parametrize(
    "words",
    [
        "This plan complies with 29 CFR 1910.146.",
        "An OSHA-approved method",
        "the casualty will\nsurvive",
        "Safe to enter",
        "it is UNSAFE",
        "lift safely",
        "The legal limit is 4 minutes",
        "we guarantee",
    ],
)
def test_the_pattern_finds_what_is_banned(words):
    assert BANNED.search(" ".join(words.split()))


@pytest.mark.parametrize(
    "words", ["a safety coordinator", "no certificate", "Approver", "failsafes"]
)
def test_the_pattern_leaves_ordinary_words_alone(words):
    assert not BANNED.search(words)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_plan_promises_nothing(sample_plan, name):
    text = to_html(view_of(sample_plan(name)))
    attributes = " ".join(re.findall(r'(?:content|alt|title|aria-label)="([^"]*)"', text))

    assert BANNED.findall(said(text)) == []
    assert BANNED.findall(attributes) == []


@pytest.mark.parametrize("name", SAMPLES)
def test_what_the_commands_print_promises_nothing(sample_plan, name):
    plan = sample_plan(name)

    texts = (report(plan, name, everything=True), results_json(plan), *summary(plan))

    assert [BANNED.findall(" ".join(text.split())) for text in texts] == [[]] * len(texts)


@pytest.mark.parametrize("arguments", [(), ("build",), ("check",), ("sources",)], ids=str)
def test_help_promises_nothing(arguments):
    text = CliRunner().invoke(main, [*arguments, "--help"]).stdout

    assert BANNED.findall(" ".join(text.split())) == []


def test_the_list_of_documents_promises_nothing():
    assert BANNED.findall(sources_text() + sources_json()) == []


@pytest.mark.parametrize("name", [*profile_ids(), *overlay_ids()])
def test_no_rule_set_promises_anything(name):
    for more in ((), ("--json",)):
        text = CliRunner().invoke(main, ["profiles", name, *more]).stdout

        assert text
        assert BANNED.findall(" ".join(text.split())) == []
