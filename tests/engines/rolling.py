"""How an engine stops: rotor and train as two bodies, every flank and every skid an event.

What turns with the motor, and the train.  Between them the mesh with lost motion, whose loss
turns round when the train pushes (a worm may lock), and wheels that hold the rail up to the
adhesion limit.  Rolling resistance acts on the train.  scipy's DOP853, each mode to its end.
"""

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from tests.engines.steady import Works

FAR, TRAIN, MOTOR, PLAY = range(4)
LOSSES = ("motor", "brake", "mesh", "slip", "rolling")
TIGHT, LEAST = 1e-9, 1e-10
MOST_EVENTS = 200
FOREVER = 600.0
HAIR = 1e-15  # m, beyond measuring


@dataclass(frozen=True)
class Stop:
    """From the cut to standstill; ``energy`` [J] by place, and what it began with."""

    distance: float
    time: float
    modes: tuple[str, ...]
    energy: dict[str, float]
    began: float

    @property
    def unbooked(self) -> float:
        """Share of the energy that went nowhere."""
        return abs(sum(self.energy.values()) / self.began - 1)


class Rolling:
    """Laws of one stop."""

    def __init__(self, works: Works, shorted: bool):
        state, engine = works.state, works.engine
        self.works, self.state, self.shorted = works, state, shorted
        self.lever, self.inertia, self.mass = works.lever, state.inertia, engine.train
        self.rolling, self.limit = engine.rolling_force, engine.rim_limit
        self.play = state.lost_motion(engine.wheel)

    def braking(self, speed):
        """Torque of the shorted motor [N*m]."""
        if not self.shorted:
            return 0.0
        motor = self.state.motor
        volts = max(motor.constant * speed - motor.brush_drop, 0.0)
        return motor.constant * volts / motor.resistance

    def friction(self, speed):
        """Torque that slows the turning motor, rim apart [N*m]."""
        return self.works.rubbing + self.works.damping * speed + self.braking(speed)

    def together(self, speed, driving):
        """Acceleration of the train, force at the rim, and the inertia that both share [kg*m].

        inertia a/l = -friction - F l gain and F = rolling + mass a, solved for a.
        """
        gain = self.state.gain(speed, driving)
        shared = self.inertia / self.lever + self.mass * self.lever * gain
        if shared <= 0:
            return 0.0, -1e3 * self.limit, shared
        a = -(self.friction(speed) + self.rolling * self.lever * gain) / shared
        return a, self.rolling + self.mass * a, shared

    def moving(self, y, force):
        """Whether train and motor move on, or are moved by a given force at the rim."""
        pushed = -force * self.lever * self.state.gain(y[MOTOR], force > 0)
        train = y[TRAIN] > 0 or abs(force) > self.rolling
        return train, y[MOTOR] > 0 or pushed > self.works.sticking

    def mode(self, y, sliding):
        """What holds from here on."""
        drives, pushes = y[PLAY] >= 0, y[PLAY] <= -self.play
        if sliding > 0:
            return "slip" if drives else "float"
        if sliding < 0:
            return "skid" if pushes else "float"
        if y[TRAIN] <= 0 and y[MOTOR] <= 0:
            return "stand"
        if drives:
            _, force, _ = self.together(y[MOTOR], True)
            if force >= 0:
                return "drive"
        if pushes:
            _, force, _ = self.together(y[MOTOR], False)
            if -self.limit <= force <= 0:
                return "push"
            if force < -self.limit:
                return "skid"
        return "float"

    def rates(self, mode, start):
        """Right-hand side in a mode; smooth, also past the standstill that ends it."""
        force_of = {"slip": self.limit, "skid": -self.limit, "float": 0.0}
        tied, driving = mode not in force_of, mode == "drive"
        held = force_of.get(mode, 0.0)
        train_moves, motor_moves = self.moving(start, held)

        def right(_, y):
            v, speed = y[TRAIN], y[MOTOR]
            rim = self.lever * speed
            if tied:
                train, force, _ = self.together(speed, driving)
                motor = train / self.lever
            else:
                force, train, motor = held, 0.0, 0.0
                if train_moves:
                    train = (force - self.rolling) / self.mass
                if motor_moves:
                    rubs = self.friction(speed)
                    motor = -(force * self.lever * self.state.gain(speed, force > 0) + rubs)
                    motor /= self.inertia
            own = self.works.rubbing + self.works.damping * speed
            lost = (
                own * speed,
                self.braking(speed) * speed,
                force * rim * (self.state.gain(speed, force > 0) - 1),
                force * (rim - v),
                self.rolling * v,
            )
            return (v, train, motor, rim - v if mode == "float" else 0.0, *lost)

        return right

    def endings(self, mode, y):
        """What ends a mode: names and terminal events."""
        found = []

        def ends(name, how, direction=-1.0):
            def event(t, y):
                return how(y)

            event.terminal, event.direction = True, direction
            found.append((name, event))

        if mode in ("drive", "push"):
            ends("stands", lambda y: y[MOTOR])
            driving = mode == "drive"
            way = 1 if driving else -1
            ends("turns round", lambda y: way * self.together(y[MOTOR], driving)[1])
            if not driving:
                ends("lets go", lambda y: self.limit + self.together(y[MOTOR], False)[1])
            return found
        if y[MOTOR] > 0:
            ends("motor stands", lambda y: y[MOTOR])
        if y[TRAIN] > 0:
            ends("train stands", lambda y: y[TRAIN])
        if mode == "float":
            ends("drive flank", lambda y: -y[PLAY])
            ends("push flank", lambda y: y[PLAY] + self.play)
        else:
            way = 1 if mode == "slip" else -1
            ends("grips", lambda y: way * (self.lever * y[MOTOR] - y[TRAIN]))
        return found

    def stop(self, speed: float) -> Stop:
        """From a steady speed of the model [m/s] to standstill."""
        y = np.array([0.0, speed, speed / self.lever, 0.0, *[0.0] * len(LOSSES)])
        began = self.inertia * y[MOTOR] ** 2 / 2 + self.mass * speed**2 / 2
        t, sliding, modes = 0.0, 0.0, []
        while len(modes) < MOST_EVENTS:
            mode = self.mode(y, sliding)
            if mode == "stand":
                break
            modes.append(mode)
            if mode == "float" and self.play > 2 * HAIR:
                # A flank that is let go stands a hair off, so that it opens.
                y[PLAY] = np.clip(y[PLAY], HAIR - self.play, -HAIR)
            named = self.endings(mode, y)
            run = solve_ivp(
                self.rates(mode, y), (t, FOREVER), y, "DOP853", rtol=TIGHT, atol=LEAST,
                events=[event for _, event in named],
            )  # fmt: skip
            if not run.success or run.status != 1:
                raise RuntimeError(f"a stop does not end: {mode}")
            t, y = run.t[-1], run.y[:, -1].copy()
            ended = next(name for (name, _), at in zip(named, run.t_events, strict=True) if len(at))
            sliding = self.settle(y, ended, mode)
        else:
            raise RuntimeError("a stop has too many events")
        energy = dict(zip(LOSSES, map(float, y[4:]), strict=True))
        return Stop(float(y[FAR]), float(t), tuple(modes), energy, float(began))

    def settle(self, y, ended, mode):
        """Make exact what an event makes exact; how fast the rim is over the rail."""
        if ended == "stands":
            y[TRAIN] = y[MOTOR] = 0.0
        elif ended == "motor stands":
            y[MOTOR] = 0.0
        elif ended == "train stands":
            y[TRAIN] = 0.0
        elif ended == "drive flank":
            y[PLAY] = 0.0
        elif ended == "push flank":
            y[PLAY] = -self.play
        elif ended == "grips":
            y[TRAIN] = self.lever * y[MOTOR]
        elif ended == "turns round":
            # What is let go stands a hair off, so that another flank is not found again.
            y[PLAY] += -HAIR if mode == "drive" else HAIR
        y[TRAIN], y[MOTOR] = max(y[TRAIN], 0.0), max(y[MOTOR], 0.0)
        if ended in ("stands", "grips", "turns round", "lets go"):
            return 0.0
        return self.lever * y[MOTOR] - y[TRAIN]


def coast(works: Works, speed: float, shorted: bool = False) -> Stop:
    """A stop from a speed of the model, rails open or shorted at the cut."""
    return Rolling(works, shorted).stop(speed)
