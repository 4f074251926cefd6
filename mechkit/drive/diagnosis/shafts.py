"""What turns in a drive, how often in a turn of the axle, and what else could repeat so."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mechkit import gears, runout
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.diagnosis import hand_tests
from mechkit.drive.model import read
from mechkit.drive.sheet.schema import BenchSheet, GearTable, State
from mechkit.motor import mechanical_time_constant

#: Share of the backlash that a runout may eat; common practice, no source.
EATEN = 0.5
#: What a careful hobby lathe leaves, a thousandth; common practice, no source.
LEAST_RUNOUT = 25.4e-6

#: What each kind of shaft answers to the question what the fault repeats with.
REPEATS = {
    "axle": "once a wheel turn",
    "rods": "twice a wheel turn",
    "idler": "idler turn",
    "motor": "motor turn",
}


@dataclass(frozen=True)
class Shaft:
    """One thing that turns: its kind, what it is called, and its order [turns per axle turn].

    ``twins`` are other shafts that turn as often, which no recording tells from this one.
    """

    kind: str
    name: str
    order: float
    twins: "tuple[Shaft, ...]" = ()

    def together(self, other: "Shaft") -> "Shaft":
        """Two shafts that turn alike, as one."""
        return replace(self, name=f"{self.name} or {other.name}", twins=(*self.twins, other))

    @property
    def causes(self) -> tuple[hand_tests.Cause, ...]:
        """What can make a fault that repeats with it."""
        return tuple(hand_tests.left({"repeats": REPEATS[self.kind]}))

    @property
    def hand_tests(self) -> tuple[str, ...]:
        """What to do by hand, one after the other, until one of the causes is left."""
        asked = {}
        for cause in self.causes:
            answers = {"repeats": REPEATS[self.kind]}
            while trial := hand_tests.next_trial(answers):
                asked[trial.key] = trial.ask
                answers[trial.key] = cause.says.get(trial.key, trial.answers)[-1]
        return tuple(asked.values()) or (self._proof,)

    @property
    def _proof(self):
        """Where one cause is left: the test whose answer it shares with the fewest others."""
        (cause,) = self.causes
        rest = [other for other in hand_tests.causes().values() if other is not cause]

        def shared(test):
            answers = {test: cause.says[test][0]}
            # The recording has just answered what it repeats with; another test tells more.
            return sum(other.agrees(answers) for other in rest), test == "repeats"

        return hand_tests.trials()[min(cause.says, key=shared)].ask


@dataclass(frozen=True)
class Train:
    """The gear train of one state of a bench sheet."""

    sheet: BenchSheet
    state: State

    @cached_property
    def shafts(self) -> tuple[Shaft, ...]:
        """Axle, rods, idlers from the axle up, motor."""
        last = self.state.gears[-1]
        idlers = [
            Shaft("idler", gear.name, last.teeth / gear.teeth)
            for gear in reversed(self.state.gears[:-1])
        ]
        motor = Shaft("motor", "motor and worm", read.gear_ratio(self.state))
        return Shaft("axle", "axle", 1.0), Shaft("rods", "rods", 2.0), *idlers, motor

    @property
    def teeth_order(self):
        """Teeth that pass in a turn of the axle, the same at every mesh."""
        return float(self.state.gears[-1].teeth)

    @property
    def tone_range(self):
        """Slowest crawl to fastest run of the mesh tone [1/s], from the motor's no-load speed."""
        free = self.state.motor.no_load
        fastest = free.speed.value * self.sheet.supply.voltage.value / free.voltage.value
        tone = self.state.worm.starts * fastest / (2 * np.pi)
        return 0.08 * tone, 1.15 * tone

    @property
    def limit(self):
        """Total runout from which a gear counts as faulty [m]."""
        binding = runout.binding_runout(
            backlash=self.state.mesh.backlash.value, pressure_angle=self.angle
        )
        return max(EATEN * float(binding), LEAST_RUNOUT)

    @property
    def angle(self):
        """Pressure angle [rad]."""
        return self.state.mesh.pressure_angle.value

    def swing_of(self, shaft: Shaft, total_runout: float) -> float:
        """Swing of the axle's speed, mean to peak, that a runout on a shaft makes [-]."""
        off = float(runout.eccentricity(total_runout=total_runout))
        if shaft.kind == "motor":
            # The worm comes and goes by its offset; the flank slides off by its tangent.
            lead = self.state.worm.starts * self.state.worm.module.value
            return 2 * off * float(np.tan(self.angle)) / lead
        if shaft.kind == "idler":
            *idlers, last = self.state.gears
            gear = next(each for each in idlers if last.teeth / each.teeth == shaft.order)
            return float(runout.idler_swing(pressure_angle=self.angle)) * self._ripple(gear, off)
        # What the rods do is measured by what an axle gear would do.
        return self._ripple(self.state.gears[-1], off)

    def _ripple(self, gear: GearTable, off):
        base = gears.base_diameter(
            module=gear.outside_diameter.value / (gear.teeth + 2),
            teeth=gear.teeth,
            pressure_angle=self.angle,
        )
        return float(runout.speed_ripple(eccentricity=off, base_diameter=base))

    @cached_property
    def lag(self):
        """Time constant of motor and flywheel [s]: what is quicker hardly shows in the current."""
        constants = known_of(self.sheet).motor_of(self.state.motor)
        wheel = read.flywheel_of(self.state)
        inertia = constants.rotor_inertia[0] + (wheel.inertia if wheel else 0.0)
        return float(
            mechanical_time_constant(
                inertia=inertia,
                resistance=constants.resistance[0],
                torque_constant=constants.torque_constant[0],
            )
        )
