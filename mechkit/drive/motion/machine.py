"""The drive as a machine with friction: what holds, slips or floats, and how it speeds up.

Two bodies: what turns with the motor, and the train.  Between them a mesh with lost motion
and friction, and wheels that hold the rail up to the adhesion limit; wheels and gears weigh
nothing beside flywheel and train.  A `Mode` says which frictions hold just now; in one mode
everything is smooth.  Forward is positive, but every mode runs both ways.
"""

from dataclasses import dataclass
from math import copysign, cos, sin
from typing import Literal

import numpy as np

from mechkit import traction
from mechkit.drive.model.drive import Drive
from mechkit.drive.motion.detail import Detail, Gains, quiet_speed
from mechkit.drive.motion.supply import Section, Stretch, Track

#: Cogging is run through tooth by tooth while it swings the motor's speed by more than this.
COGGING_SEEN = 0.005
#: Places of the state: distance, train speed, motor angle, motor speed, lost motion taken
#: up (0 on the driving flank, negative off it), current.
DISTANCE, TRAIN, ANGLE, MOTOR, PLAY, CURRENT = range(6)
#: Places in the list of powers [W].
PLACES = (
    "supply", "winding", "brushes", "motor and bearings", "mesh", "wheel slip", "rolling", "lifting",
)  # fmt: skip
#: A fed motor is as warm as it runs from this share of its speed on; below, it starts cold.
WARMS = 0.05


@dataclass(frozen=True)
class Mode:
    """What holds: wheels and mesh ``tied``, wheels that ``slip``, or a mesh that ``floats``.

    ``flank`` is +1 where the motor pushes the train, -1 where the train pushes, 0 afloat.
    ``motor`` and ``train`` are the directions in which each moves, 0 where friction holds it.
    """

    kind: Literal["tied", "slip", "float"]
    flank: int
    motor: int
    train: int

    @property
    def stands(self):
        """True where nothing moves."""
        return self.motor == 0 == self.train


def _sign(value: float) -> int:
    return int(value > 0) - int(value < 0)


