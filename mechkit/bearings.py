"""Bearings: life, friction, heat and end play.

========================== ==========================================================
rating_life                revolutions that nine of ten bearings outlast
life_time                  running time in those revolutions
needed_rating              dynamic rating for a wanted life
equivalent_load            radial load as bad as a radial and a thrust load together
friction_torque            friction torque of a loaded bearing, plain or ball
thrust_torque              friction torque of a thrust face or washer
viscous_torque             drag of the grease or oil in a ball bearing
pressure_velocity          pressure times rubbing speed in a plain bearing
end_play_change            end play won or lost when shaft and housing warm up
========================== ==========================================================
"""

from math import pi

import numpy as np

from mechkit import check


def rating_life(*, dynamic_rating, load, exponent=3.0):
    """Revolutions that nine of ten bearings outlast.

    Parameters
    ----------
    dynamic_rating : float or array
        Basic dynamic load rating [N], greater than 0
    load : float or array
        Equivalent load [N], greater than 0
    exponent : float or array
        Life exponent [-], at least 1; 3 for balls, 10/3 for rollers

    Returns
    -------
    life : float or array
        Basic rating life in revolutions [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A fit to fatigue tests, clean and well greased.  In a small drive friction, thrust
    and dirt end a bearing long before fatigue does.
    Source: ISO 281, basic rating life L10.

    Examples
    --------
    >>> f"{rating_life(dynamic_rating=200.0, load=2.0):.1e}"
    '1.0e+12'
    """
    check.positive(dynamic_rating=dynamic_rating, load=load)
    check.at_least(1.0, exponent=exponent)
    return 1e6 * (dynamic_rating / load) ** exponent


def life_time(*, life, speed):
    """Running time in a number of revolutions.

    Parameters
    ----------
    life : float or array
        Revolutions [-], at least 0
    speed : float or array
        Speed of rotation [rad/s], greater than 0

    Returns
    -------
    time : float or array
        Running time [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Steady speed.  Source: definition of a revolution, 2π radians.

    Examples
    --------
    >>> from math import pi
    >>> round(life_time(life=1e9, speed=8000 * pi / 30) / 3600)   # h at 8000 rpm
    2083
    """
    check.not_negative(life=life)
    check.positive(speed=speed)
    return 2 * pi * life / speed


def needed_rating(*, life, load, exponent=3.0):
    """Dynamic rating for a wanted life.

    Parameters
    ----------
    life : float or array
        Revolutions that nine of ten shall outlast [-], at least 0
    load : float or array
        Equivalent load [N], greater than 0
    exponent : float or array
        Life exponent [-], at least 1; 3 for balls, 10/3 for rollers

    Returns
    -------
    dynamic_rating : float or array
        Basic dynamic load rating [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    `rating_life` the other way round, with its limits.
    Source: ISO 281, basic rating life L10.

    Examples
    --------
    >>> round(needed_rating(life=1e9, load=5.0))
    50
    """
    check.not_negative(life=life)
    check.positive(load=load)
    check.at_least(1.0, exponent=exponent)
    return load * (life / 1e6) ** (1 / exponent)


def equivalent_load(*, radial_load, axial_load, radial_factor, axial_factor):
    """Radial load as bad for a bearing's life as a radial and a thrust load together.

    Parameters
    ----------
    radial_load : float or array
        Radial load [N], at least 0
    axial_load : float or array
        Thrust load [N], at least 0
    radial_factor : float or array
        Factor X of the bearing's sheet [-], 0 to 1
    axial_factor : float or array
        Factor Y of the bearing's sheet [-], at least 0

    Returns
    -------
    load : float or array
        Equivalent load [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The sheet's factors differ with thrust per static rating; never less than the radial
    load alone.  Source: ISO 281, equivalent dynamic load of radial ball bearings.

    Examples
    --------
    >>> load = equivalent_load(
    ...     radial_load=1.0, axial_load=2.0, radial_factor=0.56, axial_factor=1.5)
    >>> round(float(load), 2)
    3.56
    """
    check.not_negative(radial_load=radial_load, axial_load=axial_load, axial_factor=axial_factor)
    check.up_to(0.0, 1.0, radial_factor=radial_factor)
    return np.maximum(radial_load, radial_factor * radial_load + axial_factor * axial_load)


def friction_torque(*, friction, load, diameter):
    """Friction torque of a loaded bearing, plain or ball.

    Parameters
    ----------
    friction : float or array
        Coefficient of friction [-], at least 0
    load : float or array
        Load across the shaft [N], at least 0
    diameter : float or array
        Diameter of the shaft, or bore of the ball bearing [m], greater than 0

    Returns
    -------
    friction_torque : float or array
        Friction torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Plain: 0.05 to 0.20 oiled and slow, where film and metal share the load.  Ball: the
    catalogs' 0.0015 at the bore; a lightly loaded greased bearing drags many times more,
    see `viscous_torque`; seals and preload come on top.
    Source: Coulomb friction at the shaft's surface; Harris, Rolling Bearing Analysis,
    approximate coefficients of rolling bearings, for 0.0015 (from memory).

    Examples
    --------
    >>> round(friction_torque(friction=0.13, load=3.0, diameter=0.002) * 1e3, 2)   # mN m
    0.39
    """
    check.not_negative(friction=friction, load=load)
    check.positive(diameter=diameter)
    return friction * load * diameter / 2


