"""What a meter, a watch and a ruler read on one locomotive, ready to be weighed together.

A ``doubt`` is the relative standard error that he wrote behind a number himself; it comes on top
of what the instruments leave open, because it says what they cannot: a needle that trembled.
"""

import math
import re
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal, NamedTuple

import numpy as np

from mechkit import traction
from mechkit.drive.model.spread import doubt
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.schema import Coast, InstrumentsTable, Measured, MotorTable, Run
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import Reading

NAN = math.nan  # not read
#: Sorts of readings, in the order in which they stand in a row.
SORTS = (
    *("resistance reading", "free-running current", "free-running speed", "stalled current"),
    *("starting voltage", "current of run", "time of run"),
    *("distance of coast", "time of coast", "pull at slip"),
)
#: One frame of a phone's camera [s], thirty a second.
FRAME = 1 / 30
#: Running free, no motor loses more than this share of its volts in the winding.
MOST_LOST = 0.98
#: So many readings are taken to agree beforehand.
AGREEING = 6.0


def scatter(squares: float, count: float) -> float:
    """How many times their errors readings scatter, and no less than one.

    ``squares`` of what they are off, in errors of their own, and how many there are to spare.
    """
    return max(1.0, ((squares + AGREEING) / (count + AGREEING)) ** 0.5)


@dataclass(frozen=True)
class Free:
    """The motor alone, running free: [V], [A], [rad/s]; ``doubt`` of current and of speed."""

    voltage: float
    current: float
    speed: float
    doubt: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class Held:
    """The motor alone, shaft held: [V], [A]; ``doubt`` of the current for this voltage."""

    voltage: float
    current: float
    doubt: float = 0.0


@dataclass(frozen=True)
class Steady:
    """A steady run: [V], the stretch [m] and its time [s], pull [N], and the current [A] if read.

    A lap is a run without current; a spring scale on the coupler is a run with a pull.
    ``doubt`` of voltage, current and speed.
    """

    voltage: float
    distance: float
    time: float
    pull: float = 0.0
    current: float = NAN
    doubt: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Rolled:
    """Power cut at a steady run on ``voltage`` [V]: how far [m] or how long [s] it rolled.

    ``time_error`` [s] is two standard errors of a time that no stop-watch took: a frame of a film.
    ``doubt`` of how far and of how long.
    """

    voltage: float
    rails: Literal["open", "shorted"] = "open"
    distance: float = NAN
    time: float = NAN
    time_error: float = NAN
    doubt: tuple[float, float] = (0.0, 0.0)


class Given(NamedTuple):
    """A number that comes from beside the track, with its relative standard error."""

    value: float
    error: float = 0.0


@dataclass(frozen=True)
class Known:
    """What is counted, weighed or looked up; the readings on the track may correct it.

    ``adhesion`` is drawbar pull at slip and ``rolling`` the train's own resistance, both over
    weight; ``inertia`` of rotor and flywheel, ``efficiency`` of the whole mesh as the table of
    friction has it; ``brush_drop`` [V] with its standard error in volts.  ``free_speed`` [rad/s]
    is where the motor's own friction was read; ``thermal_resistance`` [K/W], winding to air.
    """

    train: Train
    wheel_diameter: Given
    train_mass: Given
    mass_on_drivers: Given
    adhesion: Given
    rolling: Given
    inertia: Given
    efficiency: Given
    brush_drop: Given
    free_speed: float
    thermal_resistance: float

    @property
    def gear_ratio(self) -> float:
        """Turns of the motor for one of the axle."""
        return self.train.ratio


@dataclass(frozen=True)
class Errors:
    """Instruments as the sheet names them, and scatter of the mechanism.

    ``meter`` (a fraction, common to all its volts or all its amps), ``stopwatch`` [s], ``ruler``
    [m] and ``spring_scale`` [N] are the finest that can be trusted, two standard errors.  The
    rest are standard errors as fractions, common practice, no source: adhesion as stated, the
    last digit of amps and of volts, a revolution counter, a brush on its bars, a breakaway, one
    coast to the next, slip at one place of the track and at the next.  ``thumb`` is the share of
    a stop-watch's error that is the same each time; ``friction`` and ``coast`` hold that a mesh rubs
    a little otherwise at every speed, where the model has one friction.
    """

    meter: float
    stopwatch: float
    ruler: float
    spring_scale: float = 0.02
    digit: float = 0.005
    friction: float = 0.01
    volts_digit: float = 0.002
    rotation: float = 0.005
    brush: float = 0.02
    breakaway: float = 0.03
    coast: float = 0.035
    place: float = 0.05
    thumb: float = 0.5


