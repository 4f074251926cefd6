"""What feeds the motor in time: phases of a throttle, pulses, and three ways to be off."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import floor, inf
from typing import Literal

import numpy as np

from mechkit import check, motor

#: Fed from the throttle; or off: rails open, rails shorted, or braked through a resistor.
Circuit = Literal["fed", "open", "shorted", "braked"]


@dataclass(frozen=True)
class Phase:
    """A stretch of time on one setting: the voltage goes straight from ``start`` to ``end``.

    ``time`` [s], ``start`` and ``end`` [V] mean voltage at the motor; off, both are 0.
    ``brake`` [ohm] is the resistor across the rails of a braked phase.
    """

    time: float
    start: float = 0.0
    end: float = 0.0
    circuit: Circuit = "fed"
    brake: float = 0.0

    def __post_init__(self):
        check.positive(time=self.time)
        if self.circuit == "fed":
            check.finite(voltage=self.start)
            check.finite(voltage=self.end)
        elif self.circuit not in ("open", "shorted", "braked"):
            raise ValueError(f"circuit = {self.circuit!r}: must be fed, open, shorted or braked")
        elif self.start or self.end:
            raise ValueError(
                f"voltage = {self.start or self.end:g} V: must be 0 with the power off"
            )
        if self.circuit == "braked":
            check.positive(resistance=self.brake)
        elif self.brake:
            raise ValueError(f"resistance = {self.brake:g} ohm: only a braked phase has a resistor")


def steady(voltage: float, time: float) -> Phase:
    """One voltage [V] for a time [s]."""
    return Phase(time, voltage, voltage)


def ramp(start: float, end: float, time: float) -> Phase:
    """From one voltage to another [V] in a time [s]."""
    return Phase(time, start, end)


def cut(time: float, circuit: Circuit = "open", brake: float = 0.0) -> Phase:
    """Power off for a time [s]: rails open, shorted, or braked through a resistor [ohm]."""
    return Phase(time, circuit=circuit, brake=brake)


@dataclass(frozen=True)
class Pulses:
    """A two-level throttle: ``height`` [V] for a share of each period, else the leads shorted.

    The share is the mean voltage over the height.  Outside the ``windows`` [s, s] the motor
    sees the mean and the ripple only heats; inside, every pulse is run through the winding.
    """

    height: float
    frequency: float
    inductance: float
    windows: tuple[tuple[float, float], ...] = ()

    def __post_init__(self):
        check.positive(voltage=self.height, frequency=self.frequency, inductance=self.inductance)
        last = 0.0
        for start, end in self.windows:
            check.at_least(last, time=start)
            check.above(start, time=end)
            last = end

    def ripple_heat(self, voltage, resistance):
        """Heat that the ripple makes beside the mean current [W]."""
        level = self.height / resistance
        factor = motor.pulse_heating(
            current=level,
            voltage=self.height,
            duty=np.clip(np.asarray(voltage) / self.height, 0.0, 1.0),
            frequency=self.frequency,
            resistance=resistance,
            inductance=self.inductance,
        )
        return resistance * level**2 * (factor - 1)


@dataclass(frozen=True)
class Stretch:
    """Time in which the circuit stays one and the voltage is a straight line."""

    start: float
    end: float
    voltage: float
    slope: float
    circuit: Circuit
    brake: float = 0.0
    resolved: bool = False

    def volts(self, time):
        """Voltage at a time [V]."""
        return self.voltage + self.slope * (time - self.start)


@dataclass(frozen=True)
class Supply:
    """Phases one after the other, steady or pulsed."""

    phases: tuple[Phase, ...]
    pulses: Pulses | None = None

    def __post_init__(self):
        if not self.phases:
            raise ValueError("phases = (): must hold at least one phase")
        if self.pulses:
            for phase in self.phases:
                for voltage in (phase.start, phase.end):
                    check.up_to(0.0, self.pulses.height, voltage=voltage)

    @property
    def time(self) -> float:
        """How long it all takes [s]."""
        return sum(phase.time for phase in self.phases)

    def stretches(self) -> Iterator[Stretch]:
        """The whole time, cut wherever the circuit or the slope of the voltage changes."""
        now = 0.0
        for phase in self.phases:
            slope = (phase.end - phase.start) / phase.time
            whole = Stretch(now, now + phase.time, phase.start, slope, phase.circuit, phase.brake)
            now += phase.time
            if self.pulses and phase.circuit == "fed":
                yield from _windowed(whole, self.pulses)
            else:
                yield whole


def _windowed(whole: Stretch, pulses: Pulses) -> Iterator[Stretch]:
    """The mean between windows, pulse by pulse inside them."""
    marks = [whole.start, *(t for window in pulses.windows for t in window), whole.end]
    for number, (a, b) in enumerate(pairwise(marks)):
        start, end = max(a, whole.start), min(b, whole.end)
        if end <= start:
            continue
        if number % 2:
            yield from _pulsed(whole, start, end, pulses)
        else:
            yield Stretch(start, end, whole.volts(start), whole.slope, whole.circuit)


def _pulsed(whole: Stretch, start: float, end: float, pulses: Pulses) -> Iterator[Stretch]:
    """On and off; the share is set once a period, from the mean in its middle."""
    period = 1 / pulses.frequency
    number = floor(start / period + 1e-9)
    while number * period < end - 1e-12:
        first = number * period
        middle = min(max(first + period / 2, whole.start), whole.end)
        off = first + whole.volts(middle) / pulses.height * period
        for a, b, volts in ((first, off, pulses.height), (off, first + period, 0.0)):
            a, b = max(a, start), min(b, end)
            if b > a:
                yield Stretch(a, b, volts, 0.0, whole.circuit, resolved=True)
        number += 1


@dataclass(frozen=True)
class Section:
    """A length of track [m]; ``dead`` rail feeds nothing, a curve adds resistance per weight."""

    length: float = inf
    grade: float = 0.0
    curve_coefficient: float = 0.0
    dead: bool = False

    def __post_init__(self):
        if self.length != inf:
            check.positive(length=self.length)
        check.finite(grade=self.grade)
        check.not_negative(curve_coefficient=self.curve_coefficient)


@dataclass(frozen=True)
class Track:
    """Sections one after the other from where the engine starts; the last goes on for ever.

    ``pull`` [N] is a weight hung over a pulley that draws the engine back.
    """

    sections: tuple[Section, ...] = (Section(),)
    pull: float = 0.0

    def __post_init__(self):
        check.not_negative(force=self.pull)
        if not self.sections:
            raise ValueError("sections = (): must hold at least one section")

    @property
    def joints(self) -> tuple[float, ...]:
        """Where one section meets the next [m]."""
        lengths = [section.length for section in self.sections[:-1]]
        return tuple(float(joint) for joint in np.cumsum(lengths))
