"""One fact asked at two doors: page, panels, drawer and simulation give one number.

On the demo and on engines that nobody tuned for.  Where both doors compute, the numbers are one
to the last digits; where one of them runs in time, to what is printed.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from mechkit.drive import sheet as sheets
from mechkit.drive.choice.choose import Place, choose
from mechkit.drive.constants.knowledge import known_of, nominal
from mechkit.drive.decisions.rebuild import Rebuild, rebuild
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut
from mechkit.panels import flywheel as flywheel_panel
from mechkit.panels import rebuild as throttle_panel
from mechkit.panels import springs as springs_panel
from tests.engines import drawn, sheet

SEEDS = (9001, 9002, 9004, 9007)
#: Two ways of computing one thing, and a run in time of the same laws.
SAME, IN_TIME = 1e-9, 2e-4


@dataclass(frozen=True)
class Bench:
    """One engine before every door."""

    sheet: sheets.Sheet
    done: Rebuild

    @property
    def full(self):
        """Full throttle [V]."""
        return self.sheet.data.supply.voltage.value


@pytest.fixture(scope="module", params=["demo", *SEEDS])
def bench(request, tmp_path_factory):
    if request.param == "demo":
        loaded = sheets.demo()
    else:
        path = tmp_path_factory.mktemp("doors") / "engine.toml"
        path.write_text(sheet.sheet_text(drawn.draw(request.param), request.param), "utf-8")
        loaded = sheets.load(path)
    return Bench(loaded, rebuild(loaded.data))


def one(first, second, within=SAME):
    """Both doors say the same."""
    assert second == pytest.approx(first, rel=within, abs=1e-12)


def test_the_coast_of_page_flywheel_panel_and_simulation(bench):
    page = bench.done.headline("coast").planned
    panel = flywheel_panel.show(bench.sheet).state
    known = known_of(bench.sheet.data)
    drive, engine = nominal(known.planned), bench.sheet.data.locomotive
    rail = engine.top_speed.value / engine.scale
    if bench.sheet.data.planned.flywheel:  # without one the panel tries one on
        one(page.value, panel.open.stop)
        one(page.low, panel.open_low)
        one(page.high, panel.open_high)
        one(bench.done.headline("coast shorted").planned.value, panel.shorted.stop)
        one(bench.done.headline("felt mass").planned.value, panel.felt_mass)
        one(bench.done.decision("whirl").numbers["whirl"].value, panel.whirl)
        one(bench.done.decision("balance").limit.value, panel.allowed_off_center)
    one(bench.done.headline("coast").before.value, panel.before.stop)
    run = simulate(drive, Supply((cut(300.0),)), model_speed=rail)
    one(page.value, run.last("stands").distance, IN_TIME)


def test_start_speed_and_current_of_page_and_throttle(bench):
    panel = throttle_panel.show(bench.sheet)
    panel.set("voltage", bench.full)
    for when, answer in (("before", panel.state.before), ("planned", panel.state.planned)):
        start = getattr(bench.done.headline("start"), when)
        one(
            (start.value, start.low, start.high),
            (answer.start.value, answer.start.low, answer.start.high),
        )
        if answer.runs:
            for key, band in (("top", answer.speed), ("current", answer.current)):
                page = getattr(bench.done.headline(key), when)
                one(page.value, band.value)
                one((page.low, page.high), (band.low, band.high), 0.02)  # a draw may not start


def test_springs_of_page_and_panel(bench):
    found = {decision.key: decision for decision in bench.done.decisions}
    if "springs" in found:
        panel = springs_panel.show(bench.sheet).state
        one(found["springs"].value.value, panel.share)
        if "spring stress" in found:
            one(found["spring stress"].value.value, panel.stress)


def test_a_drive_from_the_drawer_is_the_same_drive_in_the_plan(bench):
    """Taken into the sheet, what `choose` said of it is what the page says."""
    data = bench.sheet.data
    if not (data.stock.motors and data.stock.gear_sets):
        pytest.skip("nothing in its drawer")
    found = choose(data)
    if not len(found.fitting.motor):
        pytest.skip("nothing fits")
    place = Place(*(axis[len(axis) // 2] for axis in found.fitting))
    run = found.running(Place(*(np.array([part]) for part in place)))
    taken = data.model_copy(update={"planned": found.state(place)})
    drive = nominal(known_of(taken).planned)
    one(float(drive.starting_voltage), float(run.start()[0]), 1e-6)
    one(float(drive.speed_at(bench.full)), float(run.top_speed()[0]), 1e-6)
    one(float(drive.pull_at_slip), float(run.drive.pull_at_slip[0]), 1e-6)
