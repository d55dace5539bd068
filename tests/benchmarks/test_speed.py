"""How long things take. Not part of the default run: a timed test fails on a busy machine."""

import subprocess
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from every_support import every_support

from planbuilder.checks.people.places import WHOLE, busy
from planbuilder.checks.timing.timeline import Timeline
from planbuilder.plan import build_plan
from planbuilder.render import to_html, to_pdf
from planbuilder.response.matching import Place, match
from planbuilder.response.network import schedule
from planbuilder.response.percentiles import milestones
from planbuilder.site.load import load_site
from planbuilder.site.method import CrewRole
from planbuilder.site.supports import SupportKind
from planbuilder.view.pages import view_of

SITE = Path(__file__).parents[2] / "sample_sites" / "pump_station.toml"
ON = date(2026, 11, 25)
OWN_TIME_S = 0.050
Benchmark = Callable[..., Any]


def test_load_a_site_file(benchmark: Benchmark) -> None:
    benchmark(load_site, SITE)


def test_check_a_site(benchmark: Benchmark) -> None:
    file = load_site(SITE)

    benchmark(build_plan, file, on=ON)


@pytest.mark.benchmark(timer=time.process_time)
def test_check_a_site_with_every_kind_of_support(benchmark: Any) -> None:
    """Eleven spaces, two methods each; loading left out."""
    file = every_support()

    plan = benchmark(build_plan, file, on=ON)

    kinds = {plan.site.space[n].rescue.primary.rig.support for n in range(len(SupportKind))}
    assert len(kinds) == len(SupportKind)
    # The best of many rounds of our own processor time: what else runs only makes a round slower.
    assert benchmark.stats.stats.min < OWN_TIME_S


@pytest.fixture(scope="module")
def entry_rescue() -> Timeline:
    """The timeline of an entry rescue: a dozen steps, three clocks."""
    plan = build_plan(load_site(SITE.with_name("storage_tank.toml")), on=ON)
    return plan.spaces[0].timelines[0]


def test_critical_path_of_a_network(benchmark: Benchmark, entry_rescue: Timeline) -> None:
    benchmark(lambda: schedule(entry_rescue.network))


def test_percentiles_of_a_network(benchmark: Benchmark, entry_rescue: Timeline) -> None:
    spreads = {one.step.id: one.spread for one in entry_rescue.steps}
    ends = {one.name: [one.path[-1]] for one in entry_rescue.clocks}

    benchmark(milestones, entry_rescue.network, spreads, ends, common_cause=0.3, seed=1)


def test_matching_of_people_and_places(benchmark: Benchmark, entry_rescue: Timeline) -> None:
    everybody = {
        one.id: busy(entry_rescue.way, one.id, CrewRole.HAUL, WHOLE)
        for one in entry_rescue.way.scene.site.person
    }
    wanted = [
        Place(id=str(number), part="haul", exclusive=False, offers=everybody)
        for number in range(len(everybody) + 2)
    ]

    found = benchmark(match, wanted)

    assert len(found.filled) == len(everybody)


def test_view_and_html(benchmark: Benchmark) -> None:
    plan = build_plan(load_site(SITE), on=ON)

    benchmark(lambda: to_html(view_of(plan)))


def test_pdf(benchmark: Any) -> None:
    plan = build_plan(load_site(SITE), on=ON)

    benchmark.pedantic(to_pdf, args=(plan,), rounds=3, warmup_rounds=1)


@pytest.mark.parametrize("command", [("--help",), ("check", str(SITE), "--on", "2026-11-25")])
def test_whole_process(benchmark: Any, command: tuple[str, ...]) -> None:
    def run() -> None:
        subprocess.run(
            [sys.executable, "-m", "planbuilder", *command], check=True, capture_output=True
        )

    benchmark.pedantic(run, rounds=5, warmup_rounds=1)


def test_share_of_a_cold_build_that_is_not_the_pdf_writer() -> None:
    """A build from cold spends less than a quarter of its time in our own code and imports."""
    script = (
        "import time; t0 = time.perf_counter()\n"
        "from datetime import date; from pathlib import Path\n"
        "from planbuilder.site.load import load_site\n"
        "from planbuilder.plan import build_plan\n"
        "from planbuilder.render import to_html, to_pdf\n"
        "from planbuilder.view.pages import view_of\n"
        f"plan = build_plan(load_site(Path({str(SITE)!r})), on=date(2026, 11, 25))\n"
        "to_html(view_of(plan)); ours = time.perf_counter() - t0\n"
        "to_pdf(plan); print(ours / (time.perf_counter() - t0))\n"
    )
    started = time.perf_counter()
    out = subprocess.run(
        [sys.executable, "-c", script], check=True, capture_output=True, text=True
    ).stdout
    share = float(out)

    print(f"\nour share {share:.1%} of {time.perf_counter() - started:.2f} s")  # noqa: T201 - the figure is the point
    assert share < 0.25
