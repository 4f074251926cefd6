"""The demo's readings hang together: one set of constants could have produced every one.

The constants below are the invented engine's own.  Plain arithmetic, no function of the
package: the equations are those of any textbook on small motors; coasts are integrated as two
bodies with a mesh between them.
"""

import tomllib
from math import pi
from pathlib import Path

import pytest

from tests.engines.rolling import coast
from tests.identified import Day, Works, lost_motion, pushed

SHEET = tomllib.loads(Path("notebooks/ten_wheeler.toml").read_text("utf-8"))
RADIUS, RATIO, TRAIN, ON_DRIVERS = 8.1e-3, 30.0, 0.528, 0.328
ADHESION, GRAVITY = 0.20, 9.80665

#: resistance, torque constant, running friction, drag with speed, starting friction,
#: mesh efficiency, inertia of rotor and flywheel
BEFORE = {
    "R": 13.0,
    "k": 7.0e-3,
    "T": 1.15e-3,
    "c": 0.18e-6,
    "start": 1.45e-3,
    "eta": 0.33,
    "J": 2.35e-7,
}
AFTER = {
    "R": 22.0,
    "k": 14.0e-3,
    "T": 0.31e-3,
    "c": 0.17e-6,
    "start": 0.41e-3,
    "eta": 0.45,
    "J": 0.8e-7 + pi * 8490 * 0.012 / 32 * (0.016**4 - 0.002**4),
}
#: the motors alone: friction and drag of brushes and bearings
ALONE = {"as_is": (BEFORE, 0.45e-3, 0.05e-6), "planned": (AFTER, 0.10e-3, 0.02e-6)}
DRIVES = {"measured_before": BEFORE, "measured_after": AFTER}


def number(text):
    """The number in front of a unit, in base units of its prefix."""
    value, unit = text.split(maxsplit=1)
    return float(value) * {"m": 1e-3, "k": 1e3}.get(unit[0] if len(unit) > 1 else "", 1.0)


def running(d, volts, torque):
    """Motor speed [rad/s] and current [A] of a drive under a torque."""
    speed = (volts - d["R"] * torque / d["k"]) / (d["k"] + d["R"] * d["c"] / d["k"])
    return speed, (torque + d["c"] * speed) / d["k"]


@pytest.mark.parametrize("name", DRIVES)
def test_runs(name):
    d = DRIVES[name]
    for run in SHEET[name]["runs"]:
        torque = d["T"] + number(run.get("pull", "0 N")) * RADIUS / (RATIO * d["eta"])
        speed, current = running(d, number(run["voltage"]), torque)
        time = number(run["distance"]) / (speed / RATIO * RADIUS)
        assert number(run["current"]) == pytest.approx(current, rel=0.015)
        # Thumb on the watch, and half a percent of the voltage.
        error = 0.2 + 0.006 * time
        assert float(run["time"].split()[0]) == pytest.approx(time, abs=error, rel=0)


#: Friction under the worm's thrust, plain or on balls; bore of the worm; backlash and end play.
THRUST = {
    "measured_before": (0.10, 2e-3, 0.050e-3 + 0.508e-3),
    "measured_after": (0.003, 3.175e-3, 0.060e-3 + 0.0762e-3),
}


@pytest.mark.parametrize("name", DRIVES)
def test_coasts(name):
    d, (rubs, bore, play) = DRIVES[name], THRUST[name]
    day = Day(ADHESION, 0.018, 2 * RADIUS, TRAIN, ON_DRIVERS)
    works = Works(
        {
            "resistance": d["R"],
            "torque_constant": d["k"],
            "running_friction": d["T"],
            "stiction": d["start"] / d["T"],
            "damping": d["c"],
            "efficiency": d["eta"],
            "inertia": d["J"],
        },
        day,
    )
    works.back, works.lost = pushed(d["eta"], rubs, bore), lost_motion(day, play)
    for read in SHEET[name]["coasts"]:
        speed, _ = running(d, number(read["voltage"]), d["T"])
        stop = coast(works, speed / RATIO * RADIUS, read["rails"] == "shorted")
        assert number(read["distance"]) == pytest.approx(stop.distance, abs=1e-3, rel=0.03)


@pytest.mark.parametrize("name", DRIVES)
def test_starting_voltage_and_pull(name):
    d = DRIVES[name]
    for volts in SHEET[name]["starting_voltage"]:
        assert number(volts) == pytest.approx(d["start"] * d["R"] / d["k"], rel=0.05)
    pull = ADHESION * ON_DRIVERS * GRAVITY
    assert number(SHEET[name]["drawbar_pull"]) == pytest.approx(pull, rel=0.03)


@pytest.mark.parametrize("name", ALONE)
def test_motors_alone(name):
    d, friction, drag = ALONE[name]
    motor = SHEET[name]["motor"]
    for resistance in motor["resistance"]:
        assert number(resistance) == pytest.approx(d["R"], rel=0.02)
    speed, current = running(d | {"c": drag}, number(motor["no_load"]["voltage"]), friction)
    assert number(motor["no_load"]["speed"]) * pi / 30 == pytest.approx(speed, rel=0.01)
    assert number(motor["no_load"]["current"]) == pytest.approx(current, rel=0.05)
    stall = motor["stall"]
    assert number(stall["voltage"]) / number(stall["current"]) == pytest.approx(d["R"], rel=0.02)


def test_it_says_that_it_is_invented():
    assert "invented" in SHEET["title"]
    assert "invented" in Path("notebooks/ten_wheeler.toml").read_text("utf-8")[:400]
