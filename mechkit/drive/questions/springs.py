"""How the drivers stand on uneven rail: held rigid, on springs, or on equalizing beams."""

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from mechkit import equalizing, spring_stock, springs, suspension, tables
from mechkit.drive.decisions.findings import LEAST_SHARE
from mechkit.drive.model.parts import Material
from mechkit.drive.model.suspension import RIGID_RATE
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.names import STANDARD_GRAVITY

KINDS = ("rigid", "sprung", "equalized")
#: The worst of ten places is 1.88 times the root mean square of normal unevenness, on average.
WORST_OF_TEN = 1.88
#: Places on random rail; a share of 400 places is sure to 5 % or better.
PLACES = 400
#: Springs where a sheet has none yet: sizes over the drivers' diameter, and coils that work;
#: common practice.
SIZES = {"mean_diameter": 0.11, "preload": 0.037, "travel": 0.0494, "free_length": 0.26}
COILS = 5.0
#: Coils at both ends that are closed and do no work.
CLOSED = 2.0
#: Joints worth trying, over the drivers' diameter.
JOINT = 0.031
#: A frame stands on its axles while its weight lies so far inside of the outer ones, of their
#: distance [-].
INSIDE = 0.01


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
    free_length: float
    solid: float
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
    def positions(self):
        """Driven axles behind the first [m]."""
        return np.array([at.value for at in self.sheet.locomotive.driver_axles])

    @cached_property
    def frame(self):
        """Keyword arguments of the frame for the handbook."""
        engine = self.sheet.locomotive
        edge = INSIDE * np.ptp(self.positions)
        ends = self.positions[0] + edge, self.positions[-1] - edge
        return {
            "positions": self.positions,
            "mass": engine.weight_on_drivers.value,
            "center_of_gravity": float(np.clip(engine.center_of_gravity.value, *ends)),
        }

    @property
    def outside(self) -> float:
        """How far the weight was read beyond where the frame can stand, at the rear positive [m]."""
        return self.sheet.locomotive.center_of_gravity.value - self.frame["center_of_gravity"]

    @property
    def weight(self):
        """Weight on the drivers [N]."""
        return self.frame["mass"] * STANDARD_GRAVITY

    @property
    def equal(self):
        """An equal share for each axle [N]."""
        return self.weight / len(self.positions)

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
        each = self.equal / pressed / self.sheet.planned.springs.springs_per_axle
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


@cache
def _tabled():
    """The thinnest and the thickest music wire whose strength is tabled [m]."""
    named = [name for name in tables.names("wire") if name.startswith("music wire")]
    sizes = [tables.band("wire", name, "diameter")[1] for name in named]
    return min(sizes), max(sizes)


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
    total = active_coils + CLOSED
    # wire that is thinner than the thinnest in the table is no weaker
    tabled = float(np.clip(wire_diameter, *_tabled()))
    strength = spring_stock.music_wire_strength(wire_diameter=tabled)
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
        free_length=case.given("free_length"),
        solid=float(springs.solid_length(wire_diameter=wire_diameter, total_coils=total)),
        unevenness=unevenness,
        contact=case.contact(unevenness, float(rate), preload),
    )
