"""Knurls as polygons: areas and overlaps (shapely), balances by search (scipy)."""

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from shapely import LineString, Polygon, box
from shapely.affinity import translate

from tests.independent import fem, surface

_FAR = 1e3  # pitches; the metal below


def _wheel(angle, tip):
    """Three wedges of the knurling wheel with their points at a level, in pitches."""
    half = np.tan(angle / 2)
    wedge = Polygon([(0, 0), (-10 * half, 10), (10 * half, 10)])
    return [translate(wedge, at, tip) for at in (-1, 0, 1)]


def _gap(angle, tip, top):
    """Metal of one pitch between the wheel's wedges, up to a level."""
    metal = box(-0.5, -_FAR, 0.5, top)
    for wedge in _wheel(angle, tip):
        metal = metal.difference(wedge)
    return metal


def raised_height(*, tooth_depth, knurl_pitch, crest_angle):
    """Level at which the metal between the wedges is as much as before [m]."""
    depth = tooth_depth / knurl_pitch

    def gained(height):
        return _gap(crest_angle, height - depth, height).area - _FAR

    return knurl_pitch * brentq(gained, 0.0, depth, xtol=1e-12)


def sharp_height(*, knurl_pitch, crest_angle):
    """The same for the depth at which nothing of the crest is flat any more [m]."""

    def flat(depth):
        cut = LineString([(-0.5, 0), (0.5, 0)])
        for wedge in _wheel(crest_angle, -depth):
            cut = cut.difference(wedge)
        return cut.length - 1e-6

    depth = brentq(flat, 1e-3, 5.0, xtol=1e-9) * knurl_pitch
    return raised_height(tooth_depth=depth, knurl_pitch=knurl_pitch, crest_angle=crest_angle)


def bearing_share(*, bite, knurl_pitch, crest_angle):
    """Length of the bore's line inside crests that stand out of it, by the whole [-]."""
    half = np.tan(crest_angle / 2)
    crest = Polygon([(0, bite), (-half * 2 * bite, -bite), (half * 2 * bite, -bite)])
    line = LineString([(-2 * knurl_pitch, 0), (2 * knurl_pitch, 0)])
    return line.intersection(crest).length / knurl_pitch


def crest_shear_torque(*, bite, knurl_pitch, crest_angle, shear_strength, diameter, length):
    """A shell's friction torque at the stress that its share of the bore stands [N*m]."""
    share = bearing_share(bite=bite, knurl_pitch=knurl_pitch, crest_angle=crest_angle)
    return surface.slip_torque(
        pressure=shear_strength * share, diameter=diameter, length=length, friction=1.0
    )


def knurl_bite(*, pressure, knurl_pitch, crest_angle, hardness):
    """Depth at which the overlap carries the pressure, by search [m]."""

    def lacks(bite):
        share = bearing_share(bite=bite, knurl_pitch=knurl_pitch, crest_angle=crest_angle)
        return hardness * share - pressure

    return brentq(lacks, 1e-12, knurl_pitch, xtol=1e-15)


def knurl_interference(*, pressure, knurl_pitch, crest_angle, hardness, **joint):
    """What finite elements stretch under the pressure, and the bite on both sides [m]."""
    bite = knurl_bite(
        pressure=pressure, knurl_pitch=knurl_pitch, crest_angle=crest_angle, hardness=hardness
    )
    per_meter = fem.interference_pressure(diametral_interference=1e-6, **joint) / 1e-6
    return pressure / per_meter + 2 * bite


def knurl_pressure(*, diametral_interference, **joint):
    """Pressure whose stretch and bite are the interference, by search [Pa]."""
    return brentq(
        lambda pressure: knurl_interference(pressure=pressure, **joint) - diametral_interference,
        1e3, 0.99 * joint["hardness"], xtol=1.0,
    )  # fmt: skip


def knurl_window(*, torque, length, friction, yield_strength, **joint):
    """Pressures from a shell's facets and from finite elements; what they stretch and bite [m]."""
    size = {"diameter": joint["diameter"], "hub_outer": joint["hub_outer"]}
    grip = surface.slip_torque(
        pressure=1.0, diameter=joint["diameter"], length=length, friction=friction
    )
    stress = fem.hub_von_mises_stress(pressure=1e6, **size) / 1e6
    pressures = torque / grip, yield_strength / stress
    return tuple(knurl_interference(pressure=pressure, **joint) for pressure in pressures)


def knurl_eccentricity(*, raised_height, uneven_share):
    """Where the energy of 60 crests as springs is least; heights in units of their mean [m]."""
    turn = np.arange(60) * np.pi / 30
    height = 1 + uneven_share / 2 * np.cos(turn)

    def energy(off):
        return np.sum(np.clip(2 + height - off * np.cos(turn), 0, None) ** 2)

    return raised_height * minimize_scalar(energy, bounds=(-1, 2), method="bounded",
                                           options={"xatol": 1e-10}).x  # fmt: skip


def spoiling_height(*, eccentricity, uneven_share):
    """Height at which that is the allowed one, by search [m]."""

    def over(height):
        return knurl_eccentricity(raised_height=height, uneven_share=uneven_share) - eccentricity

    return brentq(over, 0.0, 1e-2, xtol=1e-12)
