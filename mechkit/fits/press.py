"""Fits: limits of size, interference, and what a press fit holds.

========================== ==========================================================
tolerance_grade            width of an ISO 286 tolerance grade
limits                     lower and upper deviation of a tolerance class
fit_interference           least and most interference of a hole and a shaft class
inch_fit_interference      the same for an inch class: RC, LN or FN
interference_pressure      pressure between a hub and a shaft pressed together
hub_hoop_stress            hoop stress at the bore of the hub
slip_torque                torque at which a press fit slips
press_force                force that moves a shaft along a press fit
========================== ==========================================================

What a joint stands, and what heat and adhesive do to it, is in `mechkit.fits.joints`.
"""

from math import pi

import numpy as np

from mechkit import check, tables
from mechkit.tables import sizes

_SHAFTS = ("d", "e", "f", "g", "h", "j", "js", "k", "m", "n", "p", "r", "s")
_HOLES = ("D", "E", "F", "G", "H", "JS", "K", "M", "N", "P", "R", "S")
#: Highest grade up to which a hole above H is moved by the difference of two grades.
_MOVED = {"K": 8, "M": 8, "N": 8, "P": 7, "R": 7, "S": 7}


def _shaft(letter, grade, diameter, width):
    """Lower and upper deviation of a shaft: the table gives the end nearer to nominal."""
    ends, values = sizes.steps("deviations", f"j{grade}" if letter == "j" else letter.lower())
    # k counts from nominal above grade 7; the hole K does so only above 8, which is refused
    near = values[sizes.step(ends, diameter), 0] * (letter != "k" or grade <= 7)
    return (near - width, near) if letter.lower() <= "h" else (near, near + width)


def _read_class(name, given, letters):
    """Letter and grade of a tolerance class, or a refusal that says what there is."""
    letter = given.rstrip("0123456789") if isinstance(given, str) else ""
    grade = int(given[len(letter) :] or 0) if letter else 0
    known = letter in letters and f"{letter}{grade}" == given
    if not known or not 5 <= grade <= {"j": 7, "K": 8, "N": 8}.get(letter, 11):
        one_of = f"one of {', '.join(letters)} with a grade from 5 to 11 (j to 7, K and N to 8)"
        check.refuse(name, given, one_of)
    return letter, grade


def tolerance_grade(*, diameter, grade):
    """Width of an ISO 286 tolerance grade.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m], greater than 0, up to 120 mm
    grade : int or array
        Grade number [-], 1 to 14; 7 for IT7

    Returns
    -------
    tolerance : float or array
        Upper less lower limit of size [m]

    Raises
    ------
    ValueError
        diameter is outside the table; grade is no whole number from 1 to 14.

    Notes
    -----
    A table, not a formula: the tolerance unit 0.45 D^(1/3) + 0.001 D would give 8.7 µm
    for IT7 up to 3 mm, where the table says 10.  A size step holds its upper end.
    Source: ISO 286-1 Table 1, transcribed with its sources in tolerance_grades.csv.

    Examples
    --------
    >>> round(tolerance_grade(diameter=0.002, grade=7) * 1e6)   # µm
    10
    """
    check.whole(1, grade=grade)
    check.up_to(1, 14, grade=grade)
    ends, widths = sizes.grades()
    return widths[np.asarray(grade, int) - 1, sizes.step(ends, diameter)]


def limits(*, diameter, tolerance_class):
    """Lower and upper deviation from the nominal size of a tolerance class.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m], greater than 0, up to 50 mm
    tolerance_class : str
        Tolerance class [-], small letters for a shaft, capitals for a hole: p6, H7

    Returns
    -------
    lower : float or array
        Lower deviation [m]
    upper : float or array
        Upper deviation [m]

    Raises
    ------
    ValueError
        diameter is outside the table; the class is none of those that the error lists.

    Notes
    -----
    Holes mirror the shaft of the same letter.  From K to S, where parts may interfere,
    a hole over 3 mm is moved back by the difference of its grade and the next finer one,
    so that K7/h6 fits as H7/k6 does; that ends above grade 8 (K, M, N) or 7 (P, R, S).
    Half tolerances of js and JS are not rounded to whole micrometers.
    Source: ISO 286-1, transcribed with its sources in deviations.csv.

    Examples
    --------
    >>> [round(end * 1e6) for end in limits(diameter=0.002, tolerance_class="p6")]   # µm
    [6, 12]
    """
    letter, grade = _read_class("tolerance_class", tolerance_class, (*_SHAFTS, *_HOLES))
    width = tolerance_grade(diameter=diameter, grade=grade)
    if letter in {"js", "JS"}:
        return -width / 2, width / 2
    lower, upper = _shaft(letter, grade, diameter, width)
    if letter in _SHAFTS:
        return lower, upper
    moved = (diameter > 0.003 + sizes.SLACK) & (grade <= _MOVED.get(letter, 0))
    shift = moved * (width - tolerance_grade(diameter=diameter, grade=grade - 1))
    return shift - upper, shift - lower


