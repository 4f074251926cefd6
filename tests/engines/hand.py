"""A machinist's hand: his instruments, how far off he reads, and how he writes it down.

An instrument named good to x is off by x or less in 95 readings of 100.  Errors that are common
to an evening (the meter's gain, the habit of a thumb) are drawn once.
"""

from dataclasses import dataclass, replace
from math import floor, log10

from tests.engines.made import Chance

MM, INCH, OUNCE = 1e-3, 25.4e-3, 28.349523125e-3
#: Sizes that are sold by the fraction [m].
FRACTIONS = {f: f"{text} in" for f, text in (
    (1.588, "1/16"), (2.381, "3/32"), (3.175, "1/8"))}  # fmt: skip


@dataclass(frozen=True)
class Bench:
    """One evening's instruments [m, s, V, A, -], errors in common, and how much was read."""

    kind: str
    units: str
    caliper: float
    micrometer: float | None
    indicator: float | None
    lathe: float
    ruler: float
    stopwatch: float
    frame_rate: float | None
    meter: float
    volts_digit: float
    amps_digit: float
    seconds_digit: float
    scale_digit: float
    spring_scale: float
    volts_gain: float
    amps_gain: float
    ohms_gain: float
    thumb: float
    warmth: float
    starts: int
    runs: int
    pulls: int
    unmetered: int
    coasts: int
    after: bool
    writes: bool


def bench_of(chance: Chance, units: str, pull: float, current: float, mass: float) -> Bench:
    """Draw a bench: careful, ordinary or sloppy, its instruments fit for the engine's size."""
    kind = chance.one(("careful", "ordinary", "sloppy"), (3, 5, 3))
    rough = {"careful": 0, "ordinary": 1, "sloppy": 2}[kind]
    meter = chance.one(((0.005, 0.01), (0.01, 0.01, 0.02), (0.02, 0.03))[rough])
    decade = 10.0 ** floor(log10(current))
    few = rough == 2
    runs = chance.whole(*((6, 9), (5, 8), (4, 6))[rough])
    pulls = chance.whole(*((2, 3), (1, 2), (1, 1))[rough])
    starts = chance.one(((2, 3, 4), (1, 2, 2), (1, 1, 2))[rough])
    unmetered = chance.one((0, 0, 0, 1, 2))
    if few and chance.yes(0.3):  # less than an hour: some readings were never made
        runs, pulls, unmetered = chance.one(((3, 0, 0), (2, 1, 0), (0, 0, 2), (0, 0, 0), (4, 0, 0)))
        starts = chance.one((0, 1, 1))
    watch = chance.one(((0.1, 0.2), (0.2, 0.3), (0.3, 0.4))[rough])
    inch = units == "inch"
    return Bench(
        kind=kind,
        units=units,
        caliper=chance.one((0.001, 0.002)) * INCH if inch else chance.one((0.02, 0.03, 0.05)) * MM,
        micrometer=(0.0004 * INCH if inch else 0.01 * MM) if rough < 2 and chance.yes(0.6) else None,
        indicator=(0.0005 * INCH if chance.yes(0.5) else 0.01 * MM) if rough < 2 else None,
        lathe=chance.one((0.01, 0.02, 0.03)) * MM,
        ruler=(INCH / 32 if inch else 1 * MM) if rough else 0.5 * MM,
        stopwatch=watch,
        frame_rate=chance.one((None, 30.0, 60.0, 240.0)),
        meter=meter,
        volts_digit=0.1 if few and chance.yes(0.6) else 0.01,
        amps_digit=decade * (0.01 if few else 0.001),
        seconds_digit=0.1,
        scale_digit=(1e-3 if mass > 0.15 else 0.1e-3) * (5 if few and mass > 0.15 else 1),
        spring_scale=max(10.0 ** floor(log10(pull * 0.06)), 0.002),
        volts_gain=1 + chance.normal(meter / 2),
        amps_gain=1 + chance.normal(meter / 2),
        ohms_gain=1 + chance.normal(meter / 2),
        thumb=chance.normal(watch / 2 * 0.5),
        warmth=chance.between(0.2, 1.0),
        starts=starts,
        runs=runs,
        pulls=pulls,
        unmetered=unmetered,
        coasts=chance.whole(*((2, 4), (1, 3), (0, 2))[rough]),
        after=chance.yes(0.55),
        writes=rough == 0 or (rough == 1 and chance.yes(0.5)),
    )  # fmt: skip


def faultless(bench: Bench) -> Bench:
    """The same bench without any error; it still names its instruments as they were."""
    return replace(
        bench, volts_digit=1e-5, amps_digit=1e-8, seconds_digit=1e-4, volts_gain=1.0,
        amps_gain=1.0, ohms_gain=1.0, thumb=0.0, warmth=0.0,
    )  # fmt: skip


def trim(text: str) -> str:
    """A number without zeros that nobody writes."""
    return text.rstrip("0").rstrip(".") if "." in text else text


def places(digit: float) -> int:
    """Decimals that show a digit, and no more."""
    return max(0, -floor(log10(digit) + 1e-9))


