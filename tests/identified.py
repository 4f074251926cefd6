"""Readings of drives whose constants are known, computed apart from the fit.

Steady runs come from a bracketing root finder on the circuit and torque balance, coasts from
the integration of two bodies in ``tests/engines``, meshes from the screw's own triangle of
forces; nothing here calls the handbook or the closed form of a stop.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import atan, cos, exp, tan

import numpy as np
from scipy import optimize

from mechkit.drive.constants.readings import (
    Bench,
    Errors,
    Free,
    Given,
    Held,
    Known,
    Rolled,
    Steady,
)
from mechkit.drive.model.parts import Gear, Worm
from mechkit.drive.model.train import Train
from tests.engines.rolling import coast

GRAVITY = 9.80665
COPPER = 0.00393  # 1/K at 20 deg C
#: A worm of module 0.4 on an idler of 20 teeth and an axle gear of 30, thrust on balls.
MODULE, OUTSIDE, BORE, TEETH, ANGLE = 0.4e-3, 6.8e-3, 2e-3, (20, 30), 0.3490658503988659
BACKLASH, END_PLAY = 0.05e-3, 0.1e-3
#: One straight mesh passes so much; balls under the thrust have this friction; both as the kit
#: states them.
STRAIGHT, BALLS = 0.955, 0.003
#: What the magnet loses a kelvin, and the share of a motor's own friction at 12 V that grows with
#: speed, both as the kit takes them to be.
MAGNET, VISCOUS = 0.6e-3, 0.25

#: A plain drive with a flywheel, in SI.
TRUTH = {
    "resistance": 21.0,
    "torque_constant": 0.0135,
    "motor_friction": 0.25e-3,
    "stiction": 1.375,
    "running_friction": 0.40e-3,
    "damping": 0.20e-6,
    "efficiency": 0.42,
    "inertia": 6.0e-7,
}
DRIVES = {
    "plain": TRUTH,
    "stiff, with a heavy flywheel": TRUTH
    | {"resistance": 12.0, "running_friction": 1.2e-3, "stiction": 1.25, "inertia": 3e-6},
    "free running": TRUTH
    | {
        "motor_friction": 0.06e-3,
        "running_friction": 0.15e-3,
        "stiction": 1.47,
        "damping": 0.12e-6,
        "efficiency": 0.62,
        "inertia": 3e-7,
    },
    "heavy flywheel": TRUTH | {"resistance": 30.0, "torque_constant": 0.018, "inertia": 4e-6},
    "on the edge of a skid": TRUTH | {"running_friction": 0.9e-3, "stiction": 1.22},
    "a worm that locks, every coast a skid": TRUTH
    | {
        "resistance": 13.0,
        "torque_constant": 0.007,
        "motor_friction": 0.5e-3,
        "running_friction": 1.15e-3,
        "stiction": 1.26,
        "efficiency": 0.25,
        "inertia": 1.2e-7,
    },
}
ERRORS = Errors(meter=0.01, stopwatch=0.2, ruler=0.002)


def known(true=TRUTH) -> Known:
    """What is counted, weighed and looked up about a drive."""
    gears = tuple(
        Gear(f"{teeth} teeth", teeth, "brass", (teeth + 2) * MODULE, 3e-3, 0.0) for teeth in TEETH
    )
    return Known(
        train=Train(
            Worm("steel", 1, MODULE, OUTSIDE, 8e-3, BORE),
            gears,
            ANGLE,
            "greased",
            BACKLASH,
            END_PLAY,
        ),
        wheel_diameter=Given(0.016, 0.002),
        train_mass=Given(0.55, 0.003),
        mass_on_drivers=Given(0.32, 0.006),
        adhesion=Given(0.21, 0.10),
        rolling=Given(0.018, 0.15),
        inertia=Given(true["inertia"], 0.15),
        efficiency=Given(0.45, 0.5),
        brush_drop=Given(0.0, 1e-3),
        free_speed=12.0 / true["torque_constant"],
        thermal_resistance=40.0,
    )


def told(true):
    """The constants of a truth by the fit's names: what starts it is fitted outright."""
    start = true["stiction"] * true["running_friction"] / true["torque_constant"]
    rest = {name: value for name, value in true.items() if name != "stiction"}
    return rest | {"starting_voltage": start * true["resistance"]}


