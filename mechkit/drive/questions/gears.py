"""A gear pair as it is set: backlash as an off-center gear turns, contact, and an unknown gear."""

from dataclasses import dataclass

import numpy as np

from mechkit import gauging, gears, runout
from mechkit.drive.sheet.schema import BenchSheet


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

    def distance(self, pressure_angle):
        """Center distance at which the pair stands now, from the backlash as it is [m]."""
        return float(
            gears.center_distance_for_backlash(
                module=self.module,
                teeth_1=self.first.teeth,
                teeth_2=self.second.teeth,
                pressure_angle=pressure_angle,
                backlash=self.sheet.as_is.mesh.backlash.value,
            )
        )


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
    candidates: tuple[gauging.Candidate, ...]
    teeth: float
    outside: float

    @property
    def binds(self):
        """True where the mesh binds at this very turn."""
        return self.backlash < 0


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
    places = np.array([near, distance, distance - off, distance + off])
    now, mean, tight, loose = gears.backlash(center_distance=places, **pair)
    approach, recess = gears.path_of_contact(addendum=case.module, center_distance=near, **pair)
    base = gears.base_diameter(
        module=case.module, teeth=case.second.teeth, pressure_angle=pressure_angle
    )
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
            gears.contact_ratio(addendum=case.module, center_distance=distance + off, **pair)
        ),
        approach=float(approach),
        recess=float(recess),
        binding=float(
            runout.binding_runout(backlash=max(float(mean), 0.0), pressure_angle=pressure_angle)
        ),
        ripple=float(runout.speed_ripple(eccentricity=off, base_diameter=base)),
        undercut=float(gears.minimum_teeth(pressure_angle=pressure_angle)),
        candidates=gauging.identify(
            outside_diameter=outside, teeth=teeth, uncertainty=case.caliper
        ),
        teeth=teeth,
        outside=outside,
    )
