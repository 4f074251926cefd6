"""What each change of the plan gains: alone on the measured engine, and in the order of the work."""

import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import zip_longest
from pathlib import Path
from typing import Any

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import SAFE
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.hour import answers
from mechkit.drive.sheet.schema import BenchSheet, GearTable, State

#: A number that moves by less than this share has not moved: nobody sees or hears it.
STILL = 0.02


@dataclass(frozen=True)
class Change:
    """One piece of work: what it is called, and how long it takes [min]."""

    key: str
    words: str
    minutes: int


@dataclass(frozen=True)
class Quantity:
    """A number that a change is judged by.

    ``sense`` is 1 where more of it is better, -1 where less is, 0 where neither is.
    """

    key: str
    words: str
    kind: str
    sense: int
    needs: tuple[str, str]
    ask: Callable[[Knowledge, State, Drive, Train], Any]


@dataclass(frozen=True)
class Gain:
    """A number after a change, and how sure it is that it came out better than before it.

    Of a number that is neither better nor worse, None.
    """

    value: Band
    better: float | None
    moved: bool

    @property
    def sign(self) -> str:
        """Whether it is better; empty where nothing moved, or nobody minds."""
        if not self.moved or self.better is None:
            return ""
        if self.better >= SAFE:
            return "better"
        return "worse" if self.better <= 1 - SAFE else "open"


@dataclass(frozen=True)
class Step:
    """A change with what it gains alone, and after all that comes before it."""

    change: Change
    alone: dict[str, Gain]
    in_order: dict[str, Gain]


@dataclass(frozen=True)
class Gains:
    """Every change of a plan, and the numbers as they are."""

    quantities: tuple[Quantity, ...]
    before: dict[str, Band]
    steps: tuple[Step, ...]

    @property
    def moving(self) -> tuple[Step, ...]:
        """The changes that move any of the numbers."""
        return tuple(step for step in self.steps if any(one.moved for one in step.alone.values()))

    @property
    def still(self) -> tuple[Step, ...]:
        """The changes that move none of them."""
        return tuple(step for step in self.steps if step not in self.moving)


@cache
def changes() -> tuple[Change, ...]:
    """Every change that there can be, in the order of the work."""
    text = Path(__file__).with_name("changes.toml").read_text("utf-8")
    return tuple(Change(**one) for one in tomllib.loads(text)["change"])


def _kept(was: GearTable, new: GearTable) -> bool:
    """Whether a gear stays in the box."""
    return (was.teeth, was.material) == (new.teeth, new.material)


def _trued(now: State, plan: State) -> dict[str, Any]:
    """The gears that stay, as true as planned."""
    found = [
        was.model_copy(update={"total_runout": new.total_runout})
        if new and _kept(was, new)
        else was
        for was, new in zip_longest(now.gears, plan.gears[: len(now.gears)])
    ]
    return {"gears": found, "seat": plan.seat, "hub": plan.hub}


def _geared(now: State, plan: State) -> dict[str, Any]:
    """Worm and gears as planned, in the bearings that there are; what stays runs as it did."""
    found = [
        new.model_copy(update={"total_runout": was.total_runout})
        if was and _kept(was, new)
        else new
        for was, new in zip_longest(now.gears[: len(plan.gears)], plan.gears)
    ]
    bearings = {key: getattr(now.worm, key) for key in ("end_play", "thrust_bearing")}
    mesh = now.mesh.model_copy(update={"pressure_angle": plan.mesh.pressure_angle})
    return {"gears": found, "worm": plan.worm.model_copy(update=bearings), "mesh": mesh}


def _shimmed(now: State, plan: State) -> dict[str, Any]:
    bearings = {key: getattr(plan.worm, key) for key in ("end_play", "thrust_bearing")}
    tables = {"bearings": plan.bearings, "bowed_shim": plan.bowed_shim}
    return {"worm": now.worm.model_copy(update=bearings), **tables}