@dataclass(frozen=True)
class Bench:
    """Every reading; any list may be empty.  ``slip`` [N] is the pull at which drivers slip.

    ``doubt`` of resistance and of starting voltage, one a reading, or none at all.
    """

    resistance: tuple[float, ...] = ()
    no_load: tuple[Free, ...] = ()
    stall: tuple[Held, ...] = ()
    starting_voltage: tuple[float, ...] = ()
    runs: tuple[Steady, ...] = ()
    coasts: tuple[Rolled, ...] = ()
    slip: tuple[float, ...] = ()
    doubt: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())

    @cached_property
    def arrays(self):
        """Columns of free, held, steady and rolled readings."""
        free = [(r.voltage, r.current, r.speed) for r in self.no_load]
        held = [(r.voltage, r.current) for r in self.stall]
        runs = [(r.voltage, r.pull, r.distance, r.current, r.time) for r in self.runs]
        coasts = [
            (r.voltage, r.rails == "shorted", r.distance, r.time, r.time_error) for r in self.coasts
        ]
        return tuple(
            np.array(rows, float).reshape(-1, width).T
            for rows, width in ((free, 3), (held, 2), (runs, 5), (coasts, 5))
        )

    @cached_property
    def counts(self):
        """How many readings of each sort, in the order of ``read``."""
        free, held, runs, coasts = (len(a.T) for a in self.arrays)
        starts, slips = len(self.starting_voltage), len(self.slip)
        return [len(self.resistance), free, free, held, starts, runs, runs, coasts, coasts, slips]

    @cached_property
    def read(self):
        """All readings in one row, not-a-number where not read."""
        free, held, runs, coasts = self.arrays
        parts = [self.resistance, free[1], free[2], held[1], self.starting_voltage]
        return np.concatenate([*parts, runs[3], runs[4], coasts[2], coasts[3], self.slip])

    @cached_property
    def doubts(self):
        """His own doubts, in the order of ``read``; and of the voltage of each run."""
        resistance, start = (
            own or (0.0,) * len(read)
            for own, read in zip(self.doubt, (self.resistance, self.starting_voltage), strict=True)
        )
        free, held, coasts = ([r.doubt for r in part] for part in (self.no_load, self.stall, self.coasts))  # fmt: skip
        runs = np.array([run.doubt for run in self.runs]).reshape(-1, 3).T
        columns = [resistance, *_columns(free), held, start, *runs[1:], *_columns(coasts)]
        return np.concatenate([*columns, np.zeros(len(self.slip))]), runs[0]

    @cached_property
    def places(self):
        """The sort of each reading and its number from 0, in the order of ``read``."""
        return [
            (words, n)
            for words, count in zip(SORTS, self.counts, strict=True)
            for n in range(count)
        ]

    def called(self, place: tuple[str, int]) -> str:
        """A reading in words, by its sort and its number from 0."""
        sort, n = place
        count = self.counts[SORTS.index(sort)]
        if sort == "starting voltage" and count == 2:
            return f"{('forward', 'backward')[n]} starting voltage"
        if count == 1 and not sort.endswith(("run", "coast")):
            return sort
        return f"{sort} {n + 1}"


def last_digit(reading: Reading | None) -> float:
    """Relative standard error of a number that is read to its last digit and no finer."""
    found = _NUMBER.match(reading.text) if reading and reading.value else None
    if not found or "/" in found[0]:
        return 0.0
    return 10.0 ** -len(found[1] or "") / 12**0.5 / abs(float(found[0]) or 1.0)


#: A number as it begins a reading, and its decimals.
_NUMBER = re.compile(r"[0-9]*(?:[.]([0-9]*))?(?:/[0-9]+)?")


def fine(*numbers: Reading | None) -> float:
    """What he wrote behind numbers that multiply, and their last digits: a relative error."""
    return math.hypot(doubt(*numbers), *(last_digit(each) for each in numbers))


def _columns(pairs):
    """Two columns of pairs, of which there may be none."""
    return np.array(pairs, float).reshape(-1, 2).T


