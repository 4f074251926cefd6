"""Worm and gears from the motor to the axle: losses both ways, and what is lost between them."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive.model.parts import Gear, Worm
from mechkit.drive.model.train import COLLAR, Train
from tests.independent import thread

STRAIGHT = 0.96
WORM = Worm("steel", starts=1, module=0.4e-3, outside_diameter=6.8e-3, length=10e-3, bore=2e-3)
IDLER = Gear("idler", 14, "brass", 16 * 0.4e-3, 3e-3, 0.0)
AXLE = Gear("axle gear", 30, "brass", 32 * 0.4e-3, 3e-3, 0.0)
TRAIN = Train(
    WORM, (IDLER, AXLE), np.radians(20), "grease", backlash=0.03e-3, end_play=0.05e-3,
    thrust_bearing="plain",
)  # fmt: skip
LEAD = np.arctan(0.4 / 6.0)
FRICTIONS = pytest.mark.parametrize("friction", [0.03, 0.08, 0.15])


def test_lost_motion_by_hand():
    """One turn of the axle is 30 leads of the worm, and one circumference of the wheel."""
    expected = 0.03e-3 * 16 / 12 + 0.05 / (30 * 0.4 * np.pi) * np.pi * 16e-3
    assert TRAIN.lost_motion(16e-3) == pytest.approx(expected)


@FRICTIONS
@pytest.mark.parametrize("bearing", ["plain", "ball"])
def test_power_is_lost_in_the_thread_at_the_collar_and_between_straight_teeth(friction, bearing):
    """Independent computation: forces on a helicoid by vectors, and moments round a face.

    The face reaches from the bore to the root of the thread, 2.2 modules deep.
    """
    train = replace(TRAIN, thrust_bearing=bearing)
    face = {"friction": COLLAR[bearing], "collar_diameter": (2e-3 + 5.04e-3) / 2}
    collar = thread.collar_loss(pitch_diameter=6e-3, lead_angle=LEAD, **face)
    shape = {"lead_angle": LEAD, "friction": friction, "pressure_angle": np.radians(20)}
    own, back = thread.efficiency(**shape), thread.back_driving_efficiency(**shape)
    whole = train.efficiency(friction, STRAIGHT)
    assert whole == pytest.approx(STRAIGHT / (1 / own + collar), rel=1e-6)
    assert train.back_efficiency(whole, STRAIGHT) == pytest.approx(
        STRAIGHT * (back - collar), rel=1e-6
    )
    assert train.friction(whole, STRAIGHT) == pytest.approx(friction, rel=1e-9)


def test_what_passes_better_than_thread_and_collar_can_has_no_friction():
    assert TRAIN.friction(0.99, STRAIGHT) == 0
    none = TRAIN.efficiency(0.0, STRAIGHT)
    assert TRAIN.friction(none, STRAIGHT) == pytest.approx(0, abs=1e-12)


def test_idlers_change_the_loss_and_not_the_ratio():
    alone = replace(TRAIN, gears=(AXLE,))
    assert alone.ratio == TRAIN.ratio == 30
    assert TRAIN.efficiency(0.08, STRAIGHT) == pytest.approx(
        STRAIGHT * alone.efficiency(0.08, STRAIGHT)
    )
