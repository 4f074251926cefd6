"""What a run in time leaves behind, in the words of the trade."""

from dataclasses import dataclass

import numpy as np
import scipy

from mechkit import check
from mechkit.drive.model.drive import Drive
from mechkit.drive.motion.detail import Detail


@dataclass(frozen=True)
class Event:
    """Something that happened: when [s], where [m], at what speed [m/s] and voltage [V].

    In a window of pulses the voltage is the pulse's, its height or 0.
    """

    time: float
    words: str
    distance: float
    speed: float
    voltage: float


@dataclass(frozen=True)
class Course:
    """A run at chosen times, all in SI: the model's distance and speed, the motor's, current."""

    time: np.ndarray
    distance: np.ndarray
    speed: np.ndarray
    motor_angle: np.ndarray
    motor_speed: np.ndarray
    current: np.ndarray
    voltage: np.ndarray
    rim_force: np.ndarray
    slip_speed: np.ndarray


@dataclass(frozen=True, eq=False)
class Motion:
    """A run in time.

    ``table`` holds a row a quantity and a column a step; ``energy`` [J] what went where:
    ``supply`` in, ``motion`` (cogging included) and ``field`` gained, the rest spent.
    """

    drive: Drive
    detail: Detail
    table: np.ndarray
    events: tuple[Event, ...]
    energy: dict[str, float]
    steps: int

    @property
    def nodes(self) -> Course:
        """The run at the solver's own steps; an event stands twice, before and after."""
        time, x, v, angle, speed, _, current = self.table[:7]
        force, volts, slip = self.table[13:]
        return Course(time, x, v, angle, speed, current, volts, force, slip)

    def course(self, times) -> Course:
        """The run at any times within it; cubic between steps, events stay sharp."""
        times = np.asarray(times, dtype=float)
        node = self.table[0]
        check.up_to(float(node[0]), float(node[-1]), time=times)
        right = np.clip(np.searchsorted(node, times, side="left"), 1, len(node) - 1)
        left = right - 1
        width = np.where(node[right] > node[left], node[right] - node[left], 1.0)
        s = (times - node[left]) / width

        def cubic(row):
            """Hermite's cubic from values and rates at both ends."""
            y, rate = self.table[row], self.table[row + 6]
            h = [(1 + 2 * s) * (1 - s) ** 2, s * (1 - s) ** 2, s**2 * (3 - 2 * s), s**2 * (s - 1)]
            return (
                h[0] * y[left] + h[1] * width * rate[left]
                + h[2] * y[right] + h[3] * width * rate[right]
            )  # fmt: skip

        def straight(row):
            y = self.table[row]
            return y[left] + s * (y[right] - y[left])

        return Course(
            times, cubic(1), cubic(2), cubic(3), cubic(4), cubic(6),
            straight(14), straight(13), straight(15),
        )  # fmt: skip

    # -- energy -------------------------------------------------------------------------

    @property
    def throughput(self) -> float:
        """All energy that was turned over [J]."""
        return sum(abs(energy) for energy in self.energy.values())

    @property
    def residual(self) -> float:
        """Energy that the run has lost or won by its own error, of the throughput [-]."""
        spent = sum(energy for name, energy in self.energy.items() if name != "supply")
        return abs(self.energy["supply"] - spent) / max(self.throughput, 1e-12)

    @property
    def heat(self) -> float:
        """Mean heat in the winding [W]."""
        return self.energy["winding"] / float(self.table[0, -1])

    # -- what is told -------------------------------------------------------------------

    def first(self, words: str) -> Event | None:
        """The first event of a kind, if there is one."""
        return next((event for event in self.events if event.words == words), None)

    def last(self, words: str) -> Event | None:
        """The last event of a kind, if there is one."""
        return next((event for event in reversed(self.events) if event.words == words), None)

    @property
    def start(self) -> Event | None:
        """The break-away that carries on for a turn of the motor; None where none does.

        Cogging lets an engine twitch from one tooth to the next before it really starts.
        """
        wheel = np.pi * float(np.ravel(self.drive.wheel_diameter)[0])
        for number, event in enumerate(self.events):
            if event.words == "breaks away":
                later = (one for one in self.events[number:] if one.words == "stands")
                stand = next(later, None)
                end = stand.distance if stand else float(self.table[1, -1])
                if abs(end - event.distance) >= wheel / self.drive.gear_ratio:
                    return event
        return None

    @property
    def starting_voltage(self) -> float | None:
        """Voltage at which it starts [V]; None where it does not."""
        return self.start.voltage if self.start else None

    @property
    def coast_distance(self) -> float | None:
        """Way from the last cut of the power to the stand [m]; None where it did not stop."""
        off, stand = self.last("power cut"), self.last("stands")
        if off is None or stand is None or stand.time < off.time:
            return None
        return stand.distance - off.distance

    @property
    def slipped(self) -> float:
        """Way that the wheels slid on the rail, slip and skid together [m]."""
        node = self.table[0]
        return float(np.trapezoid(np.abs(self.table[15]), node))

    def hop(self, start: float, end: float) -> float:
        """Swing of the speed once a wheel turn, mean to peak, per mean speed [-].

        From the whole turns of the drivers between two times [s]; at least one is needed.
        Over two or more, what does not repeat with the wheel is faded out (Hann).
        """
        node, ratio = self.table[0], self.drive.gear_ratio
        check.between(start, float(node[-1]) * (1 + 1e-12), time=end)
        first, last = self.course([start, end]).motor_angle / (2 * np.pi * ratio)
        turns = np.floor(last - first)
        if turns < 1:
            raise ValueError(f"end = {end:.6g} s: must be a whole turn of the drivers after start")
        when = np.linspace(start, end, int(400 * turns) + 1)
        course = self.course(when)
        wheel = course.motor_angle / ratio - first * 2 * np.pi
        even = np.arange(int(200 * turns)) * 2 * np.pi / 200
        weight = 1 - np.cos(even / turns) * (turns > 1)
        speed = scipy.interpolate.CubicHermiteSpline(wheel, when, ratio / course.motor_speed)(even)
        speed = self.course(speed).speed * weight
        return float(2 * np.abs(np.mean(speed * np.exp(-1j * even))) / np.mean(speed))

    def tones(self, time: float) -> dict[str, float]:
        """Tone of each mesh at a time [1/s], by the name of its shaft."""
        speed = float(self.course([time]).motor_speed[0])
        return {shaft.name: float(shaft.tone(speed)) for shaft in self.detail.shafts}
