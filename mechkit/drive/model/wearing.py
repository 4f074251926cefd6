"""Wear of the worm pair, as it is and as planned, under the same load and the same draws."""

from dataclasses import dataclass

import numpy as np

from mechkit import mesh_wear, tables, worm
from mechkit.drive.model.parts import Worm
from mechkit.drive.sheet.schema import State

#: The backlash that wear may add before the mesh is called worn out; common practice.
OPENING = 0.10e-3  # m
#: Two evenings a month for five years; common practice.
LIFE = 100 * 3600.0  # s
#: Wear rates are known within this factor at best, high over low; common practice.
KNOWN = 10.0
#: On the average an engine pulls this part of what it can; common practice.
DUTY = 0.25


def pair_bands(worm_material: str, gear_material: str, lubrication: str):
    """Wear rates of the worm and of the gear, each a band [m^3/(N*m)].

    ``lubrication`` is dry, starved or greased.  No band is narrower than `KNOWN`, however
    sure a single table is of itself.
    """
    bands = []
    for member, mate in ((worm_material, gear_material), (gear_material, worm_material)):
        low, high = tables.band("wear_pairs", f"{member} on {mate}", lubrication)
        middle, half = (low * high) ** 0.5, max((high / low) ** 0.5, KNOWN**0.5)
        bands.append((middle / half, middle * half))
    return tuple(bands)


def areas(state: State, thread: Worm):
    """Flank areas that the contact sweeps, of the worm and of the gear [m^2].

    The worm rubs over three threads at most; a straight-cut gear touches over half its face.
    """
    gear = state.gears[0]
    shape = {
        "lead_angle": thread.lead_angle,
        "pressure_angle": state.mesh.pressure_angle.value,
        "working_depth": 2 * thread.module,
    }
    return (
        mesh_wear.worm_swept_area(
            length=np.minimum(thread.length, 3 * np.pi * thread.module),
            starts=thread.starts,
            **shape,
        ),
        mesh_wear.wheel_swept_area(teeth=gear.teeth, face_width=gear.face_width.value / 2, **shape),
    )


def life(state: State, thread: Worm, force, speed, rates):
    """Running time until the mesh has opened by `OPENING` [s].

    Parameters
    ----------
    force : float or array
        Tangential force at the gear [N]
    speed : float or array
        Speed of the worm [rad/s]
    rates : pair of floats or arrays
        Wear rates of worm and gear [m^3/(N*m)]
    """
    angle = state.mesh.pressure_angle.value
    worm_area, gear_area = areas(state, thread)
    return mesh_wear.time_to_backlash(
        backlash=OPENING,
        wear_rate_1=rates[0],
        area_1=worm_area,
        wear_rate_2=rates[1],
        area_2=gear_area,
        force=force / np.cos(angle),
        sliding_speed=worm.sliding_speed(
            pitch_diameter=thread.pitch_diameter, speed=speed, lead_angle=thread.lead_angle
        ),
        lead_angle=thread.lead_angle,
        pressure_angle=angle,
    )


def on_duty(state: State, thread: Worm, axle_pitch, drive, rolling_force, rail, rates):
    """Running time until worn [s], at a speed of the model, pulling `DUTY` of what it can.

    Parameters
    ----------
    axle_pitch : float
        Pitch diameter of the axle gear [m]
    drive : Drive
        Whose wheels, adhesion and ratio count
    rolling_force : float or array
        Pull that keeps engine and tender rolling [N]
    rail : float
        Speed of the model [m/s]
    rates : pair of floats or arrays
        Wear rates of worm and gear [m^3/(N*m)]
    """
    pull = DUTY * drive.pull_at_slip + rolling_force
    force = pull * drive.wheel_diameter / axle_pitch
    return life(state, thread, force, drive.motor_speed(rail), rates)


@dataclass(frozen=True)
class Wear:
    """Lives of the old and of the planned worm pair [s], their ratio, and what is asked."""

    before: np.ndarray
    planned: np.ndarray
    limit: float = LIFE
    opening: float = OPENING

    @property
    def ratio(self):
        """How many times longer the planned pair lasts [-]."""
        return self.planned / self.before
