"""Every drive from stock held against the engine's body: what fits, and what forbids the rest.

A margin is what is left to a limit, negative where it is broken; all candidates at once, as
arrays (motor, gear set, wheel).
"""

from dataclasses import dataclass
from itertools import zip_longest

import numpy as np

from mechkit import flywheel, gears, worm
from mechkit.drive.choice import stock
from mechkit.drive.decisions.plan import WHIRL_PART
from mechkit.drive.model import layout, read
from mechkit.drive.model.body import NOTHING, Obstacle, body_of
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Flywheel, Material
from mechkit.drive.model.stack import OPEN, Stack, stack_of
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.units import System, show

#: A wheel that is not there weighs next to nothing; the handbook wants a mass.
WEIGHTLESS = 1e-9  # kg


@dataclass(frozen=True)
class Limit:
    """One limit: whom it forbids, and what would free the nearest of them."""

    key: str
    forbids: str
    frees: str
    kind: str

    def say(self, amount: float, system: System = "metric"):
        """What would free one, with how much of it."""
        if self.kind == "length":  # rounded up: a hair less would not free it
            step = 1e-5 if system == "metric" else 25.4e-6
            amount = float(np.ceil(amount / step - 1e-6) * step)
        return self.frees.format(amount=show(amount, self.kind, system))


LIMITS = {
    one.key: one
    for one in (
        Limit("bore", "the motor's shaft does not go into the worm",
              "a worm bored {amount} larger", "length"),
        Limit("mesh", "the gears do not reach from the worm to the axle",
              "gears that reach {amount} farther, or another height of the shaft", "length"),
        Limit("rail", "the axle gear comes too near to the rail",
              "an axle gear {amount} less in radius", "length"),
        Limit("length", "the drive is too long for the body",
              "{amount} more length", "length"),
        Limit("flywheel", "the flywheel comes too near to the body",
              "{amount} more room around the flywheel", "length"),
        Limit("motor", "the motor comes too near to the body",
              "{amount} more room around the motor", "length"),
        Limit("whirl", "the flywheel whirls",
              "a narrower wheel or one nearer to the bearing, for it turns {amount} faster than it may",
              "rotation"),
        Limit("start", "it does not start at full throttle",
              "{amount} more at the track", "voltage"),
    )
}  # fmt: skip


@dataclass(frozen=True)
class Envelope:
    """Margins by limit, and how each candidate lies best: its place in ``lies``.

    ``lies`` lists the ways to lay a drive: axle, and whether the motor lies ahead of it.
    """

    margins: dict[str, np.ndarray]
    placing: np.ndarray
    lies: tuple[tuple[int, bool], ...]
    shape: tuple[int, int, int]

    @property
    def fits(self):
        """Which candidates break no limit."""
        return self._breaks() == 0

    def _breaks(self):
        """How many limits each candidate breaks."""
        count = np.zeros(self.shape, int)
        for margin in self.margins.values():
            count += margin < -NOTHING
        return count

    def counts(self) -> list[tuple[Limit, int, int, float]]:
        """Each limit that forbids some: how many it breaks, how many it breaks alone, and the
        least that would free one of these (0 where it frees none by itself); the worst first.
        """
        found, breaks = [], self._breaks()
        for key, margin in self.margins.items():
            broken = np.broadcast_to(margin < -NOTHING, self.shape)
            alone = broken & (breaks == 1)
            lack = np.broadcast_to(-margin, self.shape)[alone]
            if broken.any():
                least = float(lack.min()) if lack.size else 0.0
                found.append((LIMITS[key], int(broken.sum()), int(alone.sum()), least))
        return sorted(found, key=lambda one: -one[1])


def envelope(sheet: BenchSheet, drive: Drive, cuts: stock.Cuts) -> Envelope:
    """Hold every motor, gear set and wheel against every limit.

    Of all axles and both directions each candidate takes the one in which its tightest
    margin, of length or of room around flywheel and motor, is widest.
    """
    motors, sets = sheet.stock.motors, sheet.stock.gear_sets
    shape = (len(motors), len(sets), len(cuts))
    margins = _gears(sheet)
    bores = np.array([one.worm_bore.value for one in sets])
    shafts = np.array([one.shaft_diameter.value for one in motors])
    margins["bore"] = bores[None, :, None] - shafts[:, None, None]
    room, placing, lies = _room(sheet, cuts)
    margins |= room
    full = sheet.supply.voltage.value
    critical = _critical(sheet, cuts, shafts[:, None, None])
    margins["whirl"] = WHIRL_PART * critical - drive.motor_speed_at(full)
    margins["start"] = full - drive.starting_voltage
    return Envelope({key: margins[key] for key in LIMITS}, placing, lies, shape)


def _gears(sheet: BenchSheet) -> dict[str, np.ndarray]:
    """Between worm and axle, and between axle gear and rail."""
    tread, gap = sheet.locomotive.driver_diameter.value, sheet.envelope.gap.value
    height = sheet.envelope.shaft_height.value - tread / 2
    reach, free = [], []
    for one in sheet.stock.gear_sets:
        state = stock.state_of(sheet.planned, sheet.stock.motors[0], one)
        thread, first, last = read.worm_of(state), state.gears[0], state.gears[-1]
        module = one.axial_module
        down = worm.center_distance(
            pitch_diameter=thread.pitch_diameter, module=module, teeth=first.teeth
        )
        link = 0.0
        if one.idler_teeth:
            link = gears.center_distance(module=module, teeth_1=first.teeth, teeth_2=last.teeth)
        # The gear under the worm stands straight below it; the next one leans as it must.
        reach.append(link + OPEN * module * len(state.gears) - abs(height - down))
        free.append(tread / 2 - last.outside_diameter.value / 2 - gap)
    return {"mesh": np.array(reach)[None, :, None], "rail": np.array(free)[None, :, None]}


