"""A gear pair as it is set: backlash as an off-center gear turns, contact, and an unknown gear."""

from dataclasses import dataclass

import numpy as np

from mechkit import gears, runout
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet

#: Share of a tooth space that a backlash leaves at most, module and teeth having their own errors.
SPACE = 0.99
#: Fewer teeth than these are cut on no gear.
FEWEST = 6.0
#: Of the least center distance at which flanks can touch at all.
JAMMED = 1.0001
#: A reading so far off the nearest standard gear is of none: turning, and a share of the size.
OFF, OFF_SHARE = 0.06e-3, 0.004


@dataclass(frozen=True)
class Case:
    """The last pair of a bench sheet, as planned, and the caliper that reads gears."""

    sheet: BenchSheet

    @property
    def first(self):
        """The gear that drives the axle gear; a single gear stands for both."""
        return self.sheet.planned.gears[-2:][0]

    @property
    def second(self):
        """The axle gear."""
        return self.sheet.planned.gears[-1]

    @property
    def module(self):
        """Module of the pair [m], from the axle gear."""
        return self.second.outside_diameter.value / (self.second.teeth + 2)

    @property
    def caliper(self):
        """Plus-minus of an outside diameter: caliper and turning together [m]."""
        return float(np.hypot(self.sheet.instruments.caliper.value, 0.03e-3))

    @property
    def alone(self) -> bool:
        """True where the worm drives the axle gear itself, which is then shown with its twin."""
        return len(self.sheet.planned.gears) == 1

    @property
    def pressure_angle(self) -> float:
        """Of the planned mesh [rad]."""
        return self.sheet.planned.mesh.pressure_angle.value

    @property
    def nominal(self) -> float:
        """Center distance without backlash [m]."""
        return self.module * (self.first.teeth + self.second.teeth) / 2

    def distance(self, pressure_angle):
        """Center distance at which the pair stands now, from the backlash as it is [m]."""
        backlash = self.sheet.as_is.mesh.backlash.value
        return float(
            gears.center_distance_for_backlash(
                module=self.module,
                teeth_1=self.first.teeth,
                teeth_2=self.second.teeth,
                pressure_angle=pressure_angle,
                backlash=min(backlash, SPACE * np.pi * self.module / 2),
            )
        )

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def distances(self) -> Reach:
        """Center distances, from jammed to hardly touching [m]."""
        low, high = self.nominal - 0.125 * self.module, self.nominal + 0.75 * self.module
        return Reach(self.distance(self.pressure_angle), low, high)

    @property
    def runouts(self) -> Reach:
        """Total runouts of the axle gear; to begin with as it is [m]."""
        old = self.sheet.as_is.gears[-1].total_runout.value
        return Reach(old, 0.0, max(0.75 * self.module, 2 * old))

    @property
    def teeth(self) -> Reach:
        """Teeth that may be counted on the gear on the caliper [-]."""
        count = float(self.second.teeth)
        return Reach(count, min(FEWEST, count), 2 * count)

    @property
    def outsides(self) -> Reach:
        """What the caliper may read over the tooth tops [m]."""
        return Reach.times(self.second.outside_diameter.value, 0.25, 2.0)


@dataclass(frozen=True)
class Meshing:
    """One setting of the mesh, one turn of the wheel, one gear on the caliper; all in SI."""

    pressure_angle: float
    distance: float
    eccentricity: float
    turn: float
    near: float
    working_angle: float
    backlash: float
    mean: float
    tightest: float
    loosest: float
    contact_ratio: float  # least over the turn, at the widest place
    approach: float
    recess: float
    binding: float
    ripple: float
    undercut: float
    candidates: tuple[gears.Candidate, ...]
    teeth: float
    outside: float

    @property
    def binds(self):
        """True where the mesh binds at this very turn."""
        return self.backlash < 0

    @property
    def standard(self):
        """True where the reading may be of a gear of the standard series."""
        return abs(self.candidates[0].deviation) <= OFF + OFF_SHARE * self.outside


def mesh(case: Case, *, teeth, outside, distance, total_runout, turn, pressure_angle) -> Meshing:
    """Set the pair at a center distance, with an off-center axle gear turned by an angle.

    At ``turn`` = 0 the axle gear's center stands nearest to the other gear.
    """
    pair = {
        "module": case.module,
        "teeth_1": float(case.first.teeth),
        "teeth_2": float(case.second.teeth),
        "pressure_angle": pressure_angle,
    }
    off = float(runout.eccentricity(total_runout=total_runout))
    near = float(np.hypot(off * np.sin(turn), distance - off * np.cos(turn)))
    base = gears.base_diameter(
        module=case.module, teeth=case.second.teeth, pressure_angle=pressure_angle
    )
    # Nearer than their base circles they are jammed whatever the distance.
    least = JAMMED * float(base) * (1 + case.first.teeth / case.second.teeth) / 2
    near = max(near, least)
    places = np.maximum([near, distance, distance - off, distance + off], least)
    now, mean, tight, loose = gears.backlash(center_distance=places, **pair)
    approach, recess = gears.path_of_contact(addendum=case.module, center_distance=near, **pair)
    return Meshing(
        pressure_angle=pressure_angle,
        distance=distance,
        eccentricity=off,
        turn=turn,
        near=near,
        working_angle=float(gears.working_pressure_angle(center_distance=near, **pair)),
        backlash=float(now),
        mean=float(mean),
        tightest=float(tight),
        loosest=float(loose),
        contact_ratio=float(
            gears.contact_ratio(addendum=case.module, center_distance=places[3], **pair)
        ),
        approach=float(approach),
        recess=float(recess),
        binding=float(
            runout.binding_runout(backlash=max(float(mean), 0.0), pressure_angle=pressure_angle)
        ),
        ripple=float(runout.speed_ripple(eccentricity=off, base_diameter=base)),
        undercut=float(gears.minimum_teeth(pressure_angle=pressure_angle)),
        candidates=gears.identify(outside_diameter=outside, teeth=teeth, uncertainty=case.caliper),
        teeth=teeth,
        outside=outside,
    )
