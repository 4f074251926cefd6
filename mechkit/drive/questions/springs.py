"""How the drivers stand on uneven rail: held rigid, on springs, or on equalizing beams."""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from mechkit import suspension
from mechkit.drive.decisions.findings import LEAST_SHARE
from mechkit.drive.model.parts import Material
from mechkit.drive.model.suspension import RIGID_RATE, Suspension, of
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet

KINDS = ("rigid", "sprung", "equalized")
#: The worst of ten places is 1.88 times the root mean square of normal unevenness, on average.
WORST_OF_TEN = 1.88
#: Places on random rail; a share of 400 places is sure to 5 % or better.
PLACES = 400
#: Springs where a sheet has none yet: sizes over the drivers' diameter, and coils that work;
#: common practice.
SIZES = {"mean_diameter": 0.11, "preload": 0.037, "travel": 0.0494, "free_length": 0.26}
COILS = 5.0
#: Joints worth trying, over the drivers' diameter.
JOINT = 0.031


@dataclass(frozen=True)
class Stand:
    """Drivers on one joint.

    Loads [N], rises of the axles above their lower stops [m] and gaps under wheels that hang
    [m], one an axle; so too the height over the lower stop that each axle takes on level rail,
    between its stops (``ride``) and without them (``sits``).  ``frame`` is the height of the frame where an axle at its lower stop
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
    sits: np.ndarray
    ride: np.ndarray
    spare: float
    travel: float
    free_length: float
    solid: float
    unevenness: float
    contact: dict[str, float]

    @property
    def lifted(self):
        """Numbers of the axles whose wheels hang, from 1."""
        return [int(n) + 1 for n in np.flatnonzero(self.gaps > 0)]

    @property
    def held_down(self):
        """Numbers of the axles that their preload holds on the lower stop on level rail, from 1."""
        return [int(n) + 1 for n in np.flatnonzero(self.sits <= 0)]

    @property
    def sunk(self):
        """Numbers of the axles on their upper stop on level rail, from 1."""
        return [int(n) + 1 for n in np.flatnonzero(self.sits >= self.travel)]

    @property
    def touches(self):
        """True where the coils touch before the axle is at its upper stop."""
        return self.free_length - self.preload - self.travel < self.solid - 1e-9

    @property
    def exists(self):
        """False for a spring that is longer closed than free."""
        return self.solid < self.free_length


@dataclass(frozen=True)
class Case:
    """What stands: axles, weight, rail and slot of an engine."""

    sheet: BenchSheet

    @cached_property
    def bare(self) -> Suspension:
        """The drivers as planned, as read."""
        return of(self.sheet.planned.springs, self.sheet)

    def on(self, kind: str, **sizes: Any) -> Suspension:
        """The drivers held rigid or on springs of some sizes."""
        sizes |= {name: self.given(name) for name in ("travel", "free_length")}
        return replace(self.bare, kind=kind, **sizes)

    @property
    def positions(self):
        """Driven axles behind the first [m]."""
        return self.bare.positions

    @property
    def frame(self):
        """Keyword arguments of the frame for the handbook."""
        return self.bare.frame

    @property
    def outside(self) -> float:
        """How far the weight was read beyond where the frame can stand, at the rear positive [m]."""
        return float(self.bare.read_center - self.bare.center_of_gravity)

    @property
    def weight(self):
        """Weight on the drivers [N]."""
        return self.equal * len(self.positions)

    @property
    def equal(self):
        """An equal share for each axle [N]."""
        return self.bare.equal

    def given(self, name) -> float:
        """A size of the planned springs, or the usual one where none are planned."""
        table = self.sheet.planned.springs
        found = getattr(table, name)
        return found.value if found is not None and table.kind == "sprung" else self.usual[name]

    @cached_property
    def usual(self) -> dict[str, float]:
        """Springs for an engine of this size, of the wire that lets it ride at mid-slot."""
        wheel = self.sheet.locomotive.driver_diameter.value
        sizes = {name: float(f"{share * wheel:.2g}") for name, share in SIZES.items()}
        pressed = sizes["preload"] + sizes["travel"] / 2
        each = (
            (self.equal - self.bare.unsprung)
            / pressed
            / self.sheet.planned.springs.springs_per_axle
        )
        stiffness = 8 * sizes["mean_diameter"] ** 3 * COILS * each / Material("steel").shear_modulus
        wire = min(stiffness**0.25, sizes["mean_diameter"] / 3)
        return sizes | {"active_coils": COILS, "wire_diameter": float(f"{wire:.2g}")}

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def apart(self) -> float:
        """Between every wire and every coil that may be tried [m]."""
        return (self.given("wire_diameter") + self.given("mean_diameter")) / 2

    @property
    def wires(self) -> Reach:
        """Wires, thinner than every coil [m]."""
        return Reach.times(self.given("wire_diameter"), 0.6, 2.0, most=0.98 * self.apart)

    @property
    def means(self) -> Reach:
        """Mean diameters of the coil [m]."""
        return Reach.times(self.given("mean_diameter"), 0.66, 1.7, least=1.02 * self.apart)

    @property
    def coils(self) -> Reach:
        """Active coils [-]."""
        start = self.given("active_coils")
        return Reach.times(start, 0.6, 2.4, least=min(0.5, start))

    @property
    def preloads(self) -> Reach:
        """How far a spring is pressed in at the lower stop [m]."""
        return Reach(self.given("preload"), 0.0, 2.5 * self.given("travel"))

    @property
    def joints(self) -> Reach:
        """Joints and dips [m]."""
        rough = self.sheet.track.rail_unevenness.value
        most = max(JOINT * self.sheet.locomotive.driver_diameter.value, rough)
        return Reach(rough, -most, most)

    @property
    def unevennesses(self) -> Reach:
        """The worst of ten places of the rail [m]."""
        return Reach(self.sheet.track.rail_unevenness.value, 0.0, 2 * self.joints.high)

    @cached_property
    def groups(self):
        """The beams: the first axles and the rest, split where the loads come out most even."""
        count = len(self.positions)
        center, found = self.frame["center_of_gravity"], []
        for first in range(1, count):
            groups = np.where(np.arange(count) < first, 1, 2)
            ends = self.positions[groups == 1].mean(), self.positions[groups == 2].mean()
            if ends[0] < center < ends[1]:
                loads = suspension.equalized_loads(groups=groups, **self.frame)
                found.append((loads.min(), first, groups))
        return max(found, key=lambda each: each[:2])[2]

    @cached_property
    def equalized_loads(self):
        """Loads on beams, whatever the rail [N]."""
        return suspension.equalized_loads(groups=self.groups, **self.frame)

    @cached_property
    def kept(self):
        """Shares of random rail that are worked out already, by unevenness, rate and preload."""
        return {}

    def contact(self, unevenness, sprung: Suspension):
        """Share of random rail where each axle keeps a quarter of an equal load, by kind."""
        rigid = self.on("rigid")
        keys = (unevenness,), (unevenness, sprung.rate, sprung.preload)
        for key, stands in zip(keys, (rigid, sprung), strict=True):
            if key not in self.kept:
                self.kept[key] = self._share(unevenness, stands)
        on_beams = float(self.equalized_loads.min() >= LEAST_SHARE * self.equal)
        shares = *(self.kept[key] for key in keys), on_beams
        return dict(zip(KINDS, shares, strict=True))

    def _share(self, unevenness, stands: Suspension):
        """The same places each time."""
        draw = np.random.default_rng(1).standard_normal((PLACES, len(self.positions)))
        loads = stands.loads(unevenness / WORST_OF_TEN * draw)
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


def _sprung(case, stands: Suspension, heights):
    """Loads, rises, gaps and frame line on springs in slots."""
    loads, rises = stands.loads(heights), stands.rises(heights)
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
    sprung = case.on(
        "sprung",
        wire_diameter=wire_diameter,
        mean_diameter=mean_diameter,
        active_coils=active_coils,
        preload=preload,
    )
    heights = np.where(np.arange(len(case.positions)) == axle - 1, joint, 0.0)
    rigid_loads, rigid_gaps, rigid_frame = _held(case, heights)
    if kind == "rigid":
        loads, gaps, frame = rigid_loads, rigid_gaps, rigid_frame
        rises = np.zeros_like(loads)
    elif kind == "sprung":
        loads, rises, gaps, frame = _sprung(case, sprung, heights)
    else:
        loads, gaps = case.equalized_loads, np.zeros(len(heights))
        rises, frame = _beams(case, heights)
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
        rate=float(sprung.rate),
        stress=float(sprung.stress),
        allowed=float(sprung.allowed_stress),
        sits=sprung.free_ride,
        ride=sprung.ride,
        spare=float(sprung.spare),
        travel=case.given("travel"),
        free_length=case.given("free_length"),
        solid=float(sprung.solid),
        unevenness=unevenness,
        contact=case.contact(unevenness, sprung),
    )
