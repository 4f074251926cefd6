"""What the fingers feel of a motor's cogging: in time and in the choice."""

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge, nominal
from mechkit.drive.model import cogging
from mechkit.drive.model.spread import Spread
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, ramp
from mechkit.drive.questions import in_time


def known(**changes):
    changes = {name.replace("__", "."): value for name, value in changes.items()}
    return Knowledge(sheet.demo().with_values(changes).data, Spread(draws=200))


def test_light_and_strong_are_told_apart_and_none_is_nothing():
    assert cogging.FELT["none"] == (0.0, 0.0)
    assert cogging.FELT["light"][1] <= cogging.FELT["strong"][0]
    low, high = cogging.UNFELT["iron core"]
    assert (low, high) == (cogging.FELT["light"][0], cogging.FELT["strong"][1])
    assert cogging.UNFELT["ironless"] == (0.0, 0.0)


def test_the_peak_is_a_share_of_the_torque_at_stall_by_hand():
    """Light: 1 % of k U / R, with 7 mN·m/A, 12 V and 13 ohm some 0.065 mN·m."""
    engine = known(as_is__motor__cogging="light")
    detail = in_time.detail_of(engine.sheet.as_is, nominal(engine.before))
    assert detail.cogging == pytest.approx(0.01 * 7e-3 * 12 / 13, rel=0.05)
    assert in_time.detail_of(engine.sheet.planned, nominal(engine.planned)).cogging == 0.0
    plain = known()
    assert in_time.detail_of(plain.sheet.as_is, nominal(plain.before)).cogging == 0.0


@pytest.mark.parametrize("felt", ["light", "strong"])
def test_cogging_is_not_counted_twice_at_the_start(felt):
    """The volts that start it hold the cogging already: in time it starts at the same ones."""
    engine = known(as_is__motor__cogging=felt)
    drive, detail = (
        nominal(engine.before),
        in_time.detail_of(engine.sheet.as_is, nominal(engine.before)),
    )
    slow = Supply((ramp(0.0, 6.0, 12.0),))
    run = simulate(in_time.smooth(drive, detail), slow, None, detail)
    leverage = sum(shaft.ripple for shaft in detail.shafts)
    assert run.starting_voltage == pytest.approx(drive.starting_voltage, rel=0.03 + leverage)


def test_an_iron_core_is_not_chosen_as_if_it_were_ironless():
    """The same readings once as ironless and once as iron core: the latter creeps faster."""
    data = sheet.demo().data
    motor = data.planned.motor.model_copy(update={"starting_voltage": None, "stall": None})
    drives = {}
    for felt in ("none", "light", "strong"):
        turned = motor.model_copy(update={"cogging": felt})
        state = data.planned.model_copy(update={"motor": turned})
        drives[felt] = Knowledge(data, Spread(draws=200)).drive_of(state, "from the drawer")
    starts = {felt: float(np.median(one.starting_voltage)) for felt, one in drives.items()}
    assert starts["none"] < starts["light"] < starts["strong"]
    creeps = {
        felt: float(np.median(one.speed_at(one.starting_voltage))) for felt, one in drives.items()
    }
    assert creeps["none"] < creeps["light"] < creeps["strong"]
    stall = float(drives["none"].motor.stall_torque(12.0)[0])
    more = drives["strong"].starting_friction[0] - drives["none"].starting_friction[0]
    assert more == pytest.approx(stall * (0.02 * 0.06) ** 0.5, rel=0.01)
