"""The rule sets in force, what people may decide, and the order of repair."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from broken_fall import falling, ledge
from broken_sites import ON, SAMPLES, Break, found, plan_with, worst

from planbuilder.errors import FileProblemsError
from planbuilder.findings import Verdict, Weight
from planbuilder.plan import Plan, build_plan
from planbuilder.site.load import load_site

OVERLAY = """
[profile]
id = "quarry-rules"
title = "Rules of the quarry"
version = "4"
source_date = "issue 4"
country = "US"
region = "Ellerbrook"
overlay_of = "*"

[[document]]
id = "Quarry rules"
title = "Rescue rules of the quarry"
edition = "issue 4"
seen = "official text"

[atmosphere.o2_max]
value = 24
unit = "%"
op = "<="
document = "Quarry rules"
clause = "7"
bind = "host"
mark = "read"
approver = "Hale Brock"
"""
REGION = ('country = "US"\n', 'country = "US"\nregion = "Ellerbrook"\n')


def overlaid(folder: Path, *swaps: tuple[str, str], overlay: str = OVERLAY) -> Plan:
    """The pump station under the rules of an invented quarry."""
    text = (SAMPLES / "pump_station.toml").read_text(encoding="utf-8")
    for old, new in (('supersedes = "EV', 'overlays = ["quarry.toml"]\nsupersedes = "EV'), *swaps):
        assert old in text
        text = text.replace(old, new, 1)
    (folder / "quarry.toml").write_text(overlay, encoding="utf-8")
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return build_plan(load_site(folder / "site.toml"), on=ON)


def test_a_loosened_limit_is_told_with_who_answers_for_it(tmp_path):
    told = found(overlaid(tmp_path, REGION), "plan/limit-loosened")

    assert worst(told) is Verdict.FAILS
    assert told[0].weight is Weight.WARNS
    assert "atmosphere.o2_max <= 24 % by quarry-rules, approved by Hale Brock" in str(told[0])


def test_an_overlay_that_loosens_nothing_is_met(tmp_path):
    plan = overlaid(tmp_path, REGION, overlay=OVERLAY.replace("24", "23"))

    assert worst(found(plan, "plan/limit-loosened")) is Verdict.MEETS
    assert worst(found(plan, "plan/profile-elsewhere")) is Verdict.MEETS


def test_no_overlay_is_no_question():
    assert found(plan_with(), "plan/limit-loosened") == []


def test_a_set_point_that_the_overlay_forbids_blocks(tmp_path):
    plan = overlaid(tmp_path, REGION, overlay=OVERLAY.replace("24", "22.5"))

    above = [one for one in found(plan, "plan/alarm-set-point") if one.blocks]

    assert {one.about for one in above} == {"most oxygen"}
    assert plan.status == "NOT READY"


def test_the_overlay_counts_in_the_fingerprint(tmp_path):
    first = overlaid(tmp_path, REGION)
    second = overlaid(tmp_path, REGION, overlay=OVERLAY.replace("issue 4", "issue 5"))

    assert first.site == second.site
    assert first.content_hash != second.content_hash


@pytest.mark.parametrize(
    ("swap", "verdict"),
    [
        (('country = "US"\n', 'country = "US"\nregion = "Harrow"\n'), Verdict.FAILS),
        (('country = "US"\n', 'country = "CA"\nregion = "Ellerbrook"\n'), Verdict.FAILS),
        (REGION, Verdict.MEETS),
        (('country = "US"\n', 'country = "us"\nregion = "Ellerbrook"\n'), Verdict.MEETS),
        (('country = "US"\n', 'country = "US"\n'), Verdict.UNKNOWN),
    ],
)
def test_a_rule_set_of_another_place_is_told(tmp_path, swap, verdict):
    assert worst(found(overlaid(tmp_path, swap), "plan/profile-elsewhere")) is verdict


def test_an_overlay_that_is_not_there_is_told_with_its_line(tmp_path):
    with pytest.raises(FileProblemsError, match=r"site\.toml:13: plan\.overlays: no overlay"):
        overlaid(tmp_path, ('["quarry.toml"]', '["us-nowhere"]'))


# ---- what people decide ---------------------------------------------------------------------

SWING = "clearance/swing-hits-something"
BEYOND = ledge(what="the column", below="-1 m", aside="-1.6 m")
swings_into_a_column = falling(offset="1.2 m", obstacle=BEYOND)


def decided(by: str, on: date = ON, what: str = SWING) -> Break:
    """An override of the swing by somebody."""
    row = {"what": what, "reason": "column is padded, seen on site", "by": by, "on": on}
    return lambda data: data.setdefault("override", []).append(row)


def test_what_a_person_may_judge_stands_when_the_competent_person_has():
    plain = found(plan_with(swings_into_a_column), SWING)
    judged = found(plan_with(swings_into_a_column, decided("Osric Vane")), SWING)

    assert worst(plain) is Verdict.FAILS
    assert all(one.blocks for one in plain)
    assert worst(judged) is Verdict.FAILS
    assert not any(one.blocks for one in judged)
    assert all("padded" in one.accepted for one in judged)


def test_nobody_accepts_what_is_not_known():
    unknown = falling(offset="1.2 m", obstacle=ledge(aside=None))

    judged = found(plan_with(unknown, decided("Osric Vane")), SWING)

    assert worst(judged) is Verdict.UNKNOWN
    assert all(one.blocks and not one.accepted for one in judged)


@pytest.mark.parametrize(
    ("by", "what", "words"),
    [
        ("Mirela Tarn", SWING, r"by must be plan\.competent_person \(Osric Vane\)"),
        ("Osric Vane", "haul/link-too-weak", "cannot be overridden, only put right"),
        ("Osric Vane", "plan/no-such-rule", "must name a default or a rule"),
    ],
)
def test_an_override_that_may_not_be_is_refused(tmp_path, by, what, words):
    row = f'[[override]]\nwhat = "{what}"\nreason = "seen"\nby = "{by}"\non = 2026-11-02\n'
    with pytest.raises(FileProblemsError, match=words):
        overlaid(tmp_path, REGION, ("# ---- drills", f"{row}# ---- drills"))


def test_what_the_rule_set_makes_blocking_is_accepted_by_nobody_and_says_so():
    def change(data: dict[str, Any]) -> None:
        data["drill"] = []

    told = found(
        plan_with(change, decided("Osric Vane", what="plan/drill-stale")), "plan/drill-stale"
    )

    assert all(one.blocks and not one.accepted for one in told)
    assert all("the override by Osric Vane does not count" in one.settle_by for one in told)


def test_a_decision_of_tomorrow_counts_tomorrow():
    late = decided("Osric Vane", on=ON + timedelta(days=1))

    told = found(plan_with(swings_into_a_column, late), SWING)

    assert all(one.blocks for one in told)


# ---- order of repair ------------------------------------------------------------------------


def test_blocking_findings_come_first_and_what_unlocks_most_leads_them():
    plan = plan_with(sample="half_measured")
    blocks = [one.blocks for one in plan.findings]
    waiting = [key for one in plan.findings if one.open for key in set(one.keys)]
    unlocked = [max(waiting.count(key) for key in one.keys) for one in plan.blocking]

    assert blocks == sorted(blocks, reverse=True)
    assert unlocked == sorted(unlocked, reverse=True)
    assert unlocked[0] > unlocked[-1]


def test_of_equals_the_first_to_run_out_comes_first():
    late = {"kind": "entrant", "issued": date(2025, 1, 1), "expires": date(2026, 10, 1)}
    later = late | {"expires": date(2026, 11, 1)}

    def change(data: dict[str, Any]) -> None:
        people = {one["id"]: one for one in data["person"]}
        people["bode"]["certificate"].append(later)
        people["sunniva"]["certificate"].append(late)

    told = [one for one in found(plan_with(change), "plan/certificate-expired") if one.blocks]

    assert [one.due for one in told] == sorted(one.due for one in told if one.due)
    assert told[0].due == date(2026, 10, 1)
