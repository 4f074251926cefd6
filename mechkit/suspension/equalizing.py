"""Sharing the weight: levers, beams and springs of unlike stiffness.

======================== ============================================================
lever_load               load of one of two axles
equalized_loads          loads of axles tied by beams, the same on any rail
middle_axle_load         load of the middle axle of three, evenly spaced
driver_share             share of the weight that stands on driven axles
======================== ============================================================
"""

import numpy as np

from mechkit import check
from mechkit.names import STANDARD_GRAVITY


def lever_load(*, mass, center_of_gravity, position_1, position_2):
    """Load of one of two axles, by the lever rule.

    Parameters
    ----------
    mass : float or array
        Mass on both axles [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the two
    position_1, position_2 : float or array
        Positions of the axle in question and of the other [m]

    Returns
    -------
    load : float or array
        Load of the first axle [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Whatever the springs and the rail: two supports leave them no say.  Weigh the engine on
    one axle and turn this round to find the center of gravity.  Source: moments about the
    other axle, any statics text.

    Examples
    --------
    >>> round(lever_load(mass=0.3, center_of_gravity=0.02, position_1=0.0, position_2=0.06), 2)
    1.96
    """
    check.positive(mass=mass)
    check.finite(position_1=position_1, position_2=position_2)
    ends = np.minimum(position_1, position_2), np.maximum(position_1, position_2)
    check.inside(*ends, center_of_gravity=center_of_gravity)
    return mass * STANDARD_GRAVITY * (position_2 - center_of_gravity) / (position_2 - position_1)


def equalized_loads(*, positions, groups, mass, center_of_gravity):
    """Loads of axles tied by beams into two groups, the same on any rail.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    groups : array
        1 or 2 for each axle, axles of a group tied by beams [-]
    mass : float or array
        Mass on the axles [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the two groups

    Returns
    -------
    loads : array
        Load of each axle [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, a group is empty, or the center of
        gravity is not between the groups.

    Notes
    -----
    Beams with their arms cut so that all axles of a group carry alike (equal arms for two
    axles); each group then acts at its mean position.  No rail, as long as the beams do not
    strike the frame, changes a load: what springs do by being soft, beams do by statics.
    Source: moments on each beam, any statics text.

    Examples
    --------
    Two front drivers on a beam, the third by itself:

    >>> equalized_loads(positions=[0, 0.03, 0.06], groups=[1, 1, 2], mass=0.3,
    ...                 center_of_gravity=0.03).round(2)
    array([0.98, 0.98, 0.98])
    """
    check.finite(positions=positions)
    check.whole(1, groups=groups)
    check.up_to(1, 2, groups=groups)
    check.positive(mass=mass)
    positions, first = np.asarray(positions), np.asarray(groups) == 1
    if first.shape != positions.shape or first.all() or not first.any():
        check.refuse("groups", groups, "1 or 2 for each axle, both used")
    ends = positions[first].mean(), positions[~first].mean()
    check.up_to(min(ends), max(ends), center_of_gravity=center_of_gravity)
    mass, center = np.asarray(mass)[..., None], np.asarray(center_of_gravity)[..., None]
    on_first = (ends[1] - center) / (ends[1] - ends[0])
    share = np.where(first, on_first / first.sum(), (1 - on_first) / (~first).sum())
    return mass * STANDARD_GRAVITY * share


def middle_axle_load(*, mass, end_rate, middle_rate, rail_height):
    """Load of the middle one of three evenly spaced axles, center of gravity above it.

    Parameters
    ----------
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    end_rate, middle_rate : float or array
        Spring rate of either end axle, and of the middle axle [N/m], greater than 0
    rail_height : float or array
        Height of the rail under the middle axle above the ends, below 0 for a dip [m]

    Returns
    -------
    load : float or array
        Load of the middle axle, from 0 to the whole weight [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    On level track the springs share the weight by their rates.  A dip of mass times gravity
    over twice the end rate empties the middle wheels; a hump of it over the middle rate
    lifts both ends.  The one case of `suspension.axle_loads` that fits on a line.  Source:
    equilibrium, any statics text.

    Examples
    --------
    A 0.3 mm dip under soft and under stiff springs:

    >>> float(middle_axle_load(mass=0.3, end_rate=400, middle_rate=400,
    ...                        rail_height=-0.0003).round(2))
    0.9
    >>> float(middle_axle_load(mass=0.3, end_rate=4000, middle_rate=4000,
    ...                        rail_height=-0.0003).round(2))
    0.18
    """
    check.positive(mass=mass, end_rate=end_rate, middle_rate=middle_rate)
    check.finite(rail_height=rail_height)
    weight = mass * STANDARD_GRAVITY
    load = middle_rate * (weight + 2 * end_rate * rail_height) / (middle_rate + 2 * end_rate)
    return np.clip(load, 0.0, weight)


def driver_share(*, loads, drivers):
    """Share of the weight that stands on driven axles and so gives adhesion.

    Parameters
    ----------
    loads : array
        Loads, one an axle, axles in the last place [N], at least 0
    drivers : array
        1 for a driven axle, else 0 [-]

    Returns
    -------
    share : float or array
        Share of the weight on the drivers [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or no axle carries.

    Notes
    -----
    Coupled axles slip together: only their sum counts.  What a leading truck's spring
    carries is missing here.  Source: definition of adhesive weight.

    Examples
    --------
    >>> round(float(driver_share(loads=[0.4, 0.9, 0.9, 0.9], drivers=[0, 1, 1, 1])), 2)
    0.87
    """
    check.not_negative(loads=loads)
    check.whole(0, drivers=drivers)
    check.up_to(0, 1, drivers=drivers)
    loads = np.atleast_1d(loads)
    check.positive(loads=loads.sum(-1))
    return (loads * drivers).sum(-1) / loads.sum(-1)


check.formulas(__name__)