def thrust_torque(*, friction, load, outer, bore):
    """Friction torque of a thrust face or washer under even pressure.

    Parameters
    ----------
    friction : float or array
        Coefficient of friction [-], at least 0
    load : float or array
        Thrust [N], at least 0
    outer : float or array
        Outside diameter of the face [m], greater than 0
    bore : float or array
        Bore diameter of the face [m], 0 <= bore < outer

    Returns
    -------
    friction_torque : float or array
        Friction torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    New, flat faces.  A face worn in rubs at its mean diameter, a little less; a burr or
    a tilted washer rubs at its rim, up to outer / 2.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, clutches,
    uniform pressure.

    Examples
    --------
    >>> round(thrust_torque(friction=0.1, load=1.0, outer=0.004, bore=0.002) * 1e3, 3)
    0.156
    """
    check.not_negative(friction=friction, load=load)
    check.positive(outer=outer)
    check.between(0.0, outer, bore=bore)
    return friction * load / 3 * (outer**3 - bore**3) / (outer**2 - bore**2)


def viscous_torque(*, viscosity, speed, pitch_circle, lubrication_factor):
    """Drag of the grease or oil in a ball bearing.

    Parameters
    ----------
    viscosity : float or array
        Kinematic viscosity of the oil, or of the grease's base oil, when warm [m^2/s],
        greater than 0
    speed : float or array
        Speed of rotation [rad/s], at least 0
    pitch_circle : float or array
        Diameter of the ring of balls [m], greater than 0: half of bore and outside together
    lubrication_factor : float or array
        Factor f0 [-], greater than 0; 0.7 to 2 for greased deep-groove bearings

    Returns
    -------
    friction_torque : float or array
        Friction torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Palmgren's fit, measured on larger bearings: on miniature ones an order of magnitude,
    no more.  Fresh grease drags several times more until it has run in.
    Source: Harris, Rolling Bearing Analysis, viscous friction torque after Palmgren.

    Examples
    --------
    >>> torque = viscous_torque(
    ...     viscosity=100e-6, speed=838.0, pitch_circle=0.0035, lubrication_factor=2.0)
    >>> round(float(torque) * 1e3, 2)   # mN m at 8000 rpm
    0.07
    """
    check.positive(viscosity=viscosity, pitch_circle=pitch_circle)
    check.positive(lubrication_factor=lubrication_factor)
    check.not_negative(speed=speed)
    centistokes_rpm = viscosity * 1e6 * speed * 30 / pi
    stirred = np.where(centistokes_rpm < 2000, 160.0, centistokes_rpm ** (2 / 3))
    return 1e-7 * lubrication_factor * stirred * (pitch_circle * 1e3) ** 3 * 1e-3


def pressure_velocity(*, load, length, speed):
    """Pressure times rubbing speed in a plain bearing, whatever its diameter.

    Parameters
    ----------
    load : float or array
        Load across the shaft [N], at least 0
    length : float or array
        Length of the bearing along the axis [m], greater than 0
    speed : float or array
        Speed of rotation [rad/s], at least 0

    Returns
    -------
    pressure_velocity : float or array
        Projected pressure times surface speed [Pa*m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A shaft that is bent or out of line loads only an edge: count that length alone.
    For porous bronze books allow 0.7 or 1.75 MPa m/s; warn at the first.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, boundary-
    lubricated bearings.

    Examples
    --------
    >>> round(pressure_velocity(load=2.0, length=0.003, speed=838.0) / 1e6, 2)   # MPa m/s
    0.28
    """
    check.not_negative(load=load, speed=speed)
    check.positive(length=length)
    return load * speed / (2 * length)


def end_play_change(*, length, shaft_expansion, shaft_rise, housing_expansion, housing_rise):
    """End play won (positive) or lost when shaft and housing warm up.

    Parameters
    ----------
    length : float or array
        Length between the thrust faces [m], greater than 0
    shaft_expansion : float or array
        Thermal expansion coefficient of the shaft [1/kelvin], at least 0
    shaft_rise : float or array
        Rise of the shaft's temperature [kelvin], negative when it cools
    housing_expansion : float or array
        Thermal expansion coefficient of the housing [1/kelvin], at least 0
    housing_rise : float or array
        Rise of the housing's temperature [kelvin], negative when it cools

    Returns
    -------
    clearance : float or array
        Change of the end play [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Each part at one temperature throughout.  The shaft warms first: it counts before the
    housing follows.  Source: definition of the expansion coefficient.

    Examples
    --------
    >>> change = end_play_change(
    ...     length=0.025, shaft_expansion=11.5e-6, shaft_rise=60.0,
    ...     housing_expansion=20.5e-6, housing_rise=20.0)
    >>> round(change * 1e6)   # µm lost before the housing follows
    -7
    """
    check.positive(length=length)
    check.not_negative(shaft_expansion=shaft_expansion, housing_expansion=housing_expansion)
    check.finite(shaft_rise=shaft_rise, housing_rise=housing_rise)
    return length * (housing_expansion * housing_rise - shaft_expansion * shaft_rise)


check.formulas(__name__)
