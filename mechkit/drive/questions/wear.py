"""A worm pair that rubs: how deep each flank is worn after some hours, and who lasts longest."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from mechkit import mesh_wear, traction, worm
from mechkit.drive.model import read, wearing
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.names import STANDARD_GRAVITY

#: Pairs that a small shop can make, worm first; what the bars compare.
PAIRS = (
    ("brass", "brass"),
    ("steel", "brass"),
    ("steel", "bronze"),
    ("hardened steel", "bronze"),
    ("brass", "acetal"),
    ("steel", "acetal"),
)


#: Share of a tooth's thickness at the pitch line that both flanks together may lose.
GONE = 0.85

#: Low, middle and high.
Lives = tuple[float, float, float]


@dataclass(frozen=True)
class Rubbing:
    """One pair after some hours.

    ``worm_depth`` and ``gear_depth`` [m] are along the flank's normal, ``opening`` [m] at the
    gear's pitch circle; ``left`` is the share of both depths that the teeth had to give, 1 until
    they are worn out; lives are (low, middle, high) [s] until the mesh has opened by
    `wearing.OPENING`; ratios compare them with the pair as it is.
    """

    worm_material: str
    gear_material: str
    lubrication: str
    hours: float
    worm_depth: float
    gear_depth: float
    opening: float
    opening_low: float
    opening_high: float
    left: float
    life: Lives
    ratio: Lives
    ratios: tuple[Lives, ...]


@dataclass(frozen=True, eq=False)
class Case:
    """The geometry and load of an engine's worm mesh."""

    sheet: BenchSheet

    @property
    def state(self):
        """The planned geometry; materials are chosen on the panel."""
        return self.sheet.planned

    def load(self, share):
        """Tangential force at the gear when it pulls a share of what it can [N]."""
        engine, track = self.sheet.locomotive, self.sheet.track
        slip = traction.adhesion_limit(
            load=engine.weight_on_drivers.value * STANDARD_GRAVITY, adhesion=track.adhesion.value
        )
        rolling = traction.rolling_resistance(
            mass=engine.weight.value + engine.trailing_weight.value,
            rolling_coefficient=track.rolling_resistance.value,
        )
        gear = self.state.gears[-1]
        pitch = gear.outside_diameter.value * gear.teeth / (gear.teeth + 2)
        return (share * slip + rolling) * engine.driver_diameter.value / pitch

    def worm_speed(self, speed):
        """Speed of the worm for a speed of the full-size engine [rad/s]."""
        engine = self.sheet.locomotive
        rail = speed / engine.scale
        return rail / (engine.driver_diameter.value / 2) * read.gear_ratio(self.state)


@lru_cache(maxsize=256)
def _lives(case: Case, first, second, lubrication, force, speed):
    """Low, middle and high life of a pair [s]; and the middle wear rates of both members."""
    thread = read.worm_of(case.state)
    bands = np.array(wearing.pair_bands(first, second, lubrication))
    middle = np.sqrt(bands[:, 0] * bands[:, 1])
    low, mean, high = (
        float(wearing.life(case.state, thread, force, speed, rates))
        for rates in (bands[:, 1], middle, bands[:, 0])
    )
    return (low, mean, high), middle


def rub(case: Case, *, worm_material, gear_material, lubrication, hours, share, speed) -> Rubbing:
    """Wear a pair for some hours under a share of the greatest pull at a full-size speed."""
    force, turning = case.load(share), case.worm_speed(speed)
    lives, rates = _lives(case, worm_material, gear_material, lubrication, force, turning)
    old = case.sheet.as_is
    reference = _lives(
        case, old.worm.material, old.gears[0].material, old.mesh.lubrication, force, turning
    )[0][1]
    thread, angle = read.worm_of(case.state), case.state.mesh.pressure_angle.value
    slid = (
        hours
        * 3600
        * worm.sliding_speed(
            pitch_diameter=thread.pitch_diameter, speed=turning, lead_angle=thread.lead_angle
        )
    )

    def over(these: Lives) -> Lives:
        low, middle, high = (life / reference for life in these)
        return low, middle, high

    worm_depth, gear_depth = (
        float(
            mesh_wear.mesh_wear_depth(
                wear_rate=rate,
                force=force / np.cos(angle),
                sliding_distance=slid,
                swept_area=area,
            )
        )
        for rate, area in zip(rates, wearing.areas(case.state, thread), strict=True)
    )
    module = case.state.worm.module.value
    give = GONE * np.pi * module / 2 * np.cos(angle)
    opened = [hours * 3600 / life * wearing.OPENING for life in lives]
    return Rubbing(
        worm_material,
        gear_material,
        lubrication,
        hours,
        worm_depth,
        gear_depth,
        opening=opened[1],
        opening_low=opened[2],
        opening_high=opened[0],
        left=min(1.0, give / (worm_depth + gear_depth)) if hours else 1.0,
        life=lives,
        ratio=over(lives),
        ratios=tuple(
            over(_lives(case, first, second, lubrication, force, turning)[0])
            for first, second in PAIRS
        ),
    )