class Machine:
    """The numbers of one drive at one place on the track, and its laws of motion."""

    def __init__(self, drive: Drive, detail: Detail, track: Track, fastest: float, volts: float):
        self.detail, self.track = detail, track

        def one(value) -> float:
            """The first draw, which is the expected one."""
            return float(np.ravel(value)[0])

        warm, cold = drive.running_motor(volts), drive.motor
        self.warm = one(warm.resistance), one(warm.torque_constant)
        self.cold = one(cold.resistance), one(cold.torque_constant)
        self.warms = max(WARMS * one(drive.motor_speed_at(volts)), 1.0)
        self.brush_drop = one(cold.brush_drop)
        self.lever, self.inertia = one(drive.lever), one(drive.turning_inertia)
        self.mass, self.limit = one(drive.train_mass), one(drive.rim_limit)
        self.rolling_force, self.lost_motion = one(drive.rolling_force), one(drive.lost_motion)
        self.running, self.starting = one(drive.inner_friction), one(drive.inner_stiction)
        if self.running < 0 or self.starting < self.running:
            raise ValueError(
                f"rolling_force = {self.rolling_force:.6g} N, {one(drive.rolling_torque):.4g} N*m at "
                f"the motor: the drive's friction must hold it, running "
                f"{one(drive.running_friction):.4g} N*m, starting "
                f"{one(drive.starting_friction):.4g} N*m and no less"
            )
        self.damping = one(drive.damping)
        self.gains = Gains(one(drive.efficiency), one(drive.back), detail, fastest)
        self.turning = [
            (s.turns, s.ripple, s.friction_swing, s.phase)
            for s in detail.shafts
            if s.ripple or s.friction_swing
        ]
        self.quiet = quiet_speed(self.inertia, detail, COGGING_SEEN)
        self.cogs, self.cog_phase = bool(detail.cogging), 0.0
        self.place(track.sections[0])

    def place(self, section: Section):
        """Stand on a section of track."""
        self.section = section
        slope = float(np.hypot(1, section.grade))
        curve = traction.rolling_resistance(
            mass=self.mass, rolling_coefficient=section.curve_coefficient
        )
        self.rolling = self.rolling_force / slope + curve / slope
        self.back = self.track.pull + float(
            traction.grade_resistance(mass=self.mass, grade=section.grade)
        )

    def feed(self, stretch: Stretch, inductance: float | None):
        """Feed from a stretch of the supply, through the winding's inductance or none."""
        self.stretch, self.inductance = stretch, inductance if stretch.resolved else None
        self.closed = stretch.circuit != "open" and not (
            stretch.circuit == "fed" and self.section.dead
        )

    # -- laws ---------------------------------------------------------------------------

    def turn(self, angle: float):
        """Rim travel per angle of the motor, its change with the angle, and friction's swing."""
        lever, change, swing = 1.0, 0.0, 1.0
        for turns, ripple, share, phase in self.turning:
            at = turns * angle + phase
            c = cos(at)
            lever += ripple * c
            change -= ripple * turns * sin(at)
            swing += share * c
        return self.lever * lever, self.lever * change, swing

    def current(self, t: float, y) -> float:
        """Current of the motor [A]."""
        if not self.closed:
            return 0.0
        if self.inductance:
            return y[CURRENT]
        volts, (resistance, constant) = self.stretch.volts(t), self.electric(y[MOTOR])
        over = volts - constant * y[MOTOR]
        return (over - self.dropped(over * volts > 0, over)) / resistance

    def electric(self, speed: float) -> tuple[float, float]:
        """Resistance of the circuit [ohm] and torque constant [N*m/A], as warm as the motor is."""
        warm, constant = self.warm
        share = abs(speed) / self.warms
        if share >= 1 or self.stretch.circuit != "fed":
            return warm + self.stretch.brake, constant
        cold, strong = self.cold
        return cold + share * (warm - cold), strong + share * (constant - strong)

    def dropped(self, drives: bool, over: float) -> float:
        """What the brushes keep of the voltage ``over`` that a supply drives with [V].

        A motor that brakes is taken as without brushes, as it is in a stop's closed form.
        """
        if not drives or self.stretch.circuit != "fed":
            return 0.0
        return min(self.brush_drop, abs(over)) * copysign(1.0, over)

    def shaft_torque(self, t: float, y) -> float:
        """Torque of magnet and winding, friction not yet taken off [N*m]."""
        torque = self.electric(y[MOTOR])[1] * self.current(t, y)
        if self.cogs:
            torque -= self.detail.cogging * sin(self.detail.slots * y[ANGLE] + self.cog_phase)
        return torque

    def gain(self, speed: float, driving: bool) -> float:
        """Share of the rim's torque that the motor feels."""
        return self.gains.at(speed, driving)

    def tied(self, torque: float, y, direction: int, driving: bool, turn):
        """Rim force and the sum that it is divided from, wheels and mesh holding."""
        lever, change, swing = turn
        speed = y[MOTOR]
        net = torque - self.running * swing * direction - self.damping * speed
        own = direction * self.rolling + self.back + self.mass * change * speed * speed
        gain = self.gain(speed, driving)
        below = self.inertia + gain * self.mass * lever * lever
        return own * self.inertia + self.mass * lever * net, below, net, own, gain

    def rates(self, t: float, y, mode: Mode):
        """How fast the state changes, the force at the rim [N], and the powers by place [W]."""
        v, speed = y[TRAIN], y[MOTOR]
        turn = lever, change, swing = self.turn(y[ANGLE])
        i = self.current(t, y)
        torque = self.shaft_torque(t, y)
        motor = mode.motor
        if mode.kind == "tied":
            if motor == 0:
                force = min(max(self.back, -self.limit), self.limit)
                gain, faster, train_faster = 0.0, 0.0, 0.0
            else:
                above, below, net, own, gain = self.tied(
                    torque, y, motor, mode.flank * motor > 0, turn
                )
                force = above / below
                faster = (net - gain * lever * own) / below
                train_faster = lever * faster + change * speed * speed
            play = 0.0
        else:
            force = mode.flank * self.limit if mode.kind == "slip" else 0.0
            gain = self.gain(speed, force * motor > 0)
            net = torque - self.running * swing * motor - self.damping * speed
            faster = (net - lever * gain * force) / self.inertia if motor else 0.0
            held = mode.train == 0
            train_faster = (
                0.0 if held else (force - mode.train * self.rolling - self.back) / self.mass
            )
            play = lever * speed - v if mode.kind == "float" else 0.0
        stretch = self.stretch
        volts = stretch.voltage + stretch.slope * (t - stretch.start) if self.closed else 0.0
        resistance, constant = self.electric(speed)
        over, rise = volts - constant * speed, 0.0
        if self.inductance:
            brushes = self.brush_drop if i > 0 else 0.0
            rise = (over - brushes - resistance * i) / self.inductance if self.closed else 0.0
        else:
            brushes = self.dropped(over * volts > 0, over)
            if self.closed and over != brushes:
                rise = (stretch.slope - constant * faster) / resistance
        rim = lever * speed
        powers = (
            volts * i,
            resistance * i * i,
            brushes * i,
            (self.running * swing * motor + self.damping * speed) * speed,
            force * rim * (gain - 1) if motor else 0.0,
            force * (rim - v) if mode.kind == "slip" else 0.0,
            self.rolling * abs(v),
            self.back * v,
        )
        return (v, train_faster, speed, faster, play, rise), force, powers

    def stored(self, y) -> float:
        """Energy of motion, of cogging and of the winding's field [J]."""
        field = self.inductance * y[CURRENT] ** 2 / 2 if self.inductance else 0.0
        return self.motion_energy(y) + self.cog_energy(y) + field

    def motion_energy(self, y) -> float:
        """Kinetic energy of motor, flywheel and train [J]."""
        return self.inertia * y[MOTOR] ** 2 / 2 + self.mass * y[TRAIN] ** 2 / 2

    def cog_energy(self, y) -> float:
        """Energy held by cogging [J]; its mean while it is not run through."""
        most = self.detail.cogging / self.detail.slots
        if not self.cogs:
            return most
        return most * (1 - cos(self.detail.slots * y[ANGLE] + self.cog_phase))

    # -- what holds ---------------------------------------------------------------------

    def holds(self, force: float, lever: float, swing: float):
        """Least and most torque at which friction holds the standing motor under a rim force."""
        own = self.starting * swing
        return (
            lever * self.gain(0.0, force < 0) * force - own,
            lever * self.gain(0.0, force > 0) * force + own,
        )

    def _motor_moves(self, torque: float, y, force: float, turn) -> int:
        if y[MOTOR]:
            return _sign(y[MOTOR])
        least, most = self.holds(force, turn[0], turn[2])
        return (torque > most) - (torque < least)

    def _train_moves(self, y, force: float) -> int:
        if y[TRAIN]:
            return _sign(y[TRAIN])
        net = force - self.back
        return (net > self.rolling) - (net < -self.rolling)

    def _loose(self, kind, flank: int, torque: float, y, turn) -> Mode:
        force = flank * self.limit if kind == "slip" else 0.0
        return Mode(
            kind, flank, self._motor_moves(torque, y, force, turn), self._train_moves(y, force)
        )

    def flanks(self, y) -> tuple[int, ...]:
        """Flanks that touch: both without lost motion, one or none with it."""
        if not self.lost_motion:
            return (1, -1)
        if y[PLAY] >= 0:
            return (1,)
        return (-1,) if y[PLAY] <= -self.lost_motion else ()

    def standing(self, y, flanks, turn):
        """Least and most torque that the standing engine holds on the flanks that touch."""
        low = max(self.back - self.rolling, -self.limit)
        high = min(self.back + self.rolling, self.limit)
        if 1 not in flanks:
            high = min(high, 0.0)
        if -1 not in flanks:
            low = max(low, 0.0)
        if low > high:
            return None
        forces = [low, high, *([0.0] if low < 0 < high else [])]
        bounds = [self.holds(force, turn[0], turn[2]) for force in forces]
        return min(b[0] for b in bounds), max(b[1] for b in bounds)

    def settle(self, t: float, y, sliding: float) -> Mode:
        """The mode that the state goes on in; ``sliding`` is the rim's speed over the rail's."""
        turn = self.turn(y[ANGLE])
        torque = self.shaft_torque(t, y)
        flanks = self.flanks(y)
        if sliding:
            way = _sign(sliding)
            kind = "slip" if way in flanks else "float"
            return self._loose(kind, way if kind == "slip" else 0, torque, y, turn)
        if y[MOTOR] == 0:
            bounds = self.standing(y, flanks, turn)
            if bounds and bounds[0] <= torque <= bounds[1]:
                return Mode("tied", flanks[0] if len(flanks) == 1 else 1, 0, 0)
        ways = [_sign(y[MOTOR])] if y[MOTOR] else [1, -1]
        for way in ways:
            for flank in flanks:
                above, below, net, own, gain = self.tied(torque, y, way, flank * way > 0, turn)
                if y[MOTOR] == 0 and (net - gain * turn[0] * own) / below * way <= 0:
                    continue
                if below > 0 and 0 <= above * flank <= self.limit * below:
                    return Mode("tied", flank, way, way)
                faster = (net - gain * turn[0] * flank * self.limit) * way
                if above * flank > 0 and (y[MOTOR] or faster > 0):
                    return Mode("slip", flank, way, self._train_moves(y, flank * self.limit))
        for flank in flanks if y[MOTOR] == 0 else ():
            sliding_off = self._loose("slip", flank, torque, y, turn)
            if sliding_off.train == -flank:
                return sliding_off
        return self._loose("float", 0, torque, y, turn)

    def margins(self, t: float, y, mode: Mode, force: float):
        """Numbers that stay above 0 as long as the mode lasts, with the name of what ends it."""
        turn = self.turn(y[ANGLE])
        found = []
        if mode.motor:
            found.append(("motor", mode.motor * y[MOTOR]))
        elif mode.kind == "tied":
            least, most = self.standing(y, self.flanks(y), turn)
            torque = self.shaft_torque(t, y)
            found += [("torque", most - torque), ("torque", torque - least)]
        else:
            least, most = self.holds(force, turn[0], turn[2])
            torque = self.shaft_torque(t, y)
            found += [("torque", most - torque), ("torque", torque - least)]
        if mode.kind == "tied":
            if mode.motor:
                found.append(("power", force * mode.flank))
                found.append(("adhesion", self.limit - abs(force)))
        else:
            if mode.train:
                found.append(("train", mode.train * y[TRAIN]))
            if mode.kind == "slip":
                found.append(("grip", mode.flank * (turn[0] * y[MOTOR] - y[TRAIN])))
            else:
                found.append(("drive flank", -y[PLAY]))
                found.append(("coast flank", y[PLAY] + self.lost_motion))
        return found
