"""How the drivers stand on uneven rail: held rigid, on springs, or on equalizing beams."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mechkit import equalizing, spring_stock, springs, suspension
from mechkit.drive.decisions.findings import LEAST_SHARE
from mechkit.drive.model.parts import Material
from mechkit.drive.model.suspension import RIGID_RATE
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.names import STANDARD_GRAVITY

KINDS = ("rigid", "sprung", "equalized")
#: The worst of ten places is 1.88 times the root mean square of normal unevenness, on average.
WORST_OF_TEN = 1.88
#: Places on random rail; a share of 400 places is sure to 5 % or better.
PLACES = 400
#: Springs where a sheet has none yet [m], coils [-]; sizes in use at 1:87, common practice.
USUAL = {
    "wire_diameter": 0.20e-3,
    "mean_diameter": 1.8e-3,
    "active_coils": 5.0,
    "preload": 0.6e-3,
    "travel": 0.8e-3,
    "free_length": 4.2e-3,
}


@dataclass(frozen=True)
class Stand:
    """Drivers on one joint.

    Loads [N], rises of the axles above their lower stops [m] and gaps under wheels that hang
    [m], one an axle; ``frame`` is the height of the frame where an axle at its lower stop
    would touch: height at the first axle [m] and slope [-].  Shares are of an equal load.
    """

    kind: str
    axle: int
    joint: float
    heights: np.ndarray
    loads: np.ndarray
    rises: np.ndarray
    gaps: np.ndarray
    frame: tuple[float, float]
    rigid_loads: np.ndarray
    rigid_gaps: np.ndarray
    share: float
    rigid_share: float
    wire_diameter: float
    mean_diameter: float
    active_coils: float
    preload: float
    rate: float
    stress: float
    allowed: float
    sits: float
    travel: float
    unevenness: float
    contact: dict[str, float]

    @property
    def lifted(self):
        """Numbers of the axles whose wheels hang, from 1."""
        return [int(n) + 1 for n in np.flatnonzero(self.gaps > 0)]

    @property
    def spare(self):
        """Travel on the shorter side of the level ride [m]."""
        return min(self.sits, self.travel - self.sits)


@dataclass(frozen=True)
class Case:
    """What stands: axles, weight, rail and slot of an engine."""

    sheet: BenchSheet

    @cached_property
    def positions(self):
        """Driven axles behind the first [m]."""
        return np.array([at.value for at in self.sheet.locomotive.driver_axles])

    @cached_property
    def frame(self):
        """Keyword arguments of the frame for the handbook."""
        engine = self.sheet.locomotive
        return {
            "positions": self.positions,
            "mass": engine.weight_on_drivers.value,
            "center_of_gravity": engine.center_of_gravity.value,
        }

    @property
    def weight(self):
        """Weight on the drivers [N]."""
        return self.frame["mass"] * STANDARD_GRAVITY

    @property
    def equal(self):
        """An equal share for each axle [N]."""
        return self.weight / len(self.positions)

    def given(self, name):
        """A size of the planned springs, or the usual one where none are planned."""
        table = self.sheet.planned.springs
        found = getattr(table, name)
        return found.value if found is not None and table.kind == "sprung" else USUAL[name]

    @cached_property
    def groups(self):
        """The beams: the first axles and the rest, split where the loads come out most even."""
        count = len(self.positions)
        center, found = self.frame["center_of_gravity"], []
        for first in range(1, count):
            groups = np.where(np.arange(count) < first, 1, 2)
            ends = self.positions[groups == 1].mean(), self.positions[groups == 2].mean()
            if ends[0] < center < ends[1]:
                loads = equalizing.equalized_loads(groups=groups, **self.frame)
                found.append((loads.min(), first, groups))
        return max(found, key=lambda each: each[:2])[2]

    @cached_property
    def equalized_loads(self):
        """Loads on beams, whatever the rail [N]."""
        return equalizing.equalized_loads(groups=self.groups, **self.frame)

    @cached_property
    def kept(self):
        """Shares of random rail that are worked out already, by unevenness, rate and preload."""
        return {}

    def contact(self, unevenness, rate, preload):
        """Share of random rail where each axle keeps a quarter of an equal load, by kind."""
        for key in ((unevenness,), (unevenness, rate, preload)):
            if key not in self.kept:
                self.kept[key] = self._share(*key)
        on_beams = float(self.equalized_loads.min() >= LEAST_SHARE * self.equal)
        shares = self.kept[unevenness,], self.kept[unevenness, rate, preload], on_beams
        return dict(zip(KINDS, shares, strict=True))

    def _share(self, unevenness, rate=None, preload=0.0):
        """Rigid without a rate, else on springs; the same places each time."""
        draw = np.random.default_rng(1).standard_normal((PLACES, len(self.positions)))
        heights = unevenness / WORST_OF_TEN * draw
        if rate is None:
            loads = suspension.axle_loads(rates=RIGID_RATE, rail_heights=heights, **self.frame)
        else:
            loads = suspension.axle_loads_with_stops(**_slots(self, rate, preload, heights))
        return float((loads.min(-1) >= LEAST_SHARE * self.equal).mean())


def _line(positions, heights):
    """Height at the first axle and slope of the straight line nearest to points."""
    slope, start = np.polyfit(positions, heights, 1)
    return float(start), float(slope)


def _held(case, heights):
    """Loads, gaps and frame line without springs."""
    pressed = suspension.spring_compressions(rates=RIGID_RATE, rail_heights=heights, **case.frame)
    loads = RIGID_RATE * np.maximum(pressed, 0.0)
    return loads, np.maximum(-pressed, 0.0), _line(case.positions, heights - pressed)


def _slots(case, rate, preload, heights):
    """Keyword arguments of axles in their slots, counted from the lower stop."""
    return {
        "rates": rate,
        "preloads": rate * preload,
        "travel_up": case.given("travel"),
        "travel_down": 0.0,
        "rail_heights": heights,
        **case.frame,
    }


def _sprung(case, rate, preload, heights):
    """Loads, rises, gaps and frame line on springs in slots."""
    where = _slots(case, rate, preload, heights)
    loads = suspension.axle_loads_with_stops(**where)
    rises = suspension.axle_rises_with_stops(**where)
    down = loads > 0
    start, slope = _line(case.positions[down], (heights - rises)[down])
    air = start + slope * case.positions + rises - heights
    return loads, rises, np.where(down, 0.0, np.maximum(air, 0.0)), (start, slope)


def _beams(case, heights):
    """Rises and frame line on beams, each group's pivot at mid-slot."""
    groups = [case.groups == group for group in (1, 2)]
    start, slope = _line(*(np.array([each[g].mean() for g in groups]) for each in (case.positions, heights)))  # fmt: skip
    middle = case.given("travel") / 2
    start -= middle
    return heights - start - slope * case.positions, (start, slope)


