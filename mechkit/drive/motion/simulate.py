"""The drive in time: a throttle and a track in; motion, current, heat and every event out.

`simulate` runs one drive, `before_and_after` two on one throttle.  Between events the drive is
smooth and runs in steps of an embedded fifth-order method; every event (break-away, stop,
slip, grip, dead rail, power that turns round in the mesh, a flank that meets) ends its own
step, so nothing is stepped over.

Where it stops: no elasticity of shafts and rods, no weight of wheels and gears, a train that is
one mass at one place; a throttle that both feeds and takes back current; a winding whose L/R is
short against everything mechanical, so that inductance counts in a window of pulses alone.
"""

from math import inf, pi

import numpy as np

from mechkit import check
from mechkit.drive.model.drive import Drive
from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.machine import (
    ANGLE,
    CURRENT,
    DISTANCE,
    MOTOR,
    PLACES,
    PLAY,
    TRAIN,
    Machine,
    Mode,
)
from mechkit.drive.motion.stepping import Step, land
from mechkit.drive.motion.supply import Stretch, Supply, Track
from mechkit.drive.motion.traces import Event, Motion

#: Steps in a turn of the fastest swing, at least.
_PER_TURN = 10
#: Events on one spot after which the laws contradict themselves.
_TOO_MANY = 100


def simulate(
    drive: Drive,
    supply: Supply,
    track: Track | None = None,
    detail: Detail | None = None,
    *,
    model_speed: float = 0.0,
    tolerance: float = 1e-7,
) -> Motion:
    """Run a drive through a supply, from rest or from a speed.

    Parameters
    ----------
    drive : Drive
        The drive; where its numbers are draws, the first, which is the expected one
    supply : Supply
        What feeds it, phase by phase
    track : Track, optional
        Level, straight and alive where left out
    detail : Detail, optional
        What only time needs; nothing of it where left out
    model_speed : float
        Speed of the model at the start [m/s], at least 0
    tolerance : float
        Error of a step, relative [-], 1e-12 to 1e-3

    Raises
    ------
    ValueError
        An argument is outside its range.
    """
    check.not_negative(model_speed=model_speed)
    check.up_to(1e-12, 1e-3, tolerance=tolerance)
    return _Run(
        drive, supply, track or Track(), detail or Detail(), model_speed, tolerance
    ).finish()


def before_and_after(before, after, supply, track=None):
    """Both drives, each with its `Detail`, on one throttle.

    ``before`` and ``after`` are pairs of `Drive` and `Detail`.
    """
    return tuple(simulate(drive, supply, track, detail) for drive, detail in (before, after))


