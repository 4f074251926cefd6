"""Wear of a worm mesh: what slides on what, hours to a backlash, which member goes first.

========================== ==========================================================
worm_sliding_distance      sliding at a worm mesh for some turns
worm_swept_area            flank of the worm that the contact sweeps
wheel_swept_area           flanks of the wheel that the contact sweeps
mesh_wear_depth            depth worn off a member of a mesh
time_to_backlash           time until wear has opened a backlash
========================== ==========================================================

Worm and wheel slide the same distance under the same force, but each spreads its loss over its
own flank: a worm thread is short and always in mesh, a wheel tooth rests most of the turn.
"""

from math import pi

import numpy as np

from mechkit import check


def worm_sliding_distance(*, pitch_diameter, lead_angle, turns):
    """Distance that the flanks of a worm mesh slide on each other.

    Parameters
    ----------
    pitch_diameter : float or array
        Pitch diameter of the worm [m], greater than 0
    lead_angle : float or array
        Lead angle of the worm [rad], 0 < lead_angle < pi/2
    turns : float or array
        Turns of the worm [-], at least 0

    Returns
    -------
    sliding_distance : float or array
        Sliding distance [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Same for worm and wheel; the sliding up and down the tooth is left out, being small.
    Source: helix unrolled on the pitch cylinder.

    Examples
    --------
    >>> turn = worm_sliding_distance(pitch_diameter=0.006, lead_angle=0.067, turns=1.0)
    >>> round(float(turn) * 1e3, 1)   # mm
    18.9
    """
    check.positive(pitch_diameter=pitch_diameter)
    check.acute(lead_angle=lead_angle)
    check.not_negative(turns=turns)
    return pi * pitch_diameter / np.cos(lead_angle) * turns


def worm_swept_area(*, length, working_depth, starts, lead_angle, pressure_angle):
    """Flank area of a worm that the contact sweeps.

    Parameters
    ----------
    length : float or array
        Axial length over which the worm touches the wheel [m], greater than 0
    working_depth : float or array
        Depth of tooth that touches [m], greater than 0
    starts : float or array
        Number of starts [-], at least 1
    lead_angle : float or array
        Lead angle of the worm [rad], 0 < lead_angle < pi/2
    pressure_angle : float or array
        Pressure angle in the normal section [rad], 0 < pressure_angle < pi/2

    Returns
    -------
    area : float or array
        Flank area, one side of the threads [m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    One flank only, for one direction of running.  Source: helix unrolled.

    Examples
    --------
    >>> worm = dict(length=0.004, working_depth=0.0008, starts=1, lead_angle=0.067)
    >>> round(float(worm_swept_area(pressure_angle=0.349, **worm)) * 1e6)   # mm2
    51
    """
    check.positive(length=length, working_depth=working_depth)
    check.at_least(1, starts=starts)
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    return starts * length / np.sin(lead_angle) * working_depth / np.cos(pressure_angle)


def wheel_swept_area(*, teeth, face_width, working_depth, lead_angle, pressure_angle):
    """Flank area of a worm wheel that the contact sweeps, all teeth together.

    Parameters
    ----------
    teeth : float or array
        Number of teeth [-], at least 1
    face_width : float or array
        Face width that touches [m], greater than 0
    working_depth : float or array
        Depth of tooth that touches [m], greater than 0
    lead_angle : float or array
        Lead angle of the worm [rad], 0 < lead_angle < pi/2
    pressure_angle : float or array
        Pressure angle in the normal section [rad], 0 < pressure_angle < pi/2

    Returns
    -------
    area : float or array
        Flank area, one side of the teeth [m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    One flank only.  A wheel cut straight touches at a spot: put in the width of the bright
    mark, not of the gear.  Source: tooth unrolled.

    Examples
    --------
    >>> wheel = dict(teeth=30, face_width=0.0015, working_depth=0.0008, lead_angle=0.067)
    >>> round(float(wheel_swept_area(pressure_angle=0.349, **wheel)) * 1e6)   # mm2
    38
    """
    check.at_least(1, teeth=teeth)
    check.positive(face_width=face_width, working_depth=working_depth)
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    return teeth * face_width / np.cos(lead_angle) * working_depth / np.cos(pressure_angle)


def mesh_wear_depth(*, wear_rate, force, sliding_distance, swept_area):
    """Depth worn off one member of a mesh.

    Parameters
    ----------
    wear_rate : float or array
        Specific wear rate of this member [m^3/(N*m)], at least 0
    force : float or array
        Normal force between the flanks [N], at least 0
    sliding_distance : float or array
        Distance that the contact slides [m], at least 0
    swept_area : float or array
        Flank area of this member that the contact sweeps [m^2], greater than 0

    Returns
    -------
    depth : float or array
        Depth along the flank's normal [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The volume spread evenly over this member's own flank; real flanks wear hollow.
    Source: Archard's law.

    Examples
    --------
    >>> mesh = dict(force=1.2, sliding_distance=40e3, swept_area=38e-6)
    >>> round(mesh_wear_depth(wear_rate=6e-14, **mesh) * 1e6)   # um
    76
    """
    check.not_negative(wear_rate=wear_rate, force=force, sliding_distance=sliding_distance)
    check.positive(swept_area=swept_area)
    return wear_rate * force * sliding_distance / swept_area


def time_to_backlash(
    *,
    backlash,
    wear_rate_1,
    area_1,
    wear_rate_2,
    area_2,
    force,
    sliding_speed,
    lead_angle,
    pressure_angle,
):
    """Running time until the wear of both members has opened a backlash.

    Parameters
    ----------
    backlash : float or array
        Backlash added at the wheel's pitch circle [m], at least 0
    wear_rate_1 : float or array
        Specific wear rate of the worm [m^3/(N*m)], greater than 0
    area_1 : float or array
        Swept flank area of the worm [m^2], greater than 0
    wear_rate_2 : float or array
        Specific wear rate of the wheel [m^3/(N*m)], greater than 0
    area_2 : float or array
        Swept flank area of the wheel [m^2], greater than 0
    force : float or array
        Normal force between the flanks [N], greater than 0
    sliding_speed : float or array
        Sliding speed [m/s], greater than 0
    lead_angle : float or array
        Lead angle of the worm [rad], 0 < lead_angle < pi/2
    pressure_angle : float or array
        Pressure angle in the normal section [rad], 0 < pressure_angle < pi/2

    Returns
    -------
    time : float or array
        Time [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Even wear in one direction; for both directions of running the time is shared.
    Source: Archard's law and the geometry of the flank's normal.

    Examples
    --------
    >>> worm = dict(wear_rate_1=1e-15, area_1=51e-6, lead_angle=0.067, pressure_angle=0.349)
    >>> wheel = dict(wear_rate_2=6e-14, area_2=38e-6, force=1.2, sliding_speed=3.0)
    >>> round(float(time_to_backlash(backlash=0.1e-3, **worm, **wheel)) / 3600, 1)   # hours
    4.5
    """
    check.not_negative(backlash=backlash)
    check.positive(wear_rate_1=wear_rate_1, area_1=area_1, wear_rate_2=wear_rate_2, area_2=area_2)
    check.positive(force=force, sliding_speed=sliding_speed)
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    gap = backlash * np.cos(lead_angle) * np.cos(pressure_angle)
    return gap / (force * sliding_speed * (wear_rate_1 / area_1 + wear_rate_2 / area_2))


check.formulas(__name__)