def candidates(bench: Bench, known: Known, start: float):
    """Readings that could still be taken, in words, each as a bench of its own.

    Ones stand for the values that would be read.
    """
    free, _, runs, coasts = bench.arrays
    top = float(max(np.concatenate([free[0], runs[0], coasts[0]]), default=4 * start))
    low = min(1.3 * start, top)
    pull = 0.6 * traction.adhesion_limit(
        load=known.mass_on_drivers.value * STANDARD_GRAVITY, adhesion=known.adhesion.value
    )
    run: dict[str, Any] = {"distance": 1.5, "time": 1.0, "current": 1.0}
    return [
        ("resistance at four more armature positions", Bench(resistance=(1.0,) * 4)),
        ("the motor alone, running free: volts, amps and rpm", Bench(no_load=(Free(top, 1, 1),))),
        ("the lowest voltage that starts it, both ways", Bench(starting_voltage=(1.0, 1.0))),
        ("a run at the lowest throttle", Bench(runs=(Steady(low, **run),))),
        ("a run at full throttle", Bench(runs=(Steady(top, **run),))),
        ("a run at full throttle with a hung weight", Bench(runs=(Steady(top, pull=pull, **run),))),
        ("a coast with the rails open, by ruler", Bench(coasts=(Rolled(top, distance=1.0),))),
        (
            "a coast with the rails shorted, by ruler",
            Bench(coasts=(Rolled(top, "shorted", distance=1.0),)),
        ),
        ("a coast with the rails open, by stop-watch", Bench(coasts=(Rolled(top, time=1.0),))),
        (
            "a coast with the rails open, filmed",
            Bench(coasts=(Rolled(top, time=1.0, time_error=FRAME),)),
        ),
    ]


def timed(coast: Coast, tools: InstrumentsTable) -> Reading | None:
    """How long a coast took, by stop-watch or by the frames of a film, one frame either way."""
    if coast.time:
        return Reading(coast.time.value, coast.time.spread or tools.stopwatch.value)
    if coast.frames and tools.frame_rate:
        return Reading(coast.frames / tools.frame_rate, 1 / tools.frame_rate)
    return None


def _rolled(coast: Coast, tools: InstrumentsTable) -> Rolled:
    """A coast of the sheet."""
    far = coast.distance.value if coast.distance else NAN
    time = timed(coast, tools) or Reading(NAN, NAN)
    # distance grows at most with the square of the speed, and so of the voltage
    unsure = (doubt(coast.distance, coast.voltage, coast.voltage), doubt(coast.voltage))
    return Rolled(coast.voltage.value, coast.rails, far, time.value, time.spread, unsure)


def _clocked(run: Run, tools: InstrumentsTable) -> float:
    """His own doubt of a speed: a stretch of "1 m" was laid by the ruler, not to the meter."""
    far = run.distance
    laid = min(last_digit(far), tools.ruler.value / 2 / far.value)
    return math.hypot(doubt(far), laid, fine(run.time))


def bench_of(table: MotorTable, measured: Measured, tools: InstrumentsTable) -> Bench:
    """The readings of one state: its motor alone, and the engine on the track."""
    free, held = table.no_load, table.stall
    return Bench(
        resistance=tuple(r.value for r in table.resistance),
        no_load=(
            Free(
                free.voltage.value,
                free.current.value,
                free.speed.value,
                (fine(free.current), fine(free.speed, free.voltage)),
            ),
        ),
        stall=(Held(held.voltage.value, held.current.value, fine(held.voltage, held.current)),)
        if held
        else (),
        starting_voltage=tuple(v.value for v in measured.starting_voltage),
        runs=tuple(
            Steady(
                run.voltage.value,
                run.distance.value,
                run.time.value,
                run.pull.value,
                run.current.value if run.current else NAN,
                (fine(run.voltage), fine(run.current), _clocked(run, tools)),
            )
            for run in measured.runs
        ),
        coasts=tuple(_rolled(coast, tools) for coast in measured.coasts),
        slip=(measured.drawbar_pull.value,) if measured.drawbar_pull else (),
        doubt=(
            tuple(fine(each) for each in table.resistance),
            tuple(fine(each) for each in measured.starting_voltage),
        ),
    )


def errors_of(tools: InstrumentsTable, measured: Measured) -> Errors:
    """The instruments of a sheet; a spring scale is as good as he wrote behind its reading."""
    errors = Errors(tools.meter.value, tools.stopwatch.value, tools.ruler.value)
    slip = measured.drawbar_pull
    return replace(errors, spring_scale=slip.spread) if slip and slip.spread else errors
