"""Gauging: what an unknown gear is, from a caliper and a count of its teeth.

========================== ==========================================================
base_pitch                 distance from flank to flank along the line of action
spanned_teeth              how many teeth to take between the jaws
span_measurement           reading over several teeth, the base tangent length
diameter_over_odd_teeth    outside diameter from a reading that no two tips oppose
identify                   likeliest module or diametral pitch, from outside diameter
identify_by_spans          likeliest pitch and pressure angle, with two spans as well
========================== ==========================================================
"""

from functools import cache
from math import pi
from typing import NamedTuple

import numpy as np

from mechkit import check, tables
from mechkit.gears.sizes import FEWEST, involute, module_from_diametral_pitch, outside_diameter

#: Pressure angles that small gears are cut with [rad].
PRESSURE_ANGLES = (np.radians(14.5), np.radians(20.0))
#: What is less likely than this is not worth a line.
LEAST = 0.001


class Candidate(NamedTuple):
    """A standard gear that the reading may belong to."""

    module: float  #: [m]
    deviation: float  #: outside diameter read less standard [m]
    likelihood: float  #: share among all candidates [-]

    @property
    def designation(self):
        """What the trade calls it, as "module 0.4" or "64 DP"."""
        return _designation(self.module)


class SpanCandidate(NamedTuple):
    """A standard gear with its pressure angle that the readings may belong to."""

    module: float  #: [m]
    pressure_angle: float  #: [rad]
    deviation: float  #: outside diameter read less standard [m]
    likelihood: float  #: share among all candidates [-]

    @property
    def designation(self):
        """What the trade calls it, as "module 0.4" or "64 DP"."""
        return _designation(self.module)


@cache
def _series():
    """Designation -> module [m] of every standard size."""
    sizes = {}
    for row in tables.rows("gear_series"):
        metric = row.property == "module"
        sizes[row.name] = (
            row.low if metric else module_from_diametral_pitch(diametral_pitch=row.low)
        )
    return sizes


def _designation(module):
    """The name of the standard size nearest to a module."""
    return min(_series(), key=lambda name: abs(_series()[name] - module))


def base_pitch(*, module, pressure_angle):
    """Base pitch: the distance from flank to next flank along the line of action.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2

    Returns
    -------
    base_pitch : float or array
        Base pitch [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    By how much a span grows with each further tooth, however thin the teeth are cut.  Gears
    of one base pitch run together; gears of another do not.  Source: ISO 21771, transverse
    base pitch (from memory).

    Examples
    --------
    >>> round(float(base_pitch(module=0.0004, pressure_angle=0.349066) * 1e3), 3)   # mm
    1.181
    """
    check.positive(module=module)
    check.acute(pressure_angle=pressure_angle)
    return pi * module * np.cos(pressure_angle)


def spanned_teeth(*, teeth, pressure_angle):
    """How many teeth to take between the jaws so that they touch near the pitch circle.

    Parameters
    ----------
    teeth : float or array
        Number of teeth [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2

    Returns
    -------
    spanned_teeth : float or array
        Number of teeth between the jaws, whole, at least 2 [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Teeth without profile shift.  Where two numbers touch equally near, as of 18, 27 and 36
    teeth at 20 degrees, it is the larger, farther from the root.  For two spans take this number and one tooth more or less,
    whichever the jaws still touch on the flank.  Source: span measurement of spur gears in
    gear makers' tables (from memory).

    Examples
    --------
    >>> float(spanned_teeth(teeth=28, pressure_angle=0.349066))
    4.0
    """
    check.at_least(FEWEST, teeth=teeth)
    check.acute(pressure_angle=pressure_angle)
    at_pitch_circle = teeth * pressure_angle / pi + 0.5
    return np.maximum(np.floor(at_pitch_circle + 0.5 + 1e-9), 2.0)  # a tie goes up


def span_measurement(*, module, teeth, pressure_angle, spanned_teeth):
    """Reading of a caliper over several teeth, the base tangent length.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    spanned_teeth : float or array
        Number of teeth between the jaws [-], at least 1 and less than teeth / 2

    Returns
    -------
    span : float or array
        Span measurement [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Nominal teeth without profile shift; teeth thinned for backlash read less.  Runout does
    not change it, for it hangs on the base circle.  Holds where the jaws touch on the
    involute, above the base circle and below the tip.  Source: ISO 21771, span measurement
    (from memory).

    Examples
    --------
    >>> round(float(span_measurement(
    ...     module=0.0004, teeth=28, pressure_angle=0.349066, spanned_teeth=4
    ... ) * 1e3), 3)   # mm
    4.29
    """
    check.at_least(FEWEST, teeth=teeth)
    check.between(1.0, teeth / 2, spanned_teeth=spanned_teeth)
    pitch = base_pitch(module=module, pressure_angle=pressure_angle)
    return pitch * (spanned_teeth - 0.5 + teeth * involute(pressure_angle=pressure_angle) / pi)


