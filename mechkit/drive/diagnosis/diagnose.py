"""A recording and a bench sheet in; which shaft is at fault, how strongly, what runout explains it.

The answer names shafts.  A part on the shaft is named only where the record shows it; for
the rest it asks for hand tests.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import scipy

from mechkit import units
from mechkit.drive import sheet
from mechkit.drive.diagnosis import limits, orders, plausible, recording
from mechkit.drive.diagnosis.orders import Lines, Unsure
from mechkit.drive.diagnosis.recording import Recording, RecordingError
from mechkit.drive.diagnosis.shafts import Shaft, Train
from mechkit.drive.sheet.schema import BenchSheet

#: Turns of the beat between two orders that hold them apart.
APART = 2.0
#: Turns of the axle over which those reckoned from a tone stay true; by trial on invented recordings.
STRETCH = 20.0
#: Times that a line must stand over the floor beside it; by trial on invented recordings.
OVER_FLOOR = 4.0
#: Swing of the loudness, mean to peak, from which a shaft counts as faulty [-]; no source.
LOUD = 0.12
#: Share of the line below it from which a bump's own overtones go on and on.
GOES_ON = 0.27
#: Motor's inertia swallows all but this part of the current's swing: no verdict then.
SWALLOWED = 3.0
#: Least share of the current that the load takes, for a scale of its swing.
LEAST_LOAD = 0.15
SAMPLES_A_WAVE = 2.5
CAUTION = "Power off before fingers go near gears or rods; eye protection when it runs open."


class CannotTell(ValueError):
    """Why a recording gives no answer, and how to record a better one."""


@dataclass(frozen=True)
class Finding:
    """A shaft at fault: swing [-] mean to peak, times over the noise, runout that explains it."""

    shaft: Shaft
    swing: float
    over_floor: float
    total_runout: float | None = None
    spread: float | None = None
    bump: bool = False


@dataclass(frozen=True)
class Diagnosis:
    """What one recording says; ``lines`` holds the strength of every order that was judged."""

    kind: str
    turns: float
    slowest: float
    fastest: float
    findings: tuple[Finding, ...]
    not_judged: tuple[str, ...]
    notes: tuple[str, ...]
    judged: tuple[Shaft, ...]
    lines: Lines

    @property
    def shafts(self):
        """Kinds of the faulty shafts, the strongest first."""
        return tuple(finding.shaft.kind for finding in self.findings)


def diagnose(record: Recording, bench: BenchSheet, planned: bool = False) -> Diagnosis:
    """Judge every shaft of the drive by what repeats with its turn.

    Raises
    ------
    CannotTell
        The recording is too short, too coarse, or its speed cannot be found.
    """
    train = Train(bench, bench.planned if planned else bench.as_is)
    turns, time, value = in_turns(record, train)
    span = float(turns[-1] - turns[0])
    if span < limits.FEWEST_TURNS:
        raise CannotTell(
            f"the record holds {span:.1f} turns of the axle and {limits.FEWEST_TURNS:.0f} are the "
            "least: record longer"
        )
    # Read from the speed itself, the turns stay true for ever; reckoned from a tone, not.
    sharp = min(span, limits.MOST_TURNS if record.kind == "speed" else STRETCH)
    judged, not_judged = _judged(record, train, sharp, span / (time[-1] - time[0]))
    found = orders.lines_by_stretch(turns, value, _orders(judged), sharp)
    findings = [
        one for shaft in judged if (one := _finding(record, train, shaft, found, span, time))
    ]
    # Over a fiftieth of the record, so that the noise of single readings does not count.
    apart = max(1, len(turns) // 50)
    pace = (turns[apart:] - turns[:-apart]) / (time[apart:] - time[:-apart])
    return Diagnosis(
        record.kind,
        span,
        float(np.percentile(pace, 2)),
        float(np.percentile(pace, 98)),
        tuple(sorted(findings, key=lambda one: -one.over_floor)),
        tuple(not_judged),
        record.notes,
        tuple(judged),
        found,
    )


# -- the record in the shaft's angle ------------------------------------------------------


def in_turns(record, train):
    """Turns, time and the signal to be judged, relative to its mean."""
    if reason := plausible.objection(record, train):
        raise CannotTell(reason)
    if record.kind == "speed":
        mean = float(np.mean(record.value))
        if mean <= 0 or np.mean(record.value < 0.05 * mean) > 0.02:
            raise CannotTell("the drive stands still in part of the record: record a steady run")
        often = limits.A_TURN * train.shafts[-1].order * mean / (2 * np.pi)
        each = int(min(record.rate / often, len(record.value) / limits.FEWEST))
        time, value = orders.thinned(record.time, record.value, each)
        return orders.turned(time, value), time, value / mean
    slower = max(1, int(record.rate / limits.ENOUGH))
    rate = record.rate / slower
    low, high = train.tone_range
    if rate < SAMPLES_A_WAVE * low * 2:
        raise CannotTell(
            f"{rate:.0f} samples a second are too few to hear the teeth pass: at least "
            f"{2 * SAMPLES_A_WAVE * high:.0f} are wanted"
        )
    value = record.value
    if record.kind == "current":  # whose readings need not be even
        value = np.interp(np.arange(len(value)) / record.rate, record.time, value)
    load = _load(value, train) if record.kind == "current" else 1.0
    value = scipy.signal.resample_poly(value - value.mean(), 1, slower)
    steady = np.arange(len(value)) / rate
    clean = orders.without_hum(value, rate)
    try:
        at, tone = orders.mesh_tone(
            clean, rate, low, min(high, rate / SAMPLES_A_WAVE), train.state.worm.starts
        )
    except Unsure as error:
        raise CannotTell(
            f"{error}, so the shafts' speed stays unknown: {_closer(record)}"
        ) from None
    inside = (steady >= at[0]) & (steady <= at[-1])
    time = steady[inside]
    speed = np.interp(time, at, tone) / train.teeth_order * 2 * np.pi
    turns = orders.turned(time, speed)
    if record.kind == "current":
        return turns, time, value[inside] / load
    motor = train.shafts[-1]
    per_turn = 4 * int(motor.order) + 1 if motor.order < train.teeth_order else 24
    place, level = orders.loudness(
        clean[inside], rate, turns, per_turn, above=0.6 * float(np.min(tone))
    )
    return place, np.interp(place, turns, time), level


def _closer(record):
    """How to record what this record does not hold."""
    if record.kind == "sound":
        return "hold the phone a hand's breadth from the gearbox, in a quiet room, rods off"
    return "sample faster, or record the axle's speed or the sound instead"


def _load(value, train):
    """The part of the current that the load takes, and not the motor alone [A]."""
    mean = float(np.mean(value))
    load = mean - train.state.motor.no_load.current.value
    if load < LEAST_LOAD * mean:
        raise CannotTell(
            "the current is hardly more than the motor takes alone: check the no-load current in "
            "the sheet, or record while it pulls"
        )
    return load


# -- which shafts can be judged ------------------------------------------------------------


def _judged(record, train, span, pace):
    """The shafts that this record can tell apart, and a sentence for each that it cannot."""
    judged: list[Shaft] = []
    words = []
    for shaft in train.shafts:
        twin = next((one for one in judged if abs(one.order - shaft.order) * span < APART), None)
        if record.kind != "speed" and shaft.order == train.teeth_order:
            words.append(
                f"{shaft.name}: turns as often as teeth pass in the mesh, and a {record.kind} "
                f"record cannot tell the two apart. {_by_hand(shaft)}"
            )
        elif record.kind != "sound" and shaft.order * pace * SAMPLES_A_WAVE > record.rate:
            words.append(f"{shaft.name}: too quick for {record.rate:.0f} readings a second.")
        elif record.kind == "current" and _swallowed(train, shaft, pace) > SWALLOWED:
            words.append(
                f"{shaft.name}: the inertia of rotor and flywheel hides its swing from the "
                "current. Record at a crawl, or record the axle's speed."
            )
        elif twin:
            both = judged[judged.index(twin)] = twin.together(shaft)
            words.append(f"{both.name} apart: {_alike(twin, shaft)}")
        else:
            judged.append(shaft)
    return judged, words


def _alike(one, other):
    """Why two shafts are not told apart, and what tells them."""
    differ = abs(one.order - other.order)
    if differ < APART / limits.MOST_TURNS:
        tests = " Then: ".join(other.hand_tests)
        return (
            f"both repeat {one.order:.3g} times a turn of the axle; no recording tells them apart. "
            f"{_by_hand(one)} Then: {tests}"
        )
    return (
        f"they repeat {one.order:.3g} and {other.order:.3g} times a turn of the axle; it takes "
        f"{APART / differ:.0f} turns of known speed to tell them apart: record the axle's speed, for longer."
    )


def _swallowed(train, shaft, pace):
    """How many times smaller inertia makes the current's swing."""
    return float(np.hypot(1, 2 * np.pi * shaft.order * pace * train.lag))