class _Run:
    """One run as it goes; what it leaves behind is a `Motion`."""

    def __init__(self, drive, supply, track, detail, model_speed, tolerance):
        self.drive, self.supply, self.detail = drive, supply, detail
        top = max(abs(v) for phase in supply.phases for v in (phase.start, phase.end))
        lever = float(np.ravel(drive.wheel_diameter)[0]) / 2 / drive.gear_ratio
        constant = float(np.ravel(drive.motor.torque_constant)[0])
        fastest = 1.5 * max(top / constant, model_speed / lever, 1.0)
        self.machine = machine = Machine(
            drive, detail, track, fastest, top or float(np.ravel(drive.full)[0])
        )
        self.track, self.joints, self.section = track, track.joints, 0
        turned = machine.turn(0.0)[0]
        self.y = [0.0, model_speed, 0.0, model_speed / turned, 0.0, 0.0]
        self.t, self.h, self.tolerance = 0.0, 1e-3, tolerance
        self.scales = (1e-3, lever, 1.0, 1.0, max(machine.lost_motion, 1e-9), 1e-3)
        self.spent = dict.fromkeys((*PLACES, "sparks"), 0.0)
        self.events: list[Event] = []
        self.rows: list[tuple] = []
        way = int(model_speed > 0)
        self.mode = Mode("tied", 1, way, way)
        self.steps, self.same, self.field = 0, 0, 0.0
        machine.cogs = bool(detail.cogging) and abs(self.y[MOTOR]) <= machine.quiet
        self.at_start = machine.motion_energy(self.y) + machine.cog_energy(self.y)

    # -- the circuit --------------------------------------------------------------------

    def feed(self, stretch: Stretch):
        """Go on with a stretch of the supply, or with another section of rail."""
        machine, y = self.machine, self.y
        was = machine.current(self.t, y) if self.rows else 0.0
        pulses = self.supply.pulses
        machine.feed(stretch, pulses.inductance if pulses else None)
        held = 0.0
        if machine.inductance and machine.closed:
            y[CURRENT] = was
            held = machine.inductance * was**2 / 2
        else:
            y[CURRENT] = machine.current(self.t, y)
        change, self.field = held - self._field_now(was), held
        if machine.closed:
            self.spent["supply"] += change
        else:
            self.spent["sparks"] -= change

    def _field_now(self, current: float) -> float:
        """What the field holds before the circuit changes [J]; nothing where it is not run."""
        return self.supply.pulses.inductance * current**2 / 2 if self.field_runs else 0.0

    @property
    def field_runs(self) -> bool:
        """True while the winding's current is run through."""
        return bool(self.rows) and self.resolved

    def ripple(self, start: float, end: float):
        """Book the heat of pulses that are seen as their mean."""
        machine, pulses = self.machine, self.supply.pulses
        averaged = pulses and machine.closed and not machine.inductance
        if averaged and machine.stretch.circuit == "fed" and end > start:
            times = np.linspace(start, end, 9)
            winding = machine.electric(self.y[MOTOR])[0]
            power = pulses.ripple_heat(machine.stretch.volts(times), winding)
            weights = np.array([1, 4, 2, 4, 2, 4, 2, 4, 1]) / 24
            heat = float(weights @ power) * (end - start)
            self.spent["supply"] += heat
            self.spent["winding"] += heat

    # -- the run ------------------------------------------------------------------------

    def finish(self) -> Motion:
        """Run to the end."""
        self.resolved, last = False, None
        for stretch in self.supply.stretches():
            if last and last.circuit != stretch.circuit:
                fed = stretch.circuit == "fed"
                self.tell("power on" if fed else "power cut")
            last = stretch
            self.feed(stretch)
            self.resolved = bool(self.machine.inductance and self.machine.closed)
            self.enter(self.sliding())
            self.through(stretch)
        return self.result()

    def sliding(self) -> float:
        """Speed of the rim over the rail [m/s]."""
        if self.mode.kind == "tied":
            return 0.0
        return self.machine.turn(self.y[ANGLE])[0] * self.y[MOTOR] - self.y[TRAIN]

    def enter(self, sliding: float):
        """Find what holds from here on and tell what has changed."""
        old, new = self.mode, self.machine.settle(self.t, self.y, sliding)
        self.mode = new
        for words in _told(old, new):
            self.tell(words)
        self.last = self.machine.rates(self.t, self.y, new)
        self.note()

    def tell(self, words: str):
        """Write down an event."""
        y = self.y
        self.events.append(
            Event(self.t, words, y[DISTANCE], y[TRAIN], self.machine.stretch.volts(self.t))
        )

    def note(self):
        """Write down the state."""
        rates, force, _ = self.last
        volts = self.machine.stretch.volts(self.t) if self.machine.closed else 0.0
        slip = self.sliding() if self.mode.kind == "slip" else 0.0
        self.rows.append((self.t, *self.y, *rates, force, volts, slip))

    def longest(self) -> float:
        """Longest step that no swing within a turn can hide in [s]."""
        machine = self.machine
        fastest = max([turns for turns, *_ in machine.turning], default=0.0)
        if machine.cogs:
            fastest = max(fastest, self.detail.slots)
        turning = fastest * abs(self.y[MOTOR])
        return 2 * pi / turning / _PER_TURN if turning else inf

    def margins(self, t, y, mode, force):
        """Everything that can end the mode, place on the track and cogging included."""
        machine = self.machine
        found = machine.margins(t, y, mode, force)
        if self.section < len(self.joints):
            found.append(("joint", self.joints[self.section] - y[DISTANCE]))
        if self.section > 0:
            found.append(("joint back", y[DISTANCE] - self.joints[self.section - 1]))
        if machine.cogs:
            if abs(self.y[MOTOR]) > machine.quiet:
                slots, phase = self.detail.slots, machine.cog_phase
                now = np.cos(slots * self.y[ANGLE] + phase)
                found.append(("cogs blur", float(np.cos(slots * y[ANGLE] + phase) * np.sign(now))))
        elif self.detail.cogging:
            found.append(("cogs seen", abs(y[MOTOR]) - 0.8 * machine.quiet))
        return found

    def through(self, stretch: Stretch):
        """Step to the end of a stretch, event by event."""
        booked = self.t
        while self.t < stretch.end:
            mode, first = self.mode, self.last
            start = self.margins(self.t, self.y, mode, first[1])
            step = self.accepted(stretch.end, first, mode)
            ended, step = self.watched(start, step, first, mode)
            if step.h > 1e-12:
                self.same = 0
            for name, energy in zip(PLACES, step.energy, strict=True):
                self.spent[name] += energy
            whole = ended is None and step.time >= stretch.end - 1e-13
            self.t, self.y, self.last = (stretch.end if whole else step.time), step.y, step.rates
            self.note()
            if ended is not None:
                self.same += 1
                if self.same > _TOO_MANY:
                    raise RuntimeError(f"at {self.t:.6g} s no motion fits the laws: {mode}")
                if ended.startswith("joint"):
                    self.ripple(booked, self.t)
                    booked = self.t
                self.meet(ended, stretch)
        self.ripple(booked, self.t)

    def accepted(self, end: float, first, mode: Mode) -> Step:
        """The next step whose error is small enough."""
        h = min(self.h, self.longest(), end - self.t)
        while True:
            step = Step(self.machine, self.t, self.y, first, h, mode)
            self.steps += 1
            error = step.error(self.y, self.scales, self.tolerance, bool(self.machine.inductance))
            if error <= 1:
                grown = h * min(5.0, 0.9 * max(error, 1e-8) ** -0.2)
                # a step cut short by the end of a stretch does not shorten the next
                self.h = max(grown, self.h) if h < self.h else grown
                return step
            self.h = h = h * max(0.2, 0.9 * error**-0.2)

    def watched(self, start, step: Step, first, mode: Mode):
        """What ends the step, and the step cut there; nothing and the whole step else."""
        ended = None

        def take(h):
            self.steps += 1
            return Step(self.machine, self.t, self.y, first, h, mode)

        for number, (name, before) in enumerate(start):

            def margin(trial, number=number):
                return self.margins(trial.time, trial.y, mode, trial.force)[number][1]

            after = margin(step)
            if after < 0:
                step, ended = land(take, step, margin, before, after), name
        return ended, step

    def meet(self, ended: str, stretch: Stretch):
        """Set what an event makes exact, and go on."""
        machine, y, mode = self.machine, self.y, self.mode
        sliding = self.sliding()
        if ended == "motor":
            y[MOTOR] = 0.0
            if mode.kind == "tied":
                y[TRAIN] = 0.0
            sliding = self.sliding()
        elif ended == "train":
            y[TRAIN] = 0.0
            sliding = self.sliding()
        elif ended == "grip":
            if mode.train == 0:
                y[MOTOR] = 0.0
            y[TRAIN] = machine.turn(y[ANGLE])[0] * y[MOTOR]
            sliding = 0.0
        elif ended in ("drive flank", "coast flank"):
            y[PLAY] = 0.0 if ended == "drive flank" else -self.machine.lost_motion
        elif ended in ("joint", "joint back"):
            self.section += 1 if ended == "joint" else -1
            dead = machine.section.dead
            machine.place(self.track.sections[self.section])
            self.feed(stretch)
            self.resolved = bool(machine.inductance and machine.closed)
            if machine.section.dead != dead:
                self.tell("rail alive" if dead else "rail dead")
        elif ended == "cogs blur":
            machine.cogs = False
        elif ended == "cogs seen":
            machine.cogs = True
            machine.cog_phase = pi / 2 - self.detail.slots * y[ANGLE]
        self.enter(sliding)

    def result(self) -> Motion:
        """What the run leaves behind."""
        machine = self.machine
        table = np.array(self.rows).T
        gained = machine.motion_energy(self.y) + machine.cog_energy(self.y) - self.at_start
        return Motion(
            drive=self.drive,
            detail=self.detail,
            table=table,
            events=tuple(self.events),
            energy=dict(self.spent) | {"motion": gained, "field": self._field_now(self.y[CURRENT])},
            steps=self.steps,
        )


def _told(old: Mode, new: Mode):
    """What a change of mode is called on the layout."""
    if old.stands and not new.stands:
        yield "breaks away"
    if new.stands and not old.stands:
        yield "stands"
    if new.kind == "slip" and (old.kind != "slip" or old.flank != new.flank):
        yield "wheels slip" if new.flank * (new.motor or new.train) > 0 else "wheels skid"
    if old.kind == "slip" and new.kind != "slip":
        yield "wheels grip"
    if old.kind == "float" and new.kind != "float":
        yield "flank meets"
    way = old.flank * old.motor
    if way and (new.kind == "float" or new.flank * new.motor == -way):
        yield "power reverses"
    if old.motor and not new.motor and not new.stands:
        yield "motor stands"
