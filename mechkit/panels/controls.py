"""What may be set on a panel: sliders in SI units, choices and switches, in groups.

`over` makes every slider of the panels: its range comes from the engine (`mechkit.drive.reach`),
here it is only rounded to ends and steps that read well.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from mechkit import units
from mechkit.drive.questions.reach import Reach

#: Steps that a range is divided into, at least; up to two and a half times as many.
STEPS = 60


class Scale(NamedTuple):
    """A slider as it is shown in one system of units."""

    low: float
    high: float
    step: float
    decimals: int
    label: str


@dataclass(frozen=True)
class Slider:
    """A quantity of one of the kinds in `mechkit.units.KINDS`; all numbers in SI.

    ``step`` is exact in metric units; inches get the next step of 1, 2 or 5.  With ``when`` =
    (name, value) it shows only while a choice has that value.
    """

    name: str
    words: str
    kind: str
    low: float
    high: float
    start: float
    step: float
    when: tuple[str, str] | None = None

    def accept(self, value):
        """The value, or a refusal."""
        if not self.low - 1e-9 * self.step <= value <= self.high + 1e-9 * self.step:
            low, high = (units.show(end, self.kind) for end in (self.low, self.high))
            raise ValueError(f"{self.name} = {units.show(value, self.kind)}: from {low} to {high}")
        return float(value)

    def shown(self, value, system):
        """The number that is shown for a value."""
        return units.shown(value, self.kind, system)

    def from_shown(self, number, system):
        """The value behind a number that is shown, inside the range."""
        return min(max(units.from_shown(number, self.kind, system), self.low), self.high)

    def scale(self, system):
        """Range and step in the units shown, both ends on the step and inside the range."""
        low, high = (units.shown(end, self.kind, system) for end in (self.low, self.high))
        step = units.shown(self.step, self.kind, system) - units.shown(0.0, self.kind, system)
        if system != "metric":
            step = _round_step(step)
        decimals = next(n for n in range(9) if abs(round(step, n) / step - 1) < 1e-6)
        first, last = math.ceil(low / step - 1e-6) * step, math.floor(high / step + 1e-6) * step
        unit = units.label(self.kind, system)
        label = f"{self.words}, {unit}" if unit else self.words
        return Scale(round(first, 9), round(last, 9), round(step, 9), decimals, label)


def over(
    reach: Reach,
    name: str,
    words: str,
    kind: str,
    *,
    steps=STEPS,
    step=None,
    when=None,
    settled=False,
) -> Slider:
    """A slider over a range: ends outward to a round step, and the start where it stands.

    What begins above nought never comes to it.

    Parameters
    ----------
    reach : Reach
        The range [SI].
    name, words, kind : str
        As of a `Slider`.
    steps : int
        So many steps at least.
    step : float, optional
        A step that must be [SI]: whole teeth, half coils.
    when : (name, value), optional
        As of a `Slider`.
    settled : bool
        Whether the start may move to the nearest step: it stands in no sheet.
    """
    unit = units.shown(1.0, kind) - units.shown(0.0, kind)
    wide = max(reach.high - reach.low, 1e-6 * abs(reach.high), 1e-12)
    step = step or _step_within(wide * unit / steps) / unit
    low, high = (math.floor(reach.low / step + 1e-6), math.ceil(reach.high / step - 1e-6))
    low += low * step < reach.least - 1e-6 * step or low == 0 < reach.low
    high -= high * step > reach.most + 1e-6 * step
    start = round(reach.start / step) * step if settled else reach.start
    ends = min(low * step, start), max(max(high, low + 1) * step, start)
    return Slider(name, words, kind, *ends, start, step, when)


def _step_within(step):
    """The largest of 1, 2, 5, 10, 20 ... that is no larger."""
    ten = 10 ** math.floor(math.log10(step) + 1e-9)
    return max(ten * n for n in (1, 2, 5) if ten * n <= step * (1 + 1e-9))


def _round_step(step):
    """The nearest of 1, 2, 5, 10, 20 ..."""
    ten = 10 ** math.floor(math.log10(step))
    return min((ten * n for n in (1, 2, 5, 10)), key=lambda n: abs(math.log(n / step)))


def offered(usual: Iterable[str], *there: str) -> tuple[str, ...]:
    """The words of a choice: the usual ones, and whatever else stands in the sheet."""
    return tuple(dict.fromkeys([*usual, *there]))


@dataclass(frozen=True)
class Choice:
    """One of a few words."""

    name: str
    words: str
    options: tuple[str, ...]
    start: str

    def accept(self, value):
        """The value, or a refusal."""
        if value not in self.options:
            raise ValueError(f"{self.name} = {value!r}: one of {', '.join(self.options)}")
        return value


@dataclass(frozen=True)
class Switch:
    """Yes or no."""

    name: str
    words: str
    start: bool = False

    def accept(self, value):
        """The value, or a refusal."""
        if not isinstance(value, bool):
            raise ValueError(f"{self.name} = {value!r}: True or False")
        return value


@dataclass(frozen=True)
class Group:
    """Controls that belong together, under a heading."""

    heading: str
    controls: tuple[Slider | Choice | Switch, ...]
