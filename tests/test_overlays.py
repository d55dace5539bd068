"""Overlays: they add and tighten; one that loosens is refused, or names who answers for it."""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

from planbuilder.errors import FileProblemsError, PlanbuilderError
from planbuilder.findings import Bind, Relation
from planbuilder.limits import limits_for
from planbuilder.profiles.profile import load_profile, profile_file
from planbuilder.profiles.rule_file import Need, read_rules, rule_keys

HEAD = """
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
"""


def entry(key: str, rows: str) -> str:
    """One entry of the quarry's rules."""
    said = 'document = "Quarry rules"\nclause = "3"\nmark = "read"\nbind = "host"\n'
    return f"\n[{key}]\n{said}{textwrap.dedent(rows)}\n"


def standby(count: int, more: str = "") -> str:
    """How many the quarry wants standing by."""
    rows = f'value = {count}\nunit = "count"\nop = ">="\n{more}'
    return entry("people.idlh_standby_min", rows)


def overlay(folder: Path, *entries: str, head: str = HEAD) -> str:
    """The name of an overlay with *entries*, written in *folder*."""
    (folder / "quarry.toml").write_text(head + "".join(entries), encoding="utf-8")
    return "quarry.toml"


def refused(folder: Path, *entries: str, head: str = HEAD, profile: str = "us-osha-gi") -> str:
    """What is said about an overlay that cannot be used."""
    name = overlay(folder, *entries, head=head)
    with pytest.raises(FileProblemsError) as caught:
        limits_for(profile, [name], beside=folder)
    return str(caught.value).replace(f"{folder}/", "")


def test_a_host_that_asks_for_more_people_wins(tmp_path):
    name = overlay(tmp_path, standby(2))

    found = limits_for("us-osha-gi", [name], beside=tmp_path).of("people.idlh_standby_min")

    assert (found.quantity.value, found.layer) == (2, "quarry-rules")
    assert found.quantity.source.bind is Bind.HOST


def test_what_no_layer_below_states_is_added(tmp_path):
    rows = 'text = "briefing sheet signed by everybody"\n'
    name = overlay(tmp_path, entry("exchange.acknowledged", rows))

    duty = limits_for("us-osha-gi", [name], beside=tmp_path).duty("exchange.acknowledged")

    assert duty is not None
    assert duty.binds
    assert limits_for("us-osha-gi").duty("exchange.acknowledged") is None


def test_a_looser_limit_is_refused_with_its_line_and_both_numbers(tmp_path):
    rows = 'value = 24.0\nunit = "%"\nop = "<="\n'

    assert refused(tmp_path, entry("atmosphere.o2_max", rows)) == (
        "quarry.toml:16: atmosphere.o2_max: loosens what us-osha-gi says (<= 23.5 %, here "
        "<= 24 %): an overlay may only tighten, unless approver names who answers for it"
    )


def test_a_looser_limit_holds_where_somebody_answers_for_it_and_is_told(tmp_path):
    rows = 'value = 24.0\nunit = "%"\nop = "<="\napprover = "Hale Brock"\n'
    name = overlay(tmp_path, entry("atmosphere.o2_max", rows))

    limits = limits_for("us-osha-gi", [name], beside=tmp_path)

    assert limits.of("atmosphere.o2_max").quantity.value == pytest.approx(0.24)
    assert [one.key for one in limits.loosened] == ["atmosphere.o2_max"]
    assert limits.loosened[0].approver == "Hale Brock"


def test_a_looser_duty_is_refused_too(tmp_path):
    rows = 'text = "service evaluated"\nneed = "by-assessment"\n'

    assert "(required, here by assessment)" in refused(tmp_path, entry("service.evaluate", rows))


def test_a_host_may_say_in_its_own_words_what_the_law_says(tmp_path):
    name = overlay(
        tmp_path, entry("service.evaluate", 'text = "service evaluated by the quarry"\n')
    )

    duty = limits_for("us-osha-gi", [name], beside=tmp_path).duty("service.evaluate")

    assert duty is not None
    assert (duty.layer, duty.source.bind) == ("us-osha-gi", Bind.LAW)


@pytest.mark.parametrize("rows", ['value = 1.524\nunit = "m"', 'value = 5.0\nunit = "ft"'])
def test_the_same_number_in_another_unit_is_no_looser_and_no_stricter(tmp_path, rows):
    """5 ft are 1.524 m by definition."""
    name = overlay(tmp_path, entry("retrieval.mech_device_depth", f'{rows}\nop = "<="\n'))

    limit = limits_for("us-osha-gi", [name], beside=tmp_path).of("retrieval.mech_device_depth")

    assert limit.layer == "us-osha-gi"


@pytest.mark.parametrize(("metres", "is_refused"), [(1.523, False), (1.525, True)])
def test_a_millimetre_more_or_less_is_told_apart(tmp_path, metres, is_refused):
    rows = f'value = {metres}\nunit = "m"\nop = "<="\n'
    said = entry("retrieval.mech_device_depth", rows)

    if is_refused:
        assert "loosens what us-osha-gi says" in refused(tmp_path, said)
    else:
        limits = limits_for("us-osha-gi", [overlay(tmp_path, said)], beside=tmp_path)
        assert limits.of("retrieval.mech_device_depth").layer == "quarry-rules"


def test_a_host_makes_binding_what_is_only_guidance(tmp_path):
    rows = 'text = "a service that drops out tells the quarry"\n'
    name = overlay(tmp_path, entry("service.unavailability_notice", rows))

    duty = limits_for("us-osha-gi", [name], beside=tmp_path).duty("service.unavailability_notice")

    assert duty is not None
    assert (duty.layer, duty.binds) == ("quarry-rules", True)
    assert not load_profile("us-osha-gi").duties["service.unavailability_notice"].binds


