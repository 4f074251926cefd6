"""What only time needs to know of a drive: cogging, lost motion, off-center gears, the mesh."""

from dataclasses import dataclass
from math import pi

import numpy as np
import scipy

from mechkit import check, runout, worm

#: Speeds at which the mesh is tabulated, on a scale of roots: fine where friction falls fast.
_GRID = 600


@dataclass(frozen=True)
class WormMesh:
    """A worm mesh whose friction falls with sliding speed, after the published curve.

    ``friction_ratio`` is its friction in multiples of that curve, ``rest`` the efficiency of
    the straight gears behind it, the same both ways.
    """

    lead_angle: float
    pressure_angle: float
    pitch_diameter: float
    friction_ratio: float = 1.0
    rest: float = 1.0

    def __post_init__(self):
        check.acute(lead_angle=self.lead_angle, pressure_angle=self.pressure_angle)
        check.positive(pitch_diameter=self.pitch_diameter, friction_ratio=self.friction_ratio)
        check.positive(efficiency=self.rest)
        check.up_to(0.0, 1.0, efficiency=self.rest)

    def efficiencies(self, speed):
        """Efficiency driving and driven at a speed of the worm [rad/s]."""
        sliding = worm.sliding_speed(
            pitch_diameter=self.pitch_diameter, speed=speed, lead_angle=self.lead_angle
        )
        friction = self.friction_ratio * worm.friction_coefficient(sliding_speed=sliding)
        shape = {
            "lead_angle": self.lead_angle,
            "pressure_angle": self.pressure_angle,
            "friction": friction,
        }
        return (
            self.rest * worm.efficiency(**shape),
            worm.back_driving_efficiency(**shape) * self.rest,
        )


@dataclass(frozen=True)
class Shaft:
    """A turning shaft, its gear, and what its gear does once a turn.

    ``turns`` [-] for one of the motor; ``teeth`` (a worm's starts) tell its mesh's tone.  An
    ``eccentricity`` [m] over a ``base_diameter`` [m] swings the speed, at an idler as its
    ``meshes`` [-] let it (`runout.idler_swing`); ``friction_swing`` [-] swings the drive's own
    friction about its mean.  ``phase`` [rad] of the speed's swing at the start.
    """

    name: str
    turns: float
    teeth: float
    eccentricity: float = 0.0
    base_diameter: float = 1.0
    friction_swing: float = 0.0
    phase: float = 0.0
    meshes: float = 1.0

    def __post_init__(self):
        check.positive(turns=self.turns, base_diameter=self.base_diameter)
        check.at_least(1.0, teeth=self.teeth)
        check.between(0.0, self.base_diameter / 4, eccentricity=self.eccentricity)
        check.between(0.0, 1.0, friction_swing=self.friction_swing)
        check.finite(angle=self.phase)
        check.up_to(0.0, 2.0, meshes=self.meshes)

    @property
    def ripple(self) -> float:
        """Swing of the speed, mean to peak [-]."""
        one = runout.speed_ripple(eccentricity=self.eccentricity, base_diameter=self.base_diameter)
        return float(self.meshes * one)

    def tone(self, motor_speed):
        """Teeth that meet in a second [1/s]."""
        return np.abs(motor_speed) * self.turns * self.teeth / (2 * pi)


@dataclass(frozen=True)
class Detail:
    """Beside a `Drive`, what decides how it moves from one moment to the next.

    ``cogging`` [N*m] is its peak, ``slots`` per turn.  A ``mesh`` takes the place of the
    drive's own efficiencies, driving and driven.
    """

    cogging: float = 0.0
    slots: float = 1.0
    mesh: WormMesh | None = None
    shafts: tuple[Shaft, ...] = ()

    def __post_init__(self):
        check.not_negative(cogging=self.cogging)
        check.whole(1.0, slots=self.slots)
        check.between(0.0, 0.5, speed_ripple=sum(shaft.ripple for shaft in self.shafts))
        check.between(0.0, 1.0, friction_swing=sum(shaft.friction_swing for shaft in self.shafts))


class Gains:
    """Torque at the motor over the rim's, quick to ask for one speed at a time."""

    def __init__(self, efficiency: float, back_efficiency: float, detail: Detail, fastest: float):
        self.mesh = detail.mesh
        if self.mesh is None:
            self.driving, self.driven = 1 / efficiency, back_efficiency
            return
        root = np.linspace(0.0, fastest**0.5, _GRID)
        forward, back = self.mesh.efficiencies(root**2)
        check.positive(efficiency=forward)
        self._per_step = (_GRID - 1) / fastest**0.5
        self._driving = scipy.interpolate.PchipInterpolator(root, 1 / forward).c.T.tolist()
        self._driven = scipy.interpolate.PchipInterpolator(root, back).c.T.tolist()

    def at(self, motor_speed: float, driving: bool) -> float:
        """How much of the rim's torque the motor feels, next to what a lossless drive would."""
        if self.mesh is None:
            return self.driving if driving else self.driven
        place = abs(motor_speed) ** 0.5
        number = min(int(place * self._per_step), _GRID - 2)
        a, b, c, d = (self._driving if driving else self._driven)[number]
        x = min(place, (_GRID - 1) / self._per_step) - number / self._per_step
        return ((a * x + b) * x + c) * x + d


def quiet_speed(drive_inertia: float, detail: Detail, share: float) -> float:
    """Speed above which cogging swings the motor's speed by less than a share [rad/s]."""
    if not detail.cogging:
        return 0.0
    return (detail.cogging / (detail.slots * drive_inertia * share)) ** 0.5
