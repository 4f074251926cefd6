"""Springs under a frame: which axle carries what on uneven rail, and which wheel lifts.

========================== ==========================================================
axle_loads                 loads of axles on springs that push or hang free
spring_compressions        how far each spring is compressed, or hangs free
axle_loads_with_stops      the loads with preload and both ends of the slot
axle_rises_with_stops      where each axle then stands in its slot
rigid_axle_loads           loads of a frame without springs: which wheels touch at all
========================== ==========================================================

The frame is rigid, may heave and pitch, and stands on springs in line; both rails are
taken together.  Heights under each axle come in the last place of an array, so that
thousands of places on the track are worked out in one call.
"""

import numpy as np

from mechkit import check
from mechkit.names import STANDARD_GRAVITY
from mechkit.suspension import stance


def axle_loads(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Loads of axles on equal-length springs under a rigid frame.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    rail_heights : float or array
        Height of the rail under each axle, axles in the last place [m]
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles

    Returns
    -------
    loads : array
        Load of each axle, never below 0, together the weight [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand: no
        axle on one side of the center of gravity.

    Notes
    -----
    A spring pushes or hangs free, it never pulls down.  Exact for straight springs
    without preload and without stops; small pitch.  The track must be no rougher than
    the springs are long; for slots with ends use `axle_loads_with_stops`.  Source:
    equilibrium of a rigid frame on one-sided springs, any statics text.

    Examples
    --------
    Level track, then a 0.3 mm hump under the middle axle:

    >>> axle_loads(positions=[0, 0.03, 0.06], rates=[400, 400, 400], rail_heights=[0, 0, 0],
    ...            mass=0.3, center_of_gravity=0.03).round(2)
    array([0.98, 0.98, 0.98])
    >>> axle_loads(positions=[0, 0.03, 0.06], rates=[400, 400, 400],
    ...            rail_heights=[0, 0.0003, 0], mass=0.3, center_of_gravity=0.03).round(2)
    array([0.94, 1.06, 0.94])
    """
    return _settled(positions, rates, rail_heights, mass, center_of_gravity).loads


def spring_compressions(*, positions, rates, rail_heights, mass, center_of_gravity):
    """How far each spring is compressed, or how far it hangs free.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    rail_heights : float or array
        Height of the rail under each axle, axles in the last place [m]
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles

    Returns
    -------
    compressions : array
        Rise of each axle in the frame from where its spring is slack; below 0 the wheel
        hangs that far above the rail [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    The travel that the slots of the axles must allow.  As `axle_loads`.  Source:
    equilibrium of a rigid frame on one-sided springs, any statics text.

    Examples
    --------
    >>> spring_compressions(positions=[0, 0.03, 0.06], rates=[400, 400, 400],
    ...                     rail_heights=[0, -0.005, 0], mass=0.3,
    ...                     center_of_gravity=0.03).round(4)
    array([ 0.0037, -0.0013,  0.0037])
    """
    return _settled(positions, rates, rail_heights, mass, center_of_gravity).rises


def axle_loads_with_stops(
    *,
    positions,
    rates,
    preloads,
    travel_up,
    travel_down,
    rail_heights,
    mass,
    center_of_gravity,
    stop_rate=1e6,
):
    """Loads of axles whose springs are preloaded and whose slots have ends.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    preloads : float or array
        Spring forces with the axles where the drawing has them, one an axle [N], at least 0
    travel_up : float or array
        How far each axle can rise in its slot from there, one an axle [m], at least 0
    travel_down : float or array
        How far each axle can drop in its slot from there, one an axle [m], at least 0
    rail_heights : float or array
        Height of the rail under each axle, axles in the last place [m]
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles
    stop_rate : float or array
        Stiffness of axlebox, frame and wheel once a stop is met [N/m], greater than 0

    Returns
    -------
    loads : array
        Load of each axle, never below 0, together the weight [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    An axle at the bottom of its slot still carries up to the spring's force there; one at
    the top carries without limit.  A leading truck is one more axle: its spring's preload
    is what it takes from the drivers.  Exact for the given stop stiffness; where more
    than two axles sit on their stops only that stiffness decides between them.  The
    default is a guess for small brass frames, common practice, no source.  The weight of
    wheels and axles is not counted.  Source: equilibrium of a rigid frame on one-sided
    springs, any statics text.

    Examples
    --------
    A dip under the last axle, deeper than its slot, and its wheels hang:

    >>> axle_loads_with_stops(positions=[0, 0.03, 0.06], rates=[400, 400, 400],
    ...     preloads=[0.98, 0.98, 0.98], travel_up=[0.0005, 0.0005, 0.0005],
    ...     travel_down=[0.0005, 0.0005, 0.0005], rail_heights=[0, 0, -0.003], mass=0.3,
    ...     center_of_gravity=0.028).round(2)
    array([0.2 , 2.75, 0.  ])
    """
    settled, _ = _settled_in_slots(
        positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
        center_of_gravity, stop_rate,
    )  # fmt: skip
    return settled.loads


def axle_rises_with_stops(
    *,
    positions,
    rates,
    preloads,
    travel_up,
    travel_down,
    rail_heights,
    mass,
    center_of_gravity,
    stop_rate=1e6,
):
    """Where each axle stands in its slot, springs preloaded and slots with ends.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    preloads : float or array
        Spring forces with the axles where the drawing has them, one an axle [N], at least 0
    travel_up, travel_down : float or array
        How far each axle can rise and drop in its slot from there [m], at least 0
    rail_heights : float or array
        Height of the rail under each axle, axles in the last place [m]
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles
    stop_rate : float or array
        Stiffness of axlebox, frame and wheel once a stop is met [N/m], greater than 0

    Returns
    -------
    rises : array
        Height of each axle in the frame above its place on the drawing [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    Above the slot's upper end only by what the stop gives.  An axle drops to the lower end
    by its own weight before its wheels leave the rail.  As `axle_loads_with_stops`.
    Source: equilibrium of a rigid frame on one-sided springs, any statics text.

    Examples
    --------
    On level track the springs take another 0.02 mm above their preload:

    >>> axle_rises_with_stops(positions=[0, 0.03, 0.06], rates=400, preloads=0.973,
    ...     travel_up=0.0005, travel_down=0.0005, rail_heights=0, mass=0.3,
    ...     center_of_gravity=0.03).round(5)
    array([2.e-05, 2.e-05, 2.e-05])
    """
    settled, lowest = _settled_in_slots(
        positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
        center_of_gravity, stop_rate,
    )  # fmt: skip
    return np.maximum(settled.rises, lowest)


def rigid_axle_loads(*, positions, rail_heights, mass, center_of_gravity):
    """Loads of axles that are held rigidly in the frame: which wheels touch at all.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rail_heights : float or array
        Height of the rail under each axle, axles in the last place [m]
    mass : float or array
        Mass on the rail [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles

    Returns
    -------
    loads : array
        Load of each axle, 0 where its wheels do not touch, together the weight [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    Two axles carry, on rail that is not straight to a fraction of a micrometer; the others
    are in the air.  It is the limit of equal, ever stiffer springs; taken here at a sinking
    of a hundred-millionth of the wheelbase, so that straight rail shares the weight.
    Source: equilibrium of a rigid frame on one-sided supports, any statics text.

    Examples
    --------
    A dip of a tenth of a millimeter under the middle axle takes all its weight:

    >>> rigid_axle_loads(positions=[0, 0.03, 0.06], rail_heights=[0, -0.0001, 0],
    ...                  mass=0.3, center_of_gravity=0.02).round(2)
    array([1.96, 0.  , 0.98])
    """
    check.finite(positions=positions)
    check.positive(mass=mass)
    (positions,) = stance.per_axle(positions)
    wheelbase = np.ptp(positions, axis=-1)
    stiff = mass * STANDARD_GRAVITY / (1e-8 * wheelbase)
    return _settled(positions, stiff[..., None], rail_heights, mass, center_of_gravity).loads


def _settled(positions, rates, rail_heights, mass, center_of_gravity):
    """The frame on plain springs, slack at rise 0."""
    check.finite(positions=positions, rail_heights=rail_heights)
    check.positive(rates=rates, mass=mass)
    positions, rates, heights = stance.per_axle(positions, rates, rail_heights)
    check.inside(positions.min(-1), positions.max(-1), center_of_gravity=center_of_gravity)
    return stance.settle(
        positions=positions,
        heights=heights,
        knots=np.zeros((positions.shape[-1], 1)),
        steps=rates[..., None],
        weight=mass * STANDARD_GRAVITY,
        center_of_gravity=center_of_gravity,
    )


def _settled_in_slots(
    positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
    center_of_gravity, stop_rate,
):  # fmt: skip
    """The frame with preload and stops, rises counted from the drawing, and the lowest rises."""
    check.finite(positions=positions, rail_heights=rail_heights)
    check.positive(rates=rates, mass=mass, stop_rate=stop_rate)
    check.not_negative(preloads=preloads, travel_up=travel_up, travel_down=travel_down)
    positions, rates, preloads, up, down, heights = stance.per_axle(
        positions, rates, preloads, travel_up, travel_down, rail_heights
    )
    check.inside(positions.min(-1), positions.max(-1), center_of_gravity=center_of_gravity)
    stop = np.asarray(stop_rate)[..., None]
    rates, preloads, up, down, stop = np.broadcast_arrays(rates, preloads, up, down, stop)
    rates = np.maximum(rates, 4 * np.spacing(stop))  # less is lost beside the stop's, by rounding
    held = preloads - rates * down  # what the spring still presses at the bottom of the slot
    seated = held > 0
    start = np.where(seated, -down - held / (rates + stop), -preloads / rates)
    settled = stance.settle(
        positions=positions,
        heights=heights,
        knots=np.stack([start, np.maximum(start, -down), up], axis=-1),
        steps=np.stack(
            [rates + np.where(seated, stop, 0.0), np.where(seated, -stop, 0.0), stop], axis=-1
        ),
        weight=mass * STANDARD_GRAVITY,
        center_of_gravity=center_of_gravity,
    )
    return settled, -down


check.formulas(__name__)