@dataclass(frozen=True)
class Day:
    """What is true of one evening beside the constants."""

    adhesion: float = 0.21
    rolling: float = 0.018
    wheel: float = 0.016
    train: float = 0.55
    drivers: float = 0.32
    warmth: float = 0.5

    @property
    def lever(self):
        """Travel at the rim for an angle of the motor [m]."""
        return self.wheel / 2 / TEETH[-1]

    @property
    def rolling_force(self):
        """Pull that keeps the train rolling [N]."""
        return self.rolling * self.train * GRAVITY

    @property
    def pull_at_slip(self):
        """Drawbar pull at which the drivers slip [N]."""
        return self.adhesion * self.drivers * GRAVITY

    @property
    def rim_limit(self):
        """Force at the rim at which the drivers slip [N]."""
        return self.pull_at_slip + self.rolling_force


# -- physics ----------------------------------------------------------------------------------


def steady(volts, torque, damping, true, kelvin):
    """Current and speed where the circuit and the torques balance, winding warm by K/W."""

    def settled(speed):
        """Current, resistance and constant, each as warm as the others make it."""
        constant, hot = true["torque_constant"], true["resistance"]
        for _ in range(60):
            current = (torque + damping * speed) / constant
            rise = min(kelvin * current**2 * hot, 200.0)
            hot = true["resistance"] * (1 + COPPER * rise)
            constant = true["torque_constant"] * (1 - MAGNET * rise)
        return current, hot, constant

    def short_of(speed):
        current, hot, constant = settled(speed)
        return volts - current * hot - constant * speed

    speed = optimize.brentq(short_of, 0.0, 1.2 * volts / true["torque_constant"])
    return settled(speed)[0], speed


def screw(friction, way):
    """Share that a thread with friction passes on: ``way`` +1 the worm drives, -1 the gear."""
    lead = atan(MODULE / (OUTSIDE - 2 * MODULE))  # one start: pi m over pi d
    flat = cos(ANGLE)
    if way > 0:
        return (flat - friction * tan(lead)) / (flat + friction / tan(lead))
    return (flat - friction / tan(lead)) / (flat + friction * tan(lead))


def pushed(efficiency, rubs=BALLS, bore=BORE):
    """Share of the train's push that reaches the motor, for an efficiency when it drives.

    ``rubs`` is the friction under the thrust, on a face between the bore and the root.
    """
    root = OUTSIDE - 4.4 * MODULE
    collar = rubs * (root + bore) / 4 / (MODULE / 2)  # lever of the thrust: r tan(lead) = m/2

    def short_of(friction):
        return STRAIGHT / (1 / screw(friction, 1) + collar) - efficiency

    return STRAIGHT * (screw(optimize.brentq(short_of, 0.0, 2.0), -1) - collar)


def lost_motion(day, play=BACKLASH + END_PLAY):
    """Backlash and end play as travel at the rim [m]: both at the axle gear's pitch line."""
    return play * day.wheel / (MODULE * TEETH[-1])


class Motor:
    """The winding of a drive that may be shorted."""

    brush_drop = 0.0

    def __init__(self, true):
        self.constant, self.resistance = true["torque_constant"], true["resistance"]