def _room(sheet: BenchSheet, cuts: stock.Cuts):
    """Length and room around flywheel and motor, each candidate laid as it lies best."""
    body, gap = body_of(sheet), sheet.envelope.gap.value
    threads = np.array([one.worm_length.value for one in sheet.stock.gear_sets])[None, :, None]
    bodies = np.array(
        [(one.body_length.value, one.body_diameter.value) for one in sheet.stock.motors]
    )
    # The layout asks for the width only, and many wheels are alike in it.
    widths, alike = np.unique(cuts.width, return_inverse=True)
    near = np.where(widths > 0, read.wheel_gap(sheet.planned), 0.0)
    planned, first = sheet.planned.flywheel, layout.WALL + layout.FREE
    far = planned is not None and planned.end == "far"
    disc = ("flywheel", near if far else first, widths, 0.0)
    case = ("motor", first if far else near, bodies[:, 0, None, None], bodies[:, 1, None, None])
    parts = [("worm", -threads / 2, threads, 0.0), *((case, disc) if far else (disc, case))]
    lies, best = [], None

    def each(amount):
        """What goes with the widths, for every wheel."""
        amount = np.asarray(amount)
        shape = np.broadcast_shapes(amount.shape, (1, 1, len(widths)))
        return np.broadcast_to(amount, shape)[..., alike]

    stacks = [_stack(sheet, one) for one in sheet.stock.gear_sets]
    leans = np.array([one.aside for one in stacks])[None, :, None]
    for axle, at in enumerate(body.axles):
        for forward in (True, False):
            worm_at = at + (leans if forward else -leans)
            laid = {name: (name, *rest) for name, *rest in layout.places(parts, worm_at, forward)}
            wheel, motor = laid["flywheel"], laid["motor"]
            end = wheel if far else motor
            left = body.left(worm_at, end[1] if forward else end[2])
            ends = each(wheel[1]), each(wheel[2])
            turning = _discs(stacks, at, body.tread / 2, forward)
            around, _, outside = body.clearances(*ends, cuts.outer, turning)
            free, _, beyond = body.clearances(motor[1], motor[2], motor[3], turning)
            lost = np.minimum(
                np.where(outside > NOTHING, -outside, np.inf),
                each(np.where(beyond > NOTHING, -beyond, np.inf)),
            )
            margin = [
                np.minimum(each(left - gap), lost),
                around - gap,
                each(free) - gap,
            ]
            margin[1] = np.where(cuts.width > 0, margin[1], np.inf)
            here = np.array(np.broadcast_arrays(*margin))
            tightest = here.min(axis=0)
            if best is None:
                best, margins, placing = tightest, here, np.zeros(tightest.shape, int)
            else:
                better = tightest > best + NOTHING
                best = np.where(better, tightest, best)
                margins = np.where(better, here, margins)
                placing[better] = len(lies)
            lies.append((axle, forward))
    found = dict(zip(("length", "flywheel", "motor"), margins, strict=True))
    return found, placing, tuple(lies)


def _stack(sheet: BenchSheet, one) -> Stack:
    """How the gears of a set stand under the worm."""
    state = stock.state_of(sheet.planned, sheet.stock.motors[0], one)
    height = sheet.envelope.shaft_height.value - sheet.locomotive.driver_diameter.value / 2
    return stack_of(state, height)


def _discs(stacks: list[Stack], at, level, forward: bool) -> tuple[Obstacle, ...]:
    """The gears of all sets over an axle, the first of each, the second of each ...

    A gear that a set has not is nothing, on the axle.
    """
    found = [layout.discs(one, at, level, forward) for one in stacks]
    none = Obstacle("", at, at, level, 0.0)

    def sizes(row, name: str):
        return np.array([getattr(one, name) for one in row])[None, :, None]

    rows = zip_longest(*found, fillvalue=none)
    return tuple(
        Obstacle(
            "gears",
            sizes(row, "start"),
            sizes(row, "end"),
            sizes(row, "level"),
            sizes(row, "radius"),
        )
        for row in rows
    )


def _critical(sheet: BenchSheet, cuts: stock.Cuts, shafts):
    """First critical speed of every wheel on every motor [rad/s]."""
    spans = np.array([stock.span_of(one) for one in sheet.stock.motors])[:, None, None]
    wheel = wheels(cuts, shafts)
    return flywheel.critical_speed(
        mass=np.where(cuts.width > 0, wheel.mass, WEIGHTLESS),
        overhang=read.wheel_gap(sheet.planned) + cuts.width / 2,
        span=spans,
        shaft_diameter=shafts,
        elastic_modulus=Material("steel").elastic_modulus,
    )


def wheels(cuts: stock.Cuts, shafts) -> Flywheel:
    """Every wheel on every shaft; where there is none, a ring without width would be refused.

    So a wheel that is not there stands as one of its shaft's own double size, and weightless.
    """
    real = cuts.width > 0
    return Flywheel(
        outer=np.where(real, cuts.outer, 2 * read.slid_on(shafts)),
        width=np.where(real, cuts.width, 1e-3),
        bore=read.slid_on(shafts),
        density=np.where(real, cuts.density, WEIGHTLESS),
    )