class Hand:
    """Reads true values and writes them, each with its own error."""

    def __init__(self, chance: Chance, bench: Bench):
        self.chance, self.bench = chance, bench

    def off(self, good_to: float) -> float:
        """The error of one reading of something good to so much."""
        return self.chance.normal(good_to / 2)

    def in_inches(self, often: float = 0.4) -> bool:
        """Whether he takes the inch side for this reading."""
        units = self.bench.units
        return units == "inch" or (units == "mixed" and self.chance.yes(often))

    def plus_minus(self, spread: str) -> str:
        """What stands behind a reading, spread in the same unit."""
        return f" +/- {spread}"

    def length(self, value, tool=None, *, written=False, inch=None, least=0.0) -> str:
        """A length by caliper or by a tool that is good to ``tool`` [m]."""
        tool = tool or self.bench.caliper
        read = value + self.off(tool)
        inch = self.in_inches() if inch is None else inch
        unit, name = (INCH, "in") if inch else (MM, "mm")
        digit = 10.0 ** floor(log10(tool / unit) + 1e-9)
        digit = min(digit, 0.001 if inch else 1.0)
        read = max(read, least, digit * unit if value > 0 and least == 0 else 0.0)
        text = f"{round(read / unit / digit) * digit:.{places(digit)}f}"
        spread = self.plus_minus(trim(f"{tool / unit:.5f}")) if written else ""
        return f'"{text}{spread} {name}"'

    def fine(self, value, *, good_to=None, written=None) -> str:
        """A play, a gap or a runout: by feeler or indicator, in hundredths or thousandths."""
        tool = good_to or self.bench.indicator or self.bench.caliper
        inch = self.in_inches(0.5)
        unit, name, digit = (INCH, "in", 0.0005) if inch else (MM, "mm", 0.01)
        if tool < digit * unit:
            digit = 0.0001 if inch else 0.001
        read = max(value + self.off(tool), 0.0)
        text = f"{round(read / unit / digit) * digit:.{places(digit)}f}"
        written = self.bench.writes if written is None else written
        spread = self.plus_minus(trim(f"{tool / unit:.5f}")) if written else ""
        return f'"{text}{spread} {name}"'

    def stock_size(self, value) -> str:
        """A shaft, a bore, a module: known by name, not measured."""
        fraction = FRACTIONS.get(round(value / MM, 3))
        if fraction:
            return f'"{fraction}"'
        return f'"{trim(f"{value / MM:.4f}")} mm"'

    def mass(self, value) -> str:
        """A weight on the kitchen scales, or on better ones."""
        digit = self.bench.scale_digit if value > 10 * self.bench.scale_digit else 0.1e-3
        read = max(value + self.off(2 * digit), digit)
        if self.bench.units == "inch":
            ounces, step = read / OUNCE, 0.01 if value > 5e-3 else 0.001
            spread = max(2 * digit / OUNCE, step)
            return f'"{ounces:.{places(step)}f}{self.plus_minus(trim(f"{spread:.4f}"))} oz"'
        text = f"{round(read / digit) * digit * 1e3:.{places(digit * 1e3)}f}"
        return f'"{text}{self.plus_minus(trim(f"{2e3 * digit:.4f}"))} g"'

    def volts(self, value, scatter=0.0) -> str:
        """A voltage by the meter."""
        digit = self.bench.volts_digit
        read = value * self.bench.volts_gain * (1 + self.chance.normal(scatter))
        read = max(round(read / digit) * digit, digit)
        return f'"{read:.{places(digit)}f} V"'

    def amps(self, value, scatter=0.0) -> str:
        """A current by the meter."""
        digit = self.bench.amps_digit
        while value < 8 * digit:
            digit /= 10
        read = value * self.bench.amps_gain * (1 + self.chance.normal(scatter))
        read = max(round(read / digit) * digit, digit)
        if digit >= 1e-3 and value >= 1:
            return f'"{read:.{places(digit)}f} A"'
        return f'"{read * 1e3:.{places(digit * 1e3)}f} mA"'

    def ohms(self, value, scatter=0.015) -> str:
        """A winding at one place of the armature."""
        read = value * self.bench.ohms_gain * (1 + self.chance.normal(scatter))
        digit = 10.0 ** (floor(log10(read)) - 2)
        return f'"{round(read / digit) * digit:.{places(digit)}f} ohm"'

    def seconds(self, value) -> str:
        """A time by the thumb: what is common to the evening and what is not."""
        own = self.chance.normal(self.bench.stopwatch / 2 * 0.75**0.5)
        digit = self.bench.seconds_digit
        return f'"{max(value + self.bench.thumb + own, digit):.{places(digit)}f} s"'

    def share(self, value, part: float) -> str:
        """A fraction that he bets on to a part of itself."""
        spread = part * value
        read = max(value + self.off(spread), 0.2 * value)
        digit = 10.0 ** (floor(log10(value)) - 1)
        decimals = places(digit)
        return f'"{read:.{decimals}f}{self.plus_minus(f"{spread:.{decimals + 1}f}")}"'

    def force(self, value, good_to: float, written=None) -> str:
        """A pull on the spring scale, or a weight over a pulley."""
        read = max(value + self.off(good_to), good_to / 2)
        decimals = min(places(good_to) + 1, 4)
        written = self.bench.writes if written is None else written
        spread = self.plus_minus(f"{good_to:.{decimals}f}") if written else ""
        return f'"{read:.{decimals}f}{spread} N"'
