"""Invented recordings of an invented drive, made from its mechanism and not from our formulas.

A spur pair is a crossed belt round two base circles (what an involute is), one of them
turning about a point off its center; the speed comes from the belt's length, turned round by interpolation.
"""

from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import cumulative_trapezoid
from scipy.signal import lfilter

ANGLE = np.radians(20.0)


@dataclass(frozen=True)
class Drive:
    """Teeth and sizes, in SI."""

    starts: int = 1
    idler: int | None = 20
    axle: int = 30
    module: float = 0.4e-3

    @property
    def ratio(self):
        """Turns of the motor for one of the axle."""
        return self.axle / self.starts


@dataclass(frozen=True)
class Fault:
    """Total runout [m] by shaft, and how much the rods grab [-], twice a turn."""

    runout: dict = field(default_factory=dict)
    rods: float = 0.0


def crossed_belt(drive, total_runout, steps=720):
    """Turn of an off-center axle gear (rad) against the turn of a true gear that drives it."""
    r1 = drive.module * (drive.idler or 20) / 2 * np.cos(ANGLE)
    r2 = drive.module * drive.axle / 2 * np.cos(ANGLE)
    center = (r1 + r2) / np.cos(ANGLE)
    off = total_runout / 2

    def driver(turn):
        # The belt leaves circle 1, crosses, and winds on circle 2; its length stays.
        x, y = center + off * np.cos(turn), off * np.sin(turn)
        between, tilt = np.hypot(x, y), np.arctan2(y, x)
        free = np.sqrt(between**2 - (r1 + r2) ** 2)
        lap = np.arccos((r1 + r2) / between)
        return (r2 * turn - free + (r1 + r2) * (lap - tilt)) / r1

    fine = np.linspace(-1, 2 * np.pi + 1, 20 * steps)
    wanted = driver(0.0) + np.linspace(0, driver(2 * np.pi) - driver(0.0), steps)
    return np.interp(wanted, driver(fine), fine)


def swing(drive, total_runout):
    """Speed of the off-center axle gear over its mean, as a function of the turn [turns]."""
    turn = crossed_belt(drive, total_runout)
    speed = np.gradient(turn, 2 * np.pi / (len(turn) - 1))
    places = np.append(turn / (2 * np.pi), turn[0] / (2 * np.pi) + 1)
    speed = np.append(speed, speed[0])
    return lambda turns: np.interp(np.mod(turns - places[0], 1) + places[0], places, speed)


def idler_swing(drive, total_runout):
    """The same for an idler whose two meshes lie on opposite sides: position along both lines.

    The flank of a base circle whose center moves by (x, y) is shifted by its share along the
    line of action; in at the top, out at the bottom.
    """
    base = drive.module * drive.idler / 2 * np.cos(ANGLE)
    turn = np.linspace(0, 2 * np.pi, 721)
    x, y = total_runout / 2 * np.cos(turn), total_runout / 2 * np.sin(turn)
    into = x * np.cos(ANGLE) + y * np.sin(ANGLE)
    out = -x * np.cos(ANGLE) + y * np.sin(ANGLE)
    error = (out - into) / base
    return turn / (2 * np.pi), 1 + np.gradient(error, turn)


def worm_swing(drive, total_runout):
    """A worm that comes and goes moves its flank along the gear's pitch line."""
    turn = np.linspace(0, 2 * np.pi, 721)
    advance = drive.starts * np.pi * drive.module * turn / (2 * np.pi)
    pushed = advance + total_runout / 2 * np.tan(ANGLE) * np.sin(turn)
    mean = drive.starts * np.pi * drive.module / (2 * np.pi)
    return turn / (2 * np.pi), np.gradient(pushed, turn) / mean


def turns_of(rng, seconds, rate, pace, drift=0.15):
    """Time, mean axle speed [turns/s] that drifts, and the turns."""
    time = np.arange(int(seconds * rate)) / rate
    slow = rng.uniform(0.05, 0.4)
    speed = pace * (
        1
        + drift * np.sin(2 * np.pi * slow * time + rng.uniform(0, 6))
        + rng.uniform(-0.5, 0.5) * drift * time / seconds
    )
    return time, speed, cumulative_trapezoid(speed, time, initial=0) + rng.uniform(0, 1)


