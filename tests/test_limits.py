"""Limits grow with the engine: with its supply and its module, never with the demo's."""

import pytest

from mechkit.drive import sheet
from mechkit.drive.decisions import findings
from mechkit.drive.decisions.rebuild import quantities, rebuild
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.units import Reading


def with_supply(volts: float) -> BenchSheet:
    """The demo under another full throttle."""
    data = sheet.demo().data
    return data.model_copy(
        update={"supply": data.supply.model_copy(update={"voltage": Reading(volts)})}
    )


@pytest.mark.parametrize("volts", [6.0, 12.0, 24.0])
def test_start_and_creep_go_with_the_supply(volts):
    data = with_supply(volts)
    assert findings.start_limit(data) == pytest.approx(volts / 8)
    assert findings.creep_voltage(data) == pytest.approx(volts / 4)


def test_the_demo_keeps_the_rules_of_twelve_volts():
    """Rules of the trade, for 12 V and module 0.4: 1.5 V, 3 V, a shim of 5 thousandths."""
    data = sheet.demo().data
    assert findings.start_limit(data) == pytest.approx(1.5)
    assert findings.creep_voltage(data) == pytest.approx(3.0)
    assert findings.end_play_limit(data.as_is) == pytest.approx(5 * 25.4e-6, rel=0.02)


def test_a_slow_pass_is_asked_at_a_quarter_of_full_throttle():
    known = rebuild(sheet.demo().data).known
    words, _, ask = quantities(known)["creep"]
    assert "quarter of full throttle" in words
    assert ask(known.before)[0] == known.before.speed_at(3.0)[0]


def test_end_play_goes_with_the_module():
    old = sheet.demo().data.as_is
    fine = old.worm.model_copy(update={"module": Reading(0.2e-3)})
    limit = findings.end_play_limit(old.model_copy(update={"worm": fine}))
    assert limit == pytest.approx(0.1 * 3.14159265 * 0.2e-3)