def stand(case: Case, *, kind, axle, joint, wire_diameter, mean_diameter, active_coils, preload,
          unevenness) -> Stand:  # fmt: skip
    """Put the drivers on a joint of a height [m] under one axle, counted from 1."""
    table = case.sheet.planned.springs
    each = springs.coil_spring_rate(
        wire_diameter=wire_diameter,
        mean_diameter=mean_diameter,
        active_coils=active_coils,
        shear_modulus=Material("steel").shear_modulus,
    )
    rate, travel = table.springs_per_axle * each, case.given("travel")
    heights = np.where(np.arange(len(case.positions)) == axle - 1, joint, 0.0)
    rigid_loads, rigid_gaps, rigid_frame = _held(case, heights)
    if kind == "rigid":
        loads, gaps, frame = rigid_loads, rigid_gaps, rigid_frame
        rises = np.zeros_like(loads)
    elif kind == "sprung":
        loads, rises, gaps, frame = _sprung(case, rate, preload, heights)
    else:
        loads, gaps = case.equalized_loads, np.zeros(len(heights))
        rises, frame = _beams(case, heights)
    strength = spring_stock.music_wire_strength(wire_diameter=wire_diameter)
    return Stand(
        kind=kind,
        axle=axle,
        joint=joint,
        heights=heights,
        loads=loads,
        rises=rises,
        gaps=gaps,
        frame=frame,
        rigid_loads=rigid_loads,
        rigid_gaps=rigid_gaps,
        share=float(loads.min()) / case.equal,
        rigid_share=float(rigid_loads.min()) / case.equal,
        wire_diameter=wire_diameter,
        mean_diameter=mean_diameter,
        active_coils=active_coils,
        preload=preload,
        rate=float(rate),
        stress=float(
            springs.coil_shear_stress(
                force=each * (preload + travel),
                wire_diameter=wire_diameter,
                mean_diameter=mean_diameter,
            )
        ),
        allowed=float(spring_stock.allowable_shear_stress(tensile_strength=strength)),
        sits=float(springs.deflection(force=case.equal, rate=rate)) - preload,
        travel=travel,
        unevenness=unevenness,
        contact=case.contact(unevenness, float(rate), preload),
    )