def test_a_duty_that_does_not_exist_is_left_out_not_set_to_none(tmp_path):
    said = 'document = "Quarry rules"\nclause = "3"\nmark = "read"\nbind = "none"\ntext = "-"\n'

    assert "service.evaluate.bind" in refused(tmp_path, f"\n[service.evaluate]\n{said}")


def test_a_later_overlay_tightens_what_an_earlier_one_has_loosened(tmp_path):
    loose = 'value = 24.0\nunit = "%"\nop = "<="\napprover = "Hale Brock"\n'
    head = HEAD.replace('id = "quarry-rules"', 'id = "pit-rules"')
    (tmp_path / "loose.toml").write_text(head + entry("atmosphere.o2_max", loose), "utf-8")
    name = overlay(tmp_path, entry("atmosphere.o2_max", 'value = 22.0\nunit = "%"\nop = "<="\n'))

    limits = limits_for("us-osha-gi", ["loose.toml", name], beside=tmp_path)

    assert limits.of("atmosphere.o2_max").quantity.value == pytest.approx(0.22)
    assert limits.loosened == ()


def test_an_overlay_of_another_profile_is_refused(tmp_path):
    head = HEAD.replace('overlay_of = "*"', 'overlay_of = "us-osha-constr"')

    assert "must be us-osha-gi here, or * (got us-osha-constr)" in refused(tmp_path, head=head)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ('value = 2\nunit = "count"\nop = "<="\n', "must be >= or >"),
        ('value = 2\nunit = "min"\nop = ">="\n', "must be one of count (got min)"),
        ("value = 2\n", "needs value, unit and op together"),
        ('value = "two"\nunit = "count"\nop = ">="\n', "must be a number"),
        ('valu = 2\nunit = "count"\nop = ">="\n', 'did you mean "value"?'),
        ('value = nan\nunit = "count"\nop = ">="\n', "must be"),
    ],
)
def test_half_a_limit_or_one_in_the_wrong_sense_is_refused(tmp_path, rows, words):
    assert words in refused(tmp_path, entry("people.idlh_standby_min", rows))


def test_a_misspelt_key_is_answered_with_the_near_one(tmp_path):
    message = refused(tmp_path, entry("people.idlh_standby", 'value = 2\nunit = "count"\n'))

    assert 'people.idlh_standby: is not a known key, did you mean "idlh_standby_min"?' in message


@pytest.mark.parametrize("name", ["../quarry.toml", "/etc/quarry.toml", "us-xx", "sub/q.toml"])
def test_only_a_file_beside_the_site_file_is_read(tmp_path, name):
    with pytest.raises(PlanbuilderError, match=r"no overlay .* beside the site file"):
        limits_for("us-osha-gi", [name], beside=tmp_path)


def test_a_stricter_number_of_the_tool_does_not_take_the_force_of_a_binding_one(tmp_path):
    """Practice: the host asks for 18 months, the tool for 12. At 19 both are failed."""
    rows = 'value = 18\nunit = "months"\nop = "<="\n'
    name = overlay(
        tmp_path,
        entry("training.practice_months", rows),
        head=HEAD.replace('country = "US"', 'country = "GB"'),
    )

    alone = limits_for("uk-gb").of("training.practice_months")
    found = limits_for("uk-gb", [name], beside=tmp_path).of("training.practice_months")

    assert (alone.quantity.value, alone.binds) == (12, False)
    assert (found.quantity.value, found.layer, found.binds) == (12, "tool", True)


def test_an_overlay_of_its_own_takes_no_name_that_ships(tmp_path):
    head = HEAD.replace('id = "quarry-rules"', 'id = "us-wa"')

    assert "profile.id: must not be that of a rule set that ships (us-wa)" in refused(
        tmp_path, head=head
    )


def test_two_overlays_have_two_names(tmp_path):
    name = overlay(tmp_path, standby(2))
    (tmp_path / "again.toml").write_text(HEAD, "utf-8")

    with pytest.raises(FileProblemsError, match="is laid on already"):
        limits_for("us-osha-gi", [name, "again.toml"], beside=tmp_path)


def test_a_link_to_another_place_is_not_followed(tmp_path):
    (tmp_path / "quarry.toml").symlink_to("/etc/hostname")

    with pytest.raises(PlanbuilderError, match="is a link"):
        limits_for("us-osha-gi", ["quarry.toml"], beside=tmp_path)


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(PlanbuilderError, match="cannot be read"):
        profile_file(tmp_path / "quarry.toml")


def test_a_rule_set_without_a_number_says_so_and_the_tool_default_holds():
    text = HEAD.replace('overlay_of = "*"', 'units = "si"\npaper = "a4"') + (
        '[atmosphere.o2_min]\ndocument = "Quarry rules"\nclause = "3"\nbind = "none"\n'
        'mark = "read"\n'
    )

    rules = read_rules(Path("quarry.toml"), text)

    assert rules.entries["atmosphere.o2_min"].bind == "none"
    assert load_profile("tool").limits["atmosphere.o2_min"].relation is Relation.AT_LEAST


def test_every_key_has_words_and_a_kind():
    assert {one.kind for one in rule_keys().values()} == {"least", "most", "duty", "permission"}
    assert [one.key for one in rule_keys().values() if not one.label] == []
    limits = [one for one in rule_keys().values() if one.kind in ("least", "most")]
    assert [one.key for one in limits if not one.unit] == []


def test_what_is_only_to_be_assessed_does_not_bind():
    duty = load_profile("us-osha-gi").duties["retrieval.required"]

    assert duty.need is Need.REQUIRED
    assert duty.binds