class Works:
    """A drive as the two bodies that the integration of a stop asks for."""

    def __init__(self, true, day):
        self.engine = self.state = self
        self.efficiency, self.inertia, self.motor = true["efficiency"], true["inertia"], Motor(true)
        self.lever, self.wheel, self.train = day.lever, day.wheel, day.train
        self.rolling_force, self.rim_limit = day.rolling_force, day.rim_limit
        through = day.rolling_force * day.lever / true["efficiency"]
        self.rubbing = true["running_friction"] - through
        self.sticking = true["stiction"] * true["running_friction"] - through
        self.damping = true["damping"]
        self.back, self.lost = pushed(true["efficiency"]), lost_motion(day)

    def gain(self, _, driving):
        """Share of the rim's torque that the motor feels."""
        return 1 / self.efficiency if driving else self.back

    def lost_motion(self, _):
        """Travel at the rim between one flank and the other [m]."""
        return self.lost


# -- readings ---------------------------------------------------------------------------------

COASTS = ((12.0, "open"), (12.0, "open"), (8.0, "open"), (6.0, "open"), (12.0, "shorted"))


def throttles(true):
    """Volts and pulls of the runs of a whole evening: from a crawl to full throttle, two loaded."""
    start = (
        true["stiction"] * true["running_friction"] * true["resistance"] / true["torque_constant"]
    )
    free = [(float(volts), 0.0) for volts in np.linspace(max(2.0, 1.4 * start), 12, 6)]
    return (*free, (8.0, 0.15), (12.0, 0.3))


def exact(true=TRUTH, day=Day(), runs=None, coasts=COASTS) -> Bench:
    """What perfect instruments would read."""
    kelvin = day.warmth * known(true).thermal_resistance
    rest = true["stiction"] * true["running_friction"]

    def run(volts, pull=0.0):
        load = true["running_friction"] + pull * day.lever / true["efficiency"]
        return steady(volts, load, true["damping"], true, kelvin)

    def timed(volts, pull):
        amps, speed = run(volts, pull)
        return Steady(volts, 1.5, 1.5 / (speed * day.lever), pull, amps)

    def rolled(volts, rails):
        stop = coast(Works(true, day), run(volts)[1] * day.lever, rails == "shorted")
        return Rolled(volts, rails, stop.distance, stop.time)

    own = true["motor_friction"]
    drag = VISCOUS * own * true["torque_constant"] / 12.0
    frees = [
        (volts, steady(volts, (1 - VISCOUS) * own, drag, true, kelvin)) for volts in (6.0, 12.0)
    ]
    return Bench(
        resistance=(true["resistance"],) * 6,
        no_load=tuple(Free(volts, amps, speed) for volts, (amps, speed) in frees),
        stall=(Held(1.5, 1.5 / true["resistance"]),),
        starting_voltage=(rest * true["resistance"] / true["torque_constant"],) * 4,
        runs=tuple(timed(*each) for each in (throttles(true) if runs is None else runs)),
        coasts=tuple(rolled(*each) for each in coasts),
        slip=(day.pull_at_slip,),
    )


@lru_cache
def perfect(name):
    """What perfect instruments read on a drive of the list."""
    return exact(DRIVES[name])


def spoiled(bench, chance, errors=ERRORS) -> Bench:
    """The same readings as an hour with a hand-held meter has them."""
    one = chance.standard_normal
    meter = errors.meter / 2
    volts, amps, ohms = 1 + meter * one(), 1 + meter * one(), 1 + 2**0.5 * meter * one()
    watch, ruler = errors.stopwatch / 2, errors.ruler / 2
    thumb, own = errors.thumb * watch * one(), watch * (1 - errors.thumb**2) ** 0.5

    def off(value, error):
        return value * (1 + error * one())

    def clock(rolled):
        return watch if np.isnan(rolled.time_error) else rolled.time_error / 2

    return replace(
        bench,
        resistance=tuple(off(r, errors.brush) * ohms for r in bench.resistance),
        no_load=tuple(
            replace(
                r,
                voltage=r.voltage * volts,
                current=off(r.current, errors.digit) * amps,
                speed=off(r.speed, errors.rotation),
            )
            for r in bench.no_load
        ),
        stall=tuple(
            replace(
                r,
                voltage=r.voltage * volts,
                current=off(off(r.current, errors.digit), errors.brush) * amps,
            )
            for r in bench.stall
        ),
        starting_voltage=tuple(off(v, errors.breakaway) * volts for v in bench.starting_voltage),
        runs=tuple(
            # a volt misread by its last digit is a speed that belongs to another voltage
            replace(
                r,
                voltage=off(r.voltage, errors.volts_digit) * volts,
                time=r.time + thumb + own * one(),
                current=off(off(r.current, errors.digit), errors.friction) * amps,
            )
            for r in bench.runs
        ),
        coasts=tuple(
            replace(
                r,
                voltage=r.voltage * volts,
                distance=off(r.distance, errors.coast) + ruler * one(),
                time=off(r.time, errors.coast) + clock(r) * one(),
            )
            for r in bench.coasts
        ),
        slip=tuple(off(f, errors.place) + errors.spring_scale / 2 * one() for f in bench.slip),
    )