# -- what stands out -----------------------------------------------------------------------


def _orders(judged):
    """The orders of all shafts and the overtones of the axle's turn, each once."""
    wanted = [shaft.order for shaft in judged] + [2.0, 3.0, 4.0]
    kept: list[float] = []
    for order in wanted:
        if all(abs(order - other) > 0.04 for other in kept):
            kept.append(order)
    return kept


def _finding(record, train, shaft, found: Lines, span, time) -> Finding | None:
    """A shaft whose line stands out and is strong enough to matter."""
    height, floor = found.at(shaft.order)
    if height < OVER_FLOOR * floor or _is_overtone(shaft, found):
        return None
    bump = shaft.order == 1.0 and _goes_on(found)
    if record.kind == "sound":
        return Finding(shaft, height, height / floor, bump=bump) if height > LOUD else None
    if record.kind == "current":
        grown = _swallowed(train, shaft, span / (time[-1] - time[0]))
        height, floor = height * grown, floor * grown
    per_runout = train.swing_of(shaft, 1e-3) / 1e-3
    if height < per_runout * train.limit:
        return None
    explained = None if shaft.kind == "rods" or shaft.twins else height / per_runout
    return Finding(shaft, height, height / floor, explained, 2 * floor / per_runout, bump)


def _goes_on(found):
    """True where the axle's line is one bump a turn: its overtones do not end at the second."""
    once, third = found.at(1.0), found.at(3.0)
    second = found.at(2.0)
    return third[0] > OVER_FLOOR * third[1] and third[0] > GOES_ON * max(second[0], 0.5 * once[0])


