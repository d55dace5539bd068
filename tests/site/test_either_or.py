"""Two ways of telling one thing: a sling by angle or by legs, a vehicle with mast or with line."""

from collections.abc import Callable


def test_an_angle_beside_the_legs_is_refused(refused: Callable[..., list[str]]) -> None:
    lines = refused("shored_trench", ('joint = "fixed"', 'joint = "fixed"\nsling_angle = "60 deg"'))

    assert any(
        "support[3].leg: says the angle too: leave out sling_angle, or the legs" in line
        for line in lines
    )


def test_a_sling_has_two_legs_or_more(refused: Callable[..., list[str]]) -> None:
    lines = refused("shored_trench", (', { lean = "30 deg" }]', "]"))

    assert any("support[3].leg" in line for line in lines)


def test_a_line_from_the_hitch_has_no_reach(refused: Callable[..., list[str]]) -> None:
    lines = refused(
        "shored_trench", ('\nreach = "30 in"', '\nreach = "30 in"\npull_elevation = "0 deg"')
    )

    assert any("pull_elevation: is for a line from a hitch" in line for line in lines)


def test_sag_beside_the_length_of_a_lifeline_is_refused(
    refused: Callable[..., list[str]],
) -> None:
    both = 'kind = "horizontal-lifeline"\nslack_length = "5 m"\nsag = "0.2 m"'
    lines = refused("call_and_wait", ('kind = "horizontal-lifeline"', both))

    assert any("sag: says the length too: leave out slack_length, or sag" in line for line in lines)