def fit_interference(*, diameter, hole_class, shaft_class):
    """Least and most interference of a hole and a shaft class; clearance is negative.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m], greater than 0, up to 50 mm
    hole_class : str
        Tolerance class of the hole [-], as H7
    shaft_class : str
        Tolerance class of the shaft [-], as p6

    Returns
    -------
    least : float or array
        Smallest shaft less largest hole, on the diameter [m]
    most : float or array
        Largest shaft less smallest hole, on the diameter [m]

    Raises
    ------
    ValueError
        diameter is outside the table; a class is none of those that the error lists.

    Notes
    -----
    On a 2 mm shaft H7/p6 spans more than a brass hub can stretch: match to the part.
    Source: ISO 286-1, as `limits`.

    Examples
    --------
    >>> ends = fit_interference(diameter=0.002, hole_class="H7", shaft_class="p6")
    >>> [round(end * 1e6) for end in ends]   # µm
    [-4, 12]
    """
    _read_class("hole_class", hole_class, _HOLES)
    _read_class("shaft_class", shaft_class, _SHAFTS)
    hole_lower, hole_upper = limits(diameter=diameter, tolerance_class=hole_class)
    shaft_lower, shaft_upper = limits(diameter=diameter, tolerance_class=shaft_class)
    return shaft_lower - hole_upper, shaft_upper - hole_lower


def inch_fit_interference(*, diameter, fit_class):
    """Least and most interference of an inch fit class; clearance is negative.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m], greater than 0, up to 0.40 in
    fit_class : str
        Tolerance class of an inch fit [-]: RC1 to RC4, LN1 to LN3, FN1, FN2, FN4, FN5

    Returns
    -------
    least : float or array
        Smallest shaft less largest hole, on the diameter [m]
    most : float or array
        Largest shaft less smallest hole, on the diameter [m]

    Raises
    ------
    ValueError
        diameter is outside the table; the class is none of those that the error lists.

    Notes
    -----
    RC runs or slides, LN locates, FN is forced.  Source: ANSI B4.1 as printed in Machinery's Handbook, page by page in inch_fits.csv.

    Examples
    --------
    >>> fit = inch_fit_interference(diameter=0.1 * 0.0254, fit_class="FN1")
    >>> [round(float(end) / 25.4e-6, 2) for end in fit]   # thousandths
    [0.05, 0.5]
    """
    classes = tables.names("inch_fits")
    if not isinstance(fit_class, str) or fit_class not in classes:
        check.refuse("fit_class", fit_class, f"one of {', '.join(classes)}")
    ends, hole = sizes.steps("inch_fits", fit_class, "hole")
    _, shaft = sizes.steps("inch_fits", fit_class, "shaft")
    step = sizes.step(ends, diameter)
    return shaft[step, 0] - hole[step, 1], shaft[step, 1] - hole[step, 0]