def _is_overtone(shaft, found):
    """True where a line is what a slower, stronger one leaves at its multiples."""
    if shaft.order == 1.0 or abs(shaft.order - round(shaft.order)) > 0.04 or shaft.order > 4.1:
        return False
    once, here = found.at(1.0)[0], found.at(shaft.order)[0]
    return here < once and (_goes_on(found) or here < 0.25 * once)


# -- in words ------------------------------------------------------------------------------


def report(said: Diagnosis) -> list[str]:
    """The answer, a line a thing; the first is the verdict."""
    what = f"{said.kind} over {said.turns:.0f} turns of the axle, {said.slowest * 60:.0f} to {said.fastest * 60:.0f} rpm"
    if said.findings:
        names = " and ".join(finding.shaft.name for finding in said.findings)
        lines = [f"At fault: {names} ({what})."]
    else:
        lines = [f"No shaft stands out ({what})."]
    for finding in said.findings:
        lines.extend(_told(said.kind, finding))
    lines.extend(f"Not judged: {words}" for words in said.not_judged)
    lines.extend(said.notes)
    if said.findings or said.not_judged:
        lines.append(CAUTION)
    return lines


def _told(kind, finding):
    """One finding: how strong, what explains it, what to do by hand."""
    shaft = finding.shaft
    often = f"{shaft.order:g} times" if shaft.order != 1 else "once"
    where = {"sound": "loudness", "current": "load", "speed": "speed"}[kind]
    yield (
        f"{shaft.name}: the {where} swings by {finding.swing:.1%} either way, {often} a turn of the "
        f"axle, {finding.over_floor:.0f} times the noise beside it."
    )
    if finding.bump:
        yield f"{shaft.name}: one bump a turn, as a damaged tooth or one tight spot makes."
    if kind == "sound":
        yield "A sound has no scale for runout: record the axle's speed, or use the indicator."
    elif finding.total_runout is not None:
        size, more = finding.total_runout, finding.spread
        yield (
            f"{shaft.name}: a total runout of {units.show(size, 'fine')} ± {units.show(more, 'fine')} "
            f"({units.show(size, 'fine', 'inch', 1)}) would explain it"
            + (", if the mesh does not bind." if kind == "current" else ".")
        )
    if shaft.twins:
        return
    if len(shaft.causes) > 1:
        yield f"What it can be: {'; or '.join(cause.words for cause in shaft.causes)}."
    else:
        yield f"Most likely {shaft.causes[0].words}."
    yield _by_hand(shaft)


def _by_hand(shaft):
    """The tests by hand that settle the rest."""
    return f"By hand: {' Then: '.join(shaft.hand_tests)}"


def main(path: str | Path, bench: str | Path, planned: bool = False) -> int:
    """Diagnose a recording; 0 with the answer, 1 with one line why there is none."""
    try:
        data = sheet.load(bench).data
        said = diagnose(recording.read(path), data, planned)
    except CannotTell as error:
        print(f"mechkit: cannot tell from {path}: {error}", file=sys.stderr)
        return 1
    except sheet.SheetError as error:
        error.tell()
        return 1
    except RecordingError as error:
        print(f"mechkit: {error}", file=sys.stderr)
        return 1
    print("\n".join(report(said)))
    return 0