def drawn(given: Given, chance) -> float:
    """A number as far off as is said of it."""
    return given.value * exp(given.error * chance.standard_normal())


def day_of(chance, sure: Known) -> Day:
    """An evening as what is known of it allows, and a winding more or less warm."""
    return Day(
        adhesion=drawn(sure.adhesion, chance),
        rolling=drawn(sure.rolling, chance),
        wheel=drawn(sure.wheel_diameter, chance),
        train=drawn(sure.train_mass, chance),
        drivers=drawn(sure.mass_on_drivers, chance),
        warmth=chance.uniform(),
    )


def trial(true, chance):
    """A drive of its own inertia on a day of its own, and its readings."""
    sure = known(true)
    here = true | {"inertia": drawn(sure.inertia, chance)}
    return here, spoiled(exact(here, day_of(chance, sure)), chance)


# -- few readings -----------------------------------------------------------------------------

#: Of a whole bench, what few readings hold; every sheet has a resistance and one free running.
FEW = {
    "the motor alone": {},
    "one starting voltage": {"starting_voltage": 1},
    "one lap by the watch": {"runs": 1},
    "a start, a run with its current": {"starting_voltage": 1, "runs": 1},
}


def few(bench, name):
    """The readings of a short evening."""
    kept = {"starting_voltage": 0, "runs": 0} | FEW[name]
    runs = tuple(run for run in bench.runs if not run.pull)[::-1][: kept["runs"]]
    if "watch" in name:
        runs = tuple(replace(run, current=np.nan) for run in runs)
    return replace(
        bench,
        resistance=bench.resistance[:2],
        no_load=bench.no_load[1:],
        stall=(),
        starting_voltage=bench.starting_voltage[: kept["starting_voltage"]],
        runs=runs,
        coasts=(),
        slip=(),
    )


def short_trial(name, chance):
    """A drive of which all but the motor is as the trade has it, and the little that was read.

    Friction in motion is about three times the motor's own, at rest a third more than that,
    with full throttle a third more by drag, each as far off as the kit says; one that should run
    and does not, its winding hot, is drawn again.
    """
    sure, one = known(), chance.standard_normal
    while True:
        running = 3 * TRUTH["motor_friction"] * exp(one())
        free = 12 / TRUTH["torque_constant"]
        own = VISCOUS * TRUTH["motor_friction"] / free  # the motor's, which the engine drags too
        drag = max(0.3 * running / free * exp(1.2 * one()), own / 0.9)
        here = TRUTH | {
            "running_friction": running,
            "damping": drag,
            "stiction": max(1.3 * exp(0.22 * one()), 1.0),
            "efficiency": min(drawn(sure.efficiency, chance), 0.95),
            "inertia": drawn(sure.inertia, chance),
        }
        runs = ((12.0, 0.0),) if FEW[name].get("runs") else ()
        if not runs or running * TRUTH["resistance"] / TRUTH["torque_constant"] < 5.5:
            break
    whole = exact(here, day_of(chance, sure), runs, coasts=())
    return here, few(spoiled(whole, chance), name)