def interference_pressure(
    *, diameter, hub_outer, diametral_interference,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson, shaft_bore=0.0,
):  # fmt: skip
    """Pressure between a hub and a shaft pressed together.

    Parameters
    ----------
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_outer : float or array
        Outside diameter of the hub [m], greater than diameter
    diametral_interference : float or array
        Shaft less bore, on the diameter [m], at least 0
    hub_modulus : float or array
        Modulus of elasticity of the hub [Pa], greater than 0
    hub_poisson : float or array
        Poisson's ratio of the hub [-], 0 to 0.5
    shaft_modulus : float or array
        Modulus of elasticity of the shaft [Pa], greater than 0
    shaft_poisson : float or array
        Poisson's ratio of the shaft [-], 0 to 0.5
    shaft_bore : float or array
        Bore of a hollow shaft [m], 0 <= shaft_bore < diameter

    Returns
    -------
    pressure : float or array
        Pressure in the joint [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Lamé, plane stress, open ends, elastic: it stops holding when the hub yields (see
    `fits.yield_interference`).  The interference is what is left after the peaks of the
    finish are flattened.  A longer shaft, and friction along the axis, add up to 7 % to
    the mean pressure (finite elements), and far more at the very edges.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, press and
    shrink fits (equation with radial interference there; diametral here).

    Examples
    --------
    >>> brass, steel = (97e9, 0.31), (207e9, 0.29)
    >>> pressure = interference_pressure(
    ...     diameter=0.002, hub_outer=0.003175, diametral_interference=1e-6,
    ...     hub_modulus=brass[0], hub_poisson=brass[1],
    ...     shaft_modulus=steel[0], shaft_poisson=steel[1])
    >>> round(pressure / 1e6)   # MPa for each micrometer
    16
    """
    check.positive(diameter=diameter, hub_modulus=hub_modulus, shaft_modulus=shaft_modulus)
    check.above(diameter, hub_outer=hub_outer)
    check.between(0.0, diameter, shaft_bore=shaft_bore)
    check.not_negative(diametral_interference=diametral_interference)
    check.poisson(hub_poisson=hub_poisson, shaft_poisson=shaft_poisson)
    hub = (hub_outer**2 + diameter**2) / (hub_outer**2 - diameter**2) + hub_poisson
    shaft = (diameter**2 + shaft_bore**2) / (diameter**2 - shaft_bore**2) - shaft_poisson
    return diametral_interference / diameter / (hub / hub_modulus + shaft / shaft_modulus)


def hub_hoop_stress(*, pressure, diameter, hub_outer):
    """Hoop stress at the bore of a hub under pressure, tension counted positive.

    Parameters
    ----------
    pressure : float or array
        Pressure in the joint [Pa], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_outer : float or array
        Outside diameter of the hub [m], greater than diameter

    Returns
    -------
    stress : float or array
        Hoop stress at the bore [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The largest hoop stress in the hub; what yields first is `fits.hub_von_mises_stress`.
    Elastic.  Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design,
    thick-walled cylinders.

    Examples
    --------
    >>> round(hub_hoop_stress(pressure=16e6, diameter=0.002, hub_outer=0.003175) / 1e6)
    37
    """
    check.not_negative(pressure=pressure)
    check.positive(diameter=diameter)
    check.above(diameter, hub_outer=hub_outer)
    return pressure * (hub_outer**2 + diameter**2) / (hub_outer**2 - diameter**2)


def slip_torque(*, pressure, diameter, length, friction):
    """Torque at which a press fit slips.

    Parameters
    ----------
    pressure : float or array
        Pressure in the joint [Pa], at least 0
    diameter, length : float or array
        Diameter of the joint, length in contact along the axis [m], greater than 0
    friction : float or array
        Coefficient of friction [-], at least 0

    Returns
    -------
    torque : float or array
        Slip torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Even pressure over the whole length.  Take the low end of the friction band for what
    the joint must hold.  Source: Budynas and Nisbett, Shigley's Mechanical Engineering
    Design, torque capacity of an interference fit.

    Examples
    --------
    >>> round(slip_torque(pressure=16e6, diameter=0.002, length=0.004, friction=0.12) * 1e3)
    48
    """
    check.not_negative(pressure=pressure, friction=friction)
    check.positive(diameter=diameter, length=length)
    return friction * pressure * pi * diameter * length * diameter / 2


def press_force(*, pressure, diameter, length, friction):
    """Force that moves a shaft along a press fit.

    Parameters
    ----------
    pressure : float or array
        Pressure in the joint [Pa], at least 0
    diameter, length : float or array
        Diameter of the joint, length in contact along the axis [m], greater than 0
    friction : float or array
        Coefficient of friction [-], at least 0

    Returns
    -------
    force : float or array
        Axial force [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Largest at full depth; take the high end of the friction band.  Caution: support the
    far end of a motor's shaft, never press through its bearings; eye protection, a hub may burst.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, as `slip_torque`.

    Examples
    --------
    >>> round(press_force(pressure=16e6, diameter=0.002, length=0.004, friction=0.15))   # N
    60
    """
    check.not_negative(pressure=pressure, friction=friction)
    check.positive(diameter=diameter, length=length)
    return friction * pressure * pi * diameter * length


check.formulas(__name__)
