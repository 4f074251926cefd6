"""Wear of a worm pair: the metals' rate times what the grease leaves of it, drawn apart."""

from dataclasses import dataclass

import numpy as np

from mechkit import tables, wear, worm
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Worm
from mechkit.drive.model.spread import Spread
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.schema import State

#: The backlash at which a mesh is called worn out, as a part of its module: a sixth of the
#: thickness of a tooth; common practice.
OPENING = 0.25
#: Two evenings a month for five years; common practice.
LIFE = 100 * 3600.0  # s
#: Wear rates are known within this factor at best, high over low; common practice.
KNOWN = 10.0
#: On the average an engine pulls this part of what it can; common practice.
DUTY = 0.25
#: And runs at this part of its top speed; common practice.
PACE = 0.5

#: Worm, gear and grease.
Pair = tuple[str, str, str]


def pair_of(state: State) -> Pair:
    """Materials of a state's worm and of the gear under it, and their grease."""
    return state.worm.material, state.gears[0].material, state.mesh.lubrication


def opening(state: State) -> float:
    """Backlash that wear may add before the mesh is called worn out [m]."""
    return OPENING * state.worm.module.value


def metal_bands(worm_material: str, gear_material: str):
    """Wear rates of the worm and of the gear without any grease, each a band [m^3/(N*m)].

    No band is narrower than `KNOWN`, however sure a single table is of itself.
    """
    bands = []
    for member, mate in ((worm_material, gear_material), (gear_material, worm_material)):
        low, high = tables.band("wear_pairs", f"{member} on {mate}", "dry")
        middle, half = (low * high) ** 0.5, max((high / low) ** 0.5, KNOWN**0.5)
        bands.append((middle / half, middle * half))
    return tuple(bands)


def grease_band(worm_material: str, gear_material: str, lubrication: str) -> tuple[float, float]:
    """What a state of the grease leaves of the wear without any, a band [-]."""
    if lubrication == "dry":
        return 1.0, 1.0
    plastic = "acetal" in (worm_material, gear_material)
    name = "with a plastic" if plastic else "metal on metal"
    return tables.band("wear_pairs", name, lubrication)


def rates(pair: Pair, spread: Spread):
    """Wear rates of worm and gear [m^3/(N*m)], drawn.

    The same materials wear alike wherever they run, and one grease is the same for every pair
    and both members: whoever compares two pairs in it sees the materials alone.
    """
    worm_material, gear_material, lubrication = pair
    grease = spread.factor(
        f"what the mesh wears when {lubrication}",
        *grease_band(worm_material, gear_material, lubrication),
    )
    return tuple(
        grease
        * spread.factor(f"wear rate of the {member}, {worm_material} on {gear_material}", *band)
        for member, band in zip(
            ("worm", "gear"), metal_bands(worm_material, gear_material), strict=True
        )
    )


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
        wear.worm_swept_area(
            length=np.minimum(thread.length, 3 * np.pi * thread.module),
            starts=thread.starts,
            **shape,
        ),
        wear.wheel_swept_area(teeth=gear.teeth, face_width=gear.face_width.value / 2, **shape),
    )


def mesh_force(drive: Drive, train: Train, share=DUTY):
    """Tangential force in the worm mesh, pulling a share of what slips the wheels [N]."""
    pull = share * drive.pull_at_slip + drive.rolling_force
    return pull * drive.wheel_diameter / train.axle_gear.pitch_diameter


def worm_speed(drive: Drive, train: Train, rail):
    """Speed of the worm for a speed of the model [rad/s]."""
    return rail / (drive.wheel_diameter / 2) * train.ratio


def life(state: State, thread: Worm, force, speed, rates):
    """Running time until the mesh has opened by what wears it out [s].

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
    return wear.time_to_backlash(
        backlash=opening(state),
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


@dataclass(frozen=True)
class Wear:
    """Lives of the old and of the planned worm pair [s], and of the old one with one thing new.

    ``greased`` has the old materials in the planned grease, ``relined`` the planned materials
    in the old grease, both in the old size.
    """

    before: np.ndarray
    planned: np.ndarray
    greased: np.ndarray
    relined: np.ndarray
    opening: float
    opening_planned: float
    limit: float = LIFE

    @property
    def ratio(self):
        """How many times longer the planned pair lasts [-]."""
        return self.planned / self.before

    @property
    def grease(self):
        """How many times longer the old pair would last in the planned grease [-]."""
        return self.greased / self.before

    @property
    def materials(self):
        """How many times longer the planned materials would last in the old grease [-]."""
        return self.relined / self.before
