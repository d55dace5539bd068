"""Times of day as the site file gives them."""

import pytest

SHIFT = 'shift_starts = "07:00"'


@pytest.mark.parametrize(
    "text", ['"7:00"', '"24:00"', '"12:60"', '"noon"', "07:00:00", "7", '"07:00 "']
)
def test_a_time_of_day_that_is_not_one_is_refused(refused, text):
    messages = refused("pump_station", (SHIFT, f"shift_starts = {text}"))

    assert len(messages) == 1
    assert 'must be a time of day in quotes, such as "07:30" or "15:00"' in messages[0]
    assert messages[0].startswith("site.toml:")


@pytest.mark.parametrize(("text", "seconds"), [("00:00", 0), ("07:05", 25_500), ("23:59", 86_340)])
def test_a_time_of_day_is_seconds_after_midnight(loaded, text, seconds):
    site = loaded("pump_station", (SHIFT, f'shift_starts = "{text}"')).site
    starts = site.person[0].shift_starts

    assert starts.s == seconds
    assert starts.written == text


def test_nobody_walks_out_as_the_way_in(refused):
    route = (
        '[[space.route]]\nwhat = "lane"\nlength = "60 m"\ngoing_in = "walk"\n'
        'coming_out = "walk"\n\n[space.opening]'
    )

    messages = refused("pump_station", ("[space.opening]", route))

    assert len(messages) == 1
    assert "must be one of stretcher" in messages[0]