def _set(now: State, plan: State) -> dict[str, Any]:
    plays = {key: getattr(plan.mesh, key) for key in ("backlash", "worm_backlash")}
    return {"mesh": now.mesh.model_copy(update=plays)}


def _greased(now: State, plan: State) -> dict[str, Any]:
    return {"mesh": now.mesh.model_copy(update={"lubrication": plan.mesh.lubrication})}


def _whole(*tables: str):
    """Whole tables as planned."""
    return lambda now, plan: {table: getattr(plan, table) for table in tables}


#: What each change puts into a state.
PUTS: dict[str, Callable[[State, State], dict[str, Any]]] = {
    "true": _trued,
    "gears": _geared,
    "shim": _shimmed,
    "mesh": _set,
    "grease": _greased,
    "motor": _whole("motor", "adapter", "ground_pin"),
    "flywheel": _whole("flywheel"),
    "springs": _whole("springs"),
    "line": _whole("alignment", "bed"),
}


def put(change: str, now: State, plan: State) -> State:
    """A state with one change of a plan made."""
    return now.model_copy(update=PUTS[change](now, plan))


def quantities(sheet: BenchSheet) -> Iterator[Quantity]:
    """The numbers by which a change is judged, of those that can be answered."""
    volts = sheet.supply.voltage.value
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    asked = (
        Quantity(
            "start", "starts at", "voltage", -1, ("headline", "start"),
            lambda known, state, drive, train: drive.starting_voltage,
        ),
        Quantity(
            "coast", "rolls on for", "length", 1, ("headline", "coast"),
            lambda known, state, drive, train: drive.coast(rail),
        ),
        Quantity(
            "current", "takes", "current", -1, ("headline", "current"),
            lambda known, state, drive, train: drive.current_at(volts),
        ),
        Quantity(
            "hop", "hops by", "ripple", -1, ("wrong", "hop"),
            lambda known, state, drive, train: drive.hop(
                train.axle_ripple, 1 / drive.gear_ratio, volts
            ),
        ),
        Quantity(
            "tone", "sings at", "tone", 0, ("change", "speed"),
            lambda known, state, drive, train: (
                train.worm.starts * drive.motor_speed_at(volts) / (2 * np.pi)
            ),
        ),
        Quantity(
            "life", "lasts", "hours", 1, ("wrong", "wear"),
            lambda known, state, drive, train: known.life(state),
        ),
    )  # fmt: skip
    return (one for one in asked if answers(sheet, *one.needs))


def gains(known: Knowledge) -> Gains:
    """What each change of the plan gains."""
    sheet = known.sheet
    asked, plan, now = tuple(quantities(sheet)), sheet.planned, sheet.as_is
    first = _numbers(known, asked, now)
    last, steps = first, []
    for change in changes():
        made, alone = put(change.key, now, plan), put(change.key, sheet.as_is, plan)
        if made == now:
            continue
        then = _numbers(known, asked, made)
        only = then if now is sheet.as_is else _numbers(known, asked, alone)
        steps.append(
            Step(change, _gained(known, asked, first, only), _gained(known, asked, last, then))
        )
        now, last = made, then
    band = {one.key: known.spread.band(first[one.key], one.kind) for one in asked}
    return Gains(asked, band, tuple(steps))


def _numbers(known: Knowledge, asked, state: State) -> dict[str, Any]:
    """Each number of the measured engine with the parts of a state, with its draws."""
    drive = known.before if state is known.sheet.as_is else known.drive_of(state)
    train = known.train_of(state)
    return {one.key: one.ask(known, state, drive, train) for one in asked}


def _gained(known: Knowledge, asked, was, now) -> dict[str, Gain]:
    """Each number after a change against the same before it, draw by draw."""
    found = {}
    for one in asked:
        more = np.asarray(now[one.key] - was[one.key])
        moved = bool(np.any(np.abs(more) > STILL * np.abs(was[one.key])))
        better = known.spread.chance(one.sense * more > 0) if one.sense else None
        found[one.key] = Gain(known.spread.band(now[one.key], one.kind), better, moved)
    return found
