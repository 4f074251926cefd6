"""What there is to choose, in words: the command's report, and the tables of the notebook."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from mechkit.drive import sheet as sheets
from mechkit.drive.choice.aims import AIMS, check_aims
from mechkit.drive.choice.choose import Place, Stock, choose
from mechkit.drive.choice.ranking import Front, front_of
from mechkit.drive.choice.stock import NothingToChoose
from mechkit.drive.decisions.rows import Rows
from mechkit.units import System, plain, show

#: What he is asked about unless he says otherwise.
USUAL = ("creep", "coast", "top", "life")
#: Lines of a front that a page still holds.
LINES = 12


@dataclass(frozen=True)
class Chosen:
    """The stock, the front over some aims, and what was asked of it."""

    found: Stock
    front: Front
    speed: float
    voltage: float


def look(found: Stock, aims: Sequence[str] = USUAL, *, speed=None, voltage=None) -> Chosen:
    """The front over some aims, with coasts from a speed [m/s, full size] and from a voltage [V]."""
    data = found.sheet
    speed = data.locomotive.top_speed.value if speed is None else speed
    voltage = data.supply.voltage.value / 2 if voltage is None else voltage
    return Chosen(found, front_of(found, aims, speed=speed, voltage=voltage), speed, voltage)


# -- words -------------------------------------------------------------------------------


def parts_of(found: Stock, place: Place) -> tuple[str, str, str]:
    """Motor, gear set and wheel of one candidate, as he calls them."""
    lying = found.sheet.stock
    return (
        lying.motors[int(place.motor)].name,
        lying.gear_sets[int(place.gears)].name,
        wheel_of(found, int(place.cut)),
    )


def wheel_of(found: Stock, cut: int, system: System = "metric") -> str:
    """A wheel and the bar that it comes from."""
    cuts = found.cuts
    if not cuts.width[cut]:
        return "no flywheel"
    outer, width = (show(size[cut], "length", system) for size in (cuts.outer, cuts.width))
    return f"{outer} by {width} from {found.sheet.stock.bars[cuts.bar[cut]].name}"


def tried(found: Stock) -> str:
    """How many were tried, of what, and how many fit."""
    lying = found.sheet.stock
    count = f"{len(lying.motors)} motors, {len(lying.gear_sets)} gear sets"
    step = plain(round(found.step, 9), "m")
    return (
        f"{found.tried:,} drives tried: {count}, {len(found.cuts) - 1:,} wheels from "
        f"{len(lying.bars)} bars in steps of {step}, or none; {len(found.fitting.motor):,} fit."
    )


def forbidden(found: Stock, system: System = "metric") -> list[str]:
    """Each limit that forbids some, the worst first, and what would free the nearest."""
    lines = []
    for limit, broken, alone, least in found.envelope.counts():
        line = f"{limit.forbids[0].upper()}{limit.forbids[1:]}: {broken:,} drives"
        if alone:
            line += f", {alone:,} of them for nothing else; the nearest wants {limit.say(least, system)}"
        else:
            line += ", all of them for something else too"
        lines.append(f"{line}.")
    return lines


def nothing_fits(found: Stock) -> str:
    """Which limit kills most, and what would free it; for an empty choice."""
    counts = found.envelope.counts()
    worst = counts[0]
    line = f"nothing fits, of {found.tried:,} drives: {worst[0].forbids} in {worst[1]:,} of them"
    free = [one for one in counts if one[2]]
    if not free:
        most = sum(1 for one in counts if one[1] == found.tried)
        both = " and ".join(one[0].forbids for one in counts[: max(most, 2)])
        return f"{line}; no one change frees any of them: {both}"
    easiest = max(free, key=lambda one: one[2])
    return f"{line}; {easiest[2]:,} would be free but for one thing: {easiest[0].say(easiest[3])}"


def alike(chosen: Chosen, lines: int = LINES) -> list[str]:
    """Where on the front no difference could be measured, aim by aim, the first against the rest."""
    rows = np.flatnonzero(chosen.front.kept)[:lines]
    said = []
    for aim in chosen.front.aims:
        same = [n + 1 for n, row in enumerate(rows) if aim in chosen.front.alike(rows[0], row)]
        if len(same) > 1:
            listed = ", ".join(str(n) for n in same)
            said.append(
                f"{AIMS[aim].words[0].upper()}{AIMS[aim].words[1:]}: no difference that you could "
                f"measure among {listed}."
            )
    return said


def _band(aim, front: Front, row, system):
    words = AIMS[aim].say(front.values[aim][row], system)
    low, high = (AIMS[aim].say(end[aim][row], system) for end in (front.low, front.high))
    return words if low == high else f"{words} ({low.split(chr(0xA0))[0]} to {high})"


def front_rows(chosen: Chosen, system: System = "metric", lines: int = LINES) -> Rows:
    """The front: one line for each drive that can be told apart, with its bands."""
    front = chosen.front
    head = (
        "",
        "motor",
        "gears",
        "flywheel, diameter by width",
        *(AIMS[aim].short for aim in front.aims),
    )
    rows: list[tuple[str, ...]] = []
    for n, row in enumerate(np.flatnonzero(front.kept)[:lines], 1):
        place = front.at(row)
        motor, gears, _ = parts_of(chosen.found, place)
        wheel = wheel_of(chosen.found, int(place.cut), system)
        bands = [_band(aim, front, row, system) for aim in front.aims]
        rows.append((str(n), motor, gears, wheel, *bands))
    return Rows("What nothing else beats", head, rows)


def motor_rows(chosen: Chosen, system: System = "metric") -> Rows:
    """Every motor on the gears and the wheel of the first drive of the front, asked twice."""
    found = chosen.found
    first = chosen.front.at(0)
    count = len(found.sheet.stock.motors)
    place = Place(np.arange(count), np.full(count, first.gears), np.full(count, first.cut))
    run = found.running(place, speed=chosen.speed, voltage=chosen.voltage)
    speed, volts = show(chosen.speed, "speed", system), show(chosen.voltage, "voltage", "metric", 1)
    head = (
        "motor", f"at {speed}: takes", "and", "coasts", f"at {volts}: runs", "on", "coasts", "fits",
    )  # fmt: skip
    fits = found.envelope.fits[tuple(place)]
    reaches = run.top_speed() >= chosen.speed
    rows: list[tuple[str, ...]] = []
    for n, motor in enumerate(found.sheet.stock.motors):
        at_speed = ("does not reach it", "", "")
        if reaches[n]:
            at_speed = (
                show(run.volts_for()[n], "voltage", system, 1),
                show(run.current_for()[n], "current", system),
                AIMS["coast"].say(run.coast()[n], system),
            )
        rows.append(
            (
                motor.name,
                *at_speed,
                show(run.speed_on()[n], "speed", system),
                show(run.current_on()[n], "current", system),
                AIMS["coast_on"].say(run.coast_on()[n], system),
                "yes" if fits[n] else "no",
            )
        )
    _, gears, wheel = parts_of(found, first)
    return Rows(f"Every motor with {gears} and {wheel}", head, rows)


# -- the command -------------------------------------------------------------------------


def report(chosen: Chosen) -> list[str]:
    """Lines for the terminal."""
    found, front = chosen.found, chosen.front
    aims = ", ".join(AIMS[aim].words for aim in front.aims)
    apart = int(front.kept.sum())
    lines = [tried(found), *forbidden(found), ""]
    lines += [f"By {aims}: {len(front):,} drives that none other beats, {apart:,} told apart."]
    lines += _table(front_rows(chosen))
    if apart > LINES:
        lines += [f"... and {apart - LINES:,} more: name fewer aims."]
    lines += [*alike(chosen), "", f"{motor_rows(chosen).title}:", *_table(motor_rows(chosen))]
    lines += ["", "Hours of wear are known within a factor of ten at best; the lives are ratios."]
    return lines


def _table(table: Rows) -> list[str]:
    """Columns of plain text."""
    lines = [table.head, *table.rows]
    wide = [max(len(str(line[n])) for line in lines) for n in range(len(table.head))]
    return [
        "  ".join(str(cell).ljust(width) for cell, width in zip(line, wide, strict=True)).rstrip()
        for line in lines
    ]


def main(path: str | Path, aims: Sequence[str] = ()) -> int:
    """Choose from the stock of a sheet; 0 with the front, 1 with one line why there is none."""
    try:
        aims = check_aims(aims or USUAL)
        found = choose(sheets.load(path).data)
        if not len(found.fitting.motor):
            raise NothingToChoose(nothing_fits(found))
    except NothingToChoose as error:
        print(f"mechkit: {path}: {error}", file=sys.stderr)
        return 1
    except sheets.SheetError as error:
        error.tell()
        return 1
    except ValueError as error:
        print(f"mechkit: {error}", file=sys.stderr)
        return 1
    print("\n".join(report(look(found, aims))))
    return 0