def diameter_over_odd_teeth(*, reading, teeth, tip_land):
    """Outside diameter of a gear with an odd number of teeth from a caliper over its tips.

    Parameters
    ----------
    reading : float or array
        Reading, one jaw on one tip and the other across two [m], greater than 0
    teeth : float or array
        Number of teeth, odd [-], at least 3
    tip_land : float or array
        Width of the tip of a tooth [m], at least 0 and less than reading / teeth

    Returns
    -------
    outside_diameter : float or array
        Outside diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Jaws wide enough to bridge two tips.  Uncorrected, a gear of 15 teeth reads 1 % small: a
    module 0.4 passes for a 64 pitch.  Source: geometry of a polygon between parallel jaws.

    Examples
    --------
    >>> size = diameter_over_odd_teeth(reading=0.00674, teeth=15, tip_land=0.00025)
    >>> round(float(size) * 1e3, 2)   # mm
    6.79
    """
    check.positive(reading=reading)
    check.at_least(FEWEST, teeth=teeth)
    check.between(0.0, reading / teeth, tip_land=tip_land)
    return 2 * reading / (1 + np.cos(pi / teeth - tip_land / reading))


def identify(*, outside_diameter, teeth, uncertainty, addendum_coefficient=1.0):
    """Standard sizes that an unknown gear may have, the likeliest first.

    Parameters
    ----------
    outside_diameter : float
        Outside diameter as read [m], greater than 0
    teeth : float
        Number of teeth counted [-], a whole number of at least 3
    uncertainty : float
        Plus-minus of the diameter, reading and turning together [m], greater than 0
    addendum_coefficient : float
        Addendum in modules [-], greater than 0

    Returns
    -------
    candidates : tuple of Candidate
        Sizes of more than a chance in a thousand: module [m], deviation, likelihood

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Normal errors of which the uncertainty covers 95 %; every size of the series equally
    expected.  The likelihoods add up to 1 even where nothing fits: look at the deviation of
    the first, and if it exceeds the uncertainty the gear is stub, shifted, worn or not of
    the series.  An odd count goes through `diameter_over_odd_teeth` first.  Source: Bayes' rule;
    sizes from the table of gear series.

    Examples
    --------
    >>> first, second, *rest = identify(outside_diameter=0.01196, teeth=28, uncertainty=50e-6)
    >>> first.designation, round(first.likelihood, 2)
    ('module 0.4', 0.74)
    >>> second.designation, round(second.likelihood, 2)
    ('64 DP', 0.26)
    """
    check.single(addendum_coefficient=addendum_coefficient)
    _check_readings(teeth, outside_diameter=outside_diameter, uncertainty=uncertainty)
    modules = np.array(list(_series().values()))
    deviations = _off(outside_diameter, modules, teeth, addendum_coefficient)
    chances = _likelihoods((2 * deviations / uncertainty) ** 2)
    return _ranked(Candidate, modules, deviations, chances)


def identify_by_spans(*, outside_diameter, teeth, span, next_span, uncertainty):
    """Standard sizes and pressure angles of an unknown gear, the likeliest first.

    Parameters
    ----------
    outside_diameter : float
        Outside diameter as read [m], greater than 0
    teeth : float
        Number of teeth counted [-], a whole number of at least 3
    span : float
        Span measurement over some teeth [m], greater than 0
    next_span : float
        Span measurement over one tooth more [m], greater than span
    uncertainty : float
        Plus-minus of one reading [m], greater than 0

    Returns
    -------
    candidates : tuple of SpanCandidate
        Of more than a chance in a thousand: module [m], pressure angle, deviation, likelihood

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The difference of the two spans is the base pitch, whatever the teeth were thinned by;
    full-depth teeth of 14.5 or 20 degrees.  Module and pressure angle trade against each
    other in the base pitch and part in the outside diameter.  Otherwise as `identify`.
    Source: Bayes' rule; sizes from the table of gear series.

    Examples
    --------
    >>> first, *rest = identify_by_spans(
    ...     outside_diameter=0.01198, teeth=28, span=3.09e-3, next_span=4.27e-3,
    ...     uncertainty=20e-6,
    ... )
    >>> first.designation, float(np.degrees(first.pressure_angle).round(1))
    ('module 0.4', 20.0)
    """
    _check_readings(teeth, outside_diameter=outside_diameter, uncertainty=uncertainty, span=span)
    check.single(next_span=next_span)
    check.above(span, next_span=next_span)
    modules, angles = np.array([(m, a) for m in _series().values() for a in PRESSURE_ANGLES]).T
    deviations = _off(outside_diameter, modules, teeth, 1.0)
    off_pitch = next_span - span - base_pitch(module=modules, pressure_angle=angles)
    # The difference of two readings scatters by the square root of two more than one.
    chances = _likelihoods((2 / uncertainty) ** 2 * (deviations**2 + off_pitch**2 / 2))
    return _ranked(SpanCandidate, modules, angles, deviations, chances)


def _check_readings(teeth, **readings):
    """The demands that both ways to identify share."""
    check.single(teeth=teeth, **readings)
    check.positive(**readings)
    check.whole(FEWEST, teeth=teeth)


def _off(reading, modules, teeth, addendum_coefficient):
    """Outside diameter read less that of each standard size."""
    return reading - outside_diameter(
        module=modules, teeth=teeth, addendum_coefficient=addendum_coefficient
    )


def _likelihoods(squares):
    """Shares of the candidates from their squared deviations in standard deviations."""
    weights = np.exp(-(squares - squares.min()) / 2)
    return weights / weights.sum()


def _ranked(kind, *columns):
    """One candidate a row, the likeliest first; likelihoods stand in the last column."""
    rows = sorted(zip(*columns, strict=True), key=lambda row: -row[-1])
    return tuple(kind(*map(float, row)) for row in rows if row[-1] >= LEAST)


check.formulas(__name__)
