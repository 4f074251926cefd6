"""A worm pair that rubs: how deep each flank is worn after some hours, and who lasts longest."""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import ceil, floor, log10

import numpy as np

from mechkit import mesh_wear, traction, worm
from mechkit.drive.model import read, wearing
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet, State
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
GREASES = ("dry", "starved", "greased")
#: Running to begin with, and at most, in lives of the pair as it is.
BEGUN, LONG = 2 / 3, 13.5
#: Pull in the mesh at least, of the weight on the drivers: nothing rolls by itself [-].
LEAST_PULL = 1e-3

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
    `wearing.OPENING`; ratios compare them with the pair as it is, in its own size, and
    ``as_it_is`` is true for its materials and grease.
    """

    worm_material: str
    gear_material: str
    lubrication: str
    as_it_is: bool
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
    def state(self) -> State:
        """The planned geometry; materials are chosen on the panel."""
        return self.sheet.planned

    @property
    def old(self) -> tuple[str, str, str]:
        """Materials of worm and gear as they are, and their grease."""
        old = self.sheet.as_is
        return old.worm.material, old.gears[0].material, old.mesh.lubrication

    @property
    def planned(self) -> tuple[str, str, str]:
        """Materials of worm and gear as planned, and their grease."""
        new = self.sheet.planned
        return new.worm.material, new.gears[0].material, new.mesh.lubrication

    def load(self, share, state: State | None = None):
        """Tangential force at the axle gear when it pulls a share of what it can [N]."""
        engine, track = self.sheet.locomotive, self.sheet.track
        weight = engine.weight_on_drivers.value * STANDARD_GRAVITY
        slip = traction.adhesion_limit(load=weight, adhesion=track.adhesion.value)
        rolling = traction.rolling_resistance(
            mass=engine.weight.value + engine.trailing_weight.value,
            rolling_coefficient=track.rolling_resistance.value,
        )
        gear = (state or self.state).gears[-1]
        pitch = gear.outside_diameter.value * gear.teeth / (gear.teeth + 2)
        pull = max(share * slip + rolling, LEAST_PULL * weight)
        return pull * engine.driver_diameter.value / pitch

    def worm_speed(self, speed, state: State | None = None):
        """Speed of the worm for a speed of the full-size engine [rad/s]."""
        engine = self.sheet.locomotive
        rail = speed / engine.scale
        ratio = read.gear_ratio(state or self.state)
        return rail / (engine.driver_diameter.value / 2) * ratio

    def lives(self, pair, share, speed, state: State | None = None) -> Lives:
        """Low, middle and high life of a pair in the size of a state [s]."""
        state = state or self.state
        return _lives(
            self, state is self.state, *pair, self.load(share, state), self.worm_speed(speed, state)
        )[0]

    def reference(self, share, speed) -> float:
        """Life of the pair as it is, in its own size [s]."""
        return self.lives(self.old, share, speed, self.sheet.as_is)[1]

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def speed(self) -> Reach:
        """Speeds of the full-size engine [m/s]; half of its top speed to begin with."""
        top = self.sheet.locomotive.top_speed.value
        return Reach(top / 2, 0.15 * top, 2 * top)

    @cached_property
    def hours(self) -> Reach:
        """Times of running [s]: from nothing to several lives of the pair as it is."""
        life = self.reference(wearing.DUTY, self.speed.start)
        return Reach(float(f"{BEGUN * life / 3600:.1g}") * 3600, 0.0, LONG * life)

    @cached_property
    def decades(self) -> tuple[int, int]:
        """Powers of ten between which all lives lie, over that of the pair as it is."""
        here = wearing.DUTY, self.speed.start
        pairs = [(*pair, grease) for pair in PAIRS for grease in GREASES]
        lives = np.array([self.lives(pair, *here) for pair in (*pairs, self.old, self.planned)])
        ratio = lives / self.reference(*here)
        return min(floor(log10(ratio.min())), 0), max(ceil(log10(ratio.max())), 1)


@lru_cache(maxsize=256)
def _lives(case: Case, planned: bool, first, second, lubrication, force, speed):
    """Low, middle and high life of a pair [s]; and the middle wear rates of both members."""
    state = case.sheet.planned if planned else case.sheet.as_is
    thread = read.worm_of(state)
    bands = np.array(wearing.pair_bands(first, second, lubrication))
    middle = np.sqrt(bands[:, 0] * bands[:, 1])
    low, mean, high = (
        float(wearing.life(state, thread, force, speed, rates))
        for rates in (bands[:, 1], middle, bands[:, 0])
    )
    return (low, mean, high), middle


def rub(case: Case, *, worm_material, gear_material, lubrication, hours, share, speed) -> Rubbing:
    """Wear a pair for some hours under a share of the greatest pull at a full-size speed."""
    force, turning = case.load(share), case.worm_speed(speed)
    lives, rates = _lives(case, True, worm_material, gear_material, lubrication, force, turning)
    reference = case.reference(share, speed)
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
        (worm_material, gear_material, lubrication) == case.old,
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
            over(case.lives((first, second, lubrication), share, speed)) for first, second in PAIRS
        ),
    )