def wheel_speed(rng, drive, fault, turns):
    """Axle speed over its mean: every swing of the drive together."""
    total = np.ones_like(turns)
    for shaft, runout in fault.runout.items():
        shift = rng.uniform(0, 1)
        if shaft == "axle":
            total *= swing(drive, runout)(turns + shift)
        elif shaft == "idler":
            places, speed = idler_swing(drive, runout)
            total *= np.interp(np.mod(turns * drive.axle / drive.idler + shift, 1), places, speed)
        else:
            places, speed = worm_swing(drive, runout)
            total *= np.interp(np.mod(turns * drive.ratio + shift, 1), places, speed)
    grab = fault.rods * np.sin(4 * np.pi * (turns + rng.uniform(0, 1)))
    teeth = 0.002 * np.sin(2 * np.pi * drive.axle * turns + 1.0)
    return total + grab + teeth


def speed_record(rng, drive, fault, *, seconds=12.0, rate=250.0, pace=None, noise=0.01):
    """Time [s] and axle speed [rad/s] with reading noise and drift."""
    pace = pace or rng.uniform(1.2, 2.0)
    time, mean, turns = turns_of(rng, seconds, rate, pace)
    speed = mean * wheel_speed(rng, drive, fault, turns)
    return time, 2 * np.pi * speed * (1 + noise * rng.standard_normal(len(time)))


def current_record(
    rng, drive, fault, *, lag, idle=0.08, load=0.10, seconds=9.0, rate=500.0, noise=0.03
):
    """Time and current [A]: the load swings with the wheel, the motor's inertia evens it out.

    ``lag`` is the drive's time constant [s]; the teeth pass with a ripple of their own.
    """
    pace = rng.uniform(1.2, 2.0)
    time, mean, turns = turns_of(rng, seconds, rate, pace, drift=0.08)
    torque = idle + load * wheel_speed(rng, drive, fault, turns) * (mean / pace) ** 0.3
    keep = np.exp(-1 / (rate * lag))
    current = torque[0] + lfilter([1 - keep], [1, -keep], torque - torque[0])
    brushes = np.sin(2 * np.pi * 6 * drive.ratio * turns) * (
        6 * drive.ratio * pace * 1.2 < rate / 2
    )
    teeth = np.sin(2 * np.pi * drive.axle * turns + 2) + 0.4 * np.sin(
        4 * np.pi * drive.axle * turns
    )
    ripple = idle * (0.03 * brushes + 0.03 * teeth)
    return time, current + ripple + noise * idle * rng.standard_normal(len(time))


def sound_record(rng, drive, depths, *, seconds=3.6, rate=5000, hum=0.05, noise=0.3, wow=0.3):
    """Time and sound: teeth and rush swell with each faulty shaft by a depth; hum; a hand that moves.

    ``depths`` by shaft: "axle", "idler", "motor", "rods"; "axle bump" is one knock a turn.
    """
    pace = rng.uniform(3.0, 5.0)
    time, _, turns = turns_of(rng, seconds, rate, pace)
    often = {"axle": 1.0, "motor": drive.ratio, "rods": 2.0}
    if drive.idler:
        often["idler"] = drive.axle / drive.idler
    swell = np.ones_like(time)
    for shaft, depth in depths.items():
        if shaft == "axle bump":
            place = np.mod(turns + rng.uniform(0, 1), 1)
            swell += depth * 3 * np.exp(-(((place - 0.5) / 0.08) ** 2))
        else:
            swell += depth * np.sin(2 * np.pi * (often[shaft] * turns + rng.uniform(0, 1)))
    swell = np.clip(swell, 0.05, None)
    sound = noise * rng.standard_normal(len(time))
    for n, strength in enumerate((1.0, 0.6, 0.45, 0.3, 0.2), 1):
        sound += strength * np.sin(2 * np.pi * n * drive.axle * turns + rng.uniform(0, 6))
    near = 1 + wow * np.sin(2 * np.pi * rng.uniform(0.2, 0.7) * time + rng.uniform(0, 6))
    mains = sum(np.sin(2 * np.pi * 50 * n * time + n) / n for n in (1, 2, 3, 6))
    heard = sound * swell * near + hum * 10 * mains + 0.05 * rng.standard_normal(len(time))
    return time, 0.5 * heard / np.max(np.abs(heard))
