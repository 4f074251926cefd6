"""What a reading that was not taken would be worth: a headline's band before and after it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.hour import Step, steps, taken
from mechkit.drive.sheet.keys import bare, loc_of
from mechkit.drive.sheet.schema import BenchSheet, Coast, Measured, Run
from mechkit.units import Reading

#: Enough to see how wide a band is.
DRAWS = 250
#: A reading is worth naming that leaves less than this of a band; and so many are named.
WORTH, MOST = 0.8, 5
#: Armature places at which a resistance is read.
PLACES = 4
#: The stretch of a run that is imagined [m].
STRETCH = 1.0


@dataclass(frozen=True)
class Worth:
    """One reading, the number that it sharpens most, and half of its band without and with it."""

    step: Step
    key: str
    kind: str
    without: float
    with_it: float


def worth(known: Knowledge, asks: dict[str, tuple[str, Any]]) -> list[Worth]:
    """What each reading that was not taken would do for the numbers that are answered.

    ``asks`` holds of each number its kind and how a drive answers.  It is imagined that the
    reading shows what is expected now.
    """
    sheet = known.sheet
    if not sheet.assumed or not asks:
        return []
    now = _halves(sheet, asks)
    found = []
    for step in steps().values():
        if taken(sheet, step):
            continue
        then = _halves(_with(known, step), asks)
        key = min(now, key=lambda one: then[one] / now[one])
        if then[key] < WORTH * now[key]:
            found.append(Worth(step, key, asks[key][0], now[key], then[key]))
    gains = sorted(found, key=lambda one: one.with_it / one.without)[:MOST]
    return [one for step in steps().values() for one in gains if one.step is step]


def _halves(sheet: BenchSheet, asks) -> dict[str, float]:
    """Half of the band of each number."""
    known = Knowledge(sheet, Spread(draws=DRAWS))
    found = {}
    for key, (_, ask) in asks.items():
        low, high = np.percentile(np.broadcast_to(ask(known.before), DRAWS + 1)[1:], [2.5, 97.5])
        found[key] = max(float(high - low) / 2, 1e-12)
    return found


def _with(known: Knowledge, step: Step) -> BenchSheet:
    """The sheet as if a reading had been taken, and had shown what is expected."""
    sheet, drive = known.sheet, known.before
    expected = dict(_on_the_track(sheet.measured_before, drive, sheet.supply.voltage.value))
    if step.name in expected:
        measured = sheet.measured_before.model_copy(update=expected[step.name])
        return sheet.model_copy(update={"measured_before": measured})
    for place in sheet.assumed:
        if any(f"{bare(place)}.".startswith(f"{key}.") for key in _both(step.keys)):
            sheet = _put(sheet, loc_of(place), lambda was: _sharp(was, step, drive))
    return sheet


def _both(keys) -> Iterator[str]:
    """The keys as they are and as planned: what is inherited was measured with them."""
    for key in keys:
        yield key
        yield key.replace("as_is", "planned", 1)


def _sharp(was: Any, step: Step, drive: Drive) -> Any:
    """A stand-in as an instrument would have read it."""
    if isinstance(was, list) and was and isinstance(was[0], Reading):
        if step.name == "ohms":
            value = float(np.ravel(drive.motor.resistance)[0])
            return [Reading(value, step.reads_to * value, f"{value:.3g} ohm")] * PLACES
        return [_sharp(one, step, drive) for one in was]
    if isinstance(was, Reading):
        return Reading(was.value, step.reads_to * abs(was.value), was.text)
    return was


def _put(part: Any, loc: tuple[str | int, ...], change) -> Any:
    """A table with the value at a place changed."""
    if not loc:
        return change(part)
    first, *rest = loc
    if isinstance(part, list):
        return [_put(one, tuple(rest), change) if n == first else one for n, one in enumerate(part)]
    name = {"from": "start", "to": "end"}.get(str(first), str(first))
    return part.model_copy(update={name: _put(getattr(part, name), tuple(rest), change)})


def _on_the_track(measured: Measured, drive: Drive, full: float):
    """The readings of the track, as the drive would show them now."""

    def plain(value) -> float:
        return float(np.ravel(value)[0])

    start = plain(drive.starting_voltage)
    yield "start", {"starting_voltage": [Reading(start, 0.0, f"{start:.2f} V")] * 2}
    runs = []
    for volts in (full, max(full / 2, min(1.5 * start, full))):
        rail = plain(drive.rail_speed(drive.motor_speed_at(volts)))
        if rail > 0:
            runs.append(
                Run(
                    voltage=Reading(volts, 0.0, f"{volts:.2f} V"),
                    current=Reading(plain(drive.current_at(volts)), 0.0, "1.000 A"),
                    distance=Reading(STRETCH, 0.0, "1000 mm"),
                    time=Reading(STRETCH / rail, 0.0, f"{STRETCH / rail:.1f} s"),
                )
            )
    laps = [run.model_copy(update={"current": None}) for run in runs[:1]]
    yield "run", {"runs": [*measured.runs, *laps]}
    yield "amps", {"runs": [*measured.runs, *runs]}
    far = plain(drive.coast(drive.rail_speed(drive.motor_speed_at(full))))
    rolled = Coast(
        voltage=Reading(full, 0.0, f"{full:.2f} V"),
        rails="open",
        distance=Reading(far, 0.0, f"{1e3 * far:.0f} mm"),
    )
    yield "coast", {"coasts": [*measured.coasts, rolled]}
    pull = plain(drive.pull_at_slip)
    yield "pull", {"drawbar_pull": Reading(pull, 0.05 * pull, f"{pull:.3f} N")}
