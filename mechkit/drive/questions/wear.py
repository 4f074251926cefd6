"""A worm pair that rubs: how deep each flank is worn after some hours, and who lasts longest."""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import ceil, floor, log10

import numpy as np

from mechkit import wear, worm
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.model import read, wearing
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet, State

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
#: Share of its pull that an engine always needs: nothing rolls by itself [-].
LEAST_PULL = 5e-3

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
    ``limit`` [m]; ratios compare them with the pair as it is, in its own size, draw by draw, and
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
    limit: float
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
    def old(self) -> wearing.Pair:
        """Materials of worm and gear as they are, and their grease."""
        return wearing.pair_of(self.sheet.as_is)

    @property
    def planned(self) -> wearing.Pair:
        """Materials of worm and gear as planned, and their grease."""
        return wearing.pair_of(self.sheet.planned)

    @cached_property
    def known(self):
        """The one Knowledge of the sheet: page and panel ask the same draws."""
        return known_of(self.sheet)

    def lives(self, pair: wearing.Pair, share, speed, state: State | None = None):
        """Life of a pair in the size of a state, drawn [s]; the middle comes first."""
        return self.known.life(state or self.state, pair, max(share, LEAST_PULL), speed)

    def reference(self, share, speed):
        """Life of the pair as it is, in its own size, drawn [s]."""
        return self.lives(self.old, share, speed, self.sheet.as_is)

    def ratio(self, pair: wearing.Pair) -> Lives:
        """How many times as long as the pair as it is; pull and speed do not count."""
        return _ratio(self, pair)

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def speed(self) -> Reach:
        """Speeds of the full-size engine [m/s]; half of its top speed to begin with."""
        top = self.sheet.locomotive.top_speed.value
        return Reach(top / 2, 0.15 * top, 2 * top)

    @cached_property
    def hours(self) -> Reach:
        """Times of running [s]: from nothing to several lives of the pair as it is."""
        life = float(self.reference(wearing.DUTY, self.speed.start)[0])
        return Reach(float(f"{BEGUN * life / 3600:.1g}") * 3600, 0.0, LONG * life)

    @cached_property
    def decades(self) -> tuple[int, int]:
        """Powers of ten between which all lives lie, over that of the pair as it is."""
        pairs = [(*pair, grease) for pair in PAIRS for grease in GREASES]
        ratio = np.array([self.ratio(pair) for pair in (*pairs, self.old, self.planned)])
        return min(floor(log10(ratio.min())), 0), max(ceil(log10(ratio.max())), 1)


def ends(drawn) -> Lives:
    """Low end, middle and high end of a drawn number, as the page gives them."""
    low, high = np.percentile(drawn[1:], [2.5, 97.5])
    return float(low), float(drawn[0]), float(high)


@lru_cache(maxsize=256)
def _ratio(case: Case, pair: wearing.Pair) -> Lives:
    at = wearing.DUTY, case.speed.start
    return ends(case.lives(pair, *at) / case.reference(*at))


def rub(case: Case, *, worm_material, gear_material, lubrication, hours, share, speed) -> Rubbing:
    """Wear a pair for some hours under a share of the greatest pull at a full-size speed."""
    pair = worm_material, gear_material, lubrication
    known, share = case.known, max(share, LEAST_PULL)
    life = ends(case.lives(pair, share, speed))
    train, rail = known.train_of(case.state), speed / case.sheet.locomotive.scale
    force = float(wearing.mesh_force(known.before, train, share)[0])
    turning = float(wearing.worm_speed(known.before, train, rail)[0])
    thread, angle = read.worm_of(case.state), case.state.mesh.pressure_angle.value
    slid = (
        hours
        * 3600
        * worm.sliding_speed(
            pitch_diameter=thread.pitch_diameter, speed=turning, lead_angle=thread.lead_angle
        )
    )
    worm_depth, gear_depth = (
        float(
            wear.mesh_wear_depth(
                wear_rate=rate[0],
                force=force / np.cos(angle),
                sliding_distance=slid,
                swept_area=area,
            )
        )
        for rate, area in zip(
            wearing.rates(pair, known.spread), wearing.areas(case.state, thread), strict=True
        )
    )
    module, limit = case.state.worm.module.value, wearing.opening(case.state)
    give = GONE * np.pi * module / 2 * np.cos(angle)
    opened = [hours * 3600 / each * limit for each in life]
    return Rubbing(
        worm_material,
        gear_material,
        lubrication,
        pair == case.old,
        hours,
        worm_depth,
        gear_depth,
        opening=opened[1],
        opening_low=opened[2],
        opening_high=opened[0],
        left=min(1.0, give / (worm_depth + gear_depth)) if hours else 1.0,
        limit=limit,
        life=life,
        ratio=case.ratio(pair),
        ratios=tuple(case.ratio((first, second, lubrication)) for first, second in PAIRS),
    )
