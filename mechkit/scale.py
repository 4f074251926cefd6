"""Scale: what full size becomes in the model, and back.

========================== ==========================================================
model_speed                scale speed of the full-size speed
prototype_speed            full-size speed that a model speed stands for
model_length               scale length
scale_ratio                ratio from a length on both
========================== ==========================================================

The scales of the open standards are in the table ``scales``: O is 1:48, 1:45 or 1:43.5.
"""

from mechkit import check


def model_speed(*, prototype_speed, ratio):
    """Speed of the model that looks like a speed of the full-size engine.

    Parameters
    ----------
    prototype_speed : float or array
        Speed of the full-size engine [m/s], at least 0
    ratio : float or array
        Scale ratio [-], greater than 0; 87.1 for 1:87.1

    Returns
    -------
    model_speed : float or array
        Speed of the model [m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Length is scaled, time is not.  Source: definition of the scale.

    Examples
    --------
    >>> round(model_speed(prototype_speed=26.8224, ratio=87.1), 3)   # 60 mph
    0.308
    """
    check.not_negative(prototype_speed=prototype_speed)
    check.positive(ratio=ratio)
    return prototype_speed / ratio


def prototype_speed(*, model_speed, ratio):
    """Speed of the full-size engine that a speed of the model stands for.

    Parameters
    ----------
    model_speed : float or array
        Speed of the model [m/s], at least 0
    ratio : float or array
        Scale ratio [-], greater than 0; 87.1 for 1:87.1

    Returns
    -------
    prototype_speed : float or array
        Speed of the full-size engine [m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Length is scaled, time is not.  Source: definition of the scale.

    Examples
    --------
    >>> round(prototype_speed(model_speed=0.2, ratio=64.0), 1)
    12.8
    """
    check.not_negative(model_speed=model_speed)
    check.positive(ratio=ratio)
    return model_speed * ratio


def model_length(*, prototype_length, ratio):
    """Length on the model.

    Parameters
    ----------
    prototype_length : float or array
        Length on the full-size engine [m], at least 0
    ratio : float or array
        Scale ratio [-], greater than 0; 87.1 for 1:87.1

    Returns
    -------
    model_length : float or array
        Length on the model [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Track and wheels of the standards are not all to scale.  Source: definition of the scale.

    Examples
    --------
    >>> round(model_length(prototype_length=0.3048, ratio=64.0) * 1e3, 4)   # mm for a foot
    4.7625
    """
    check.not_negative(prototype_length=prototype_length)
    check.positive(ratio=ratio)
    return prototype_length / ratio


def scale_ratio(*, model_length, prototype_length):
    """Scale ratio from one length on model and full size.

    Parameters
    ----------
    model_length : float or array
        Length on the model [m], greater than 0
    prototype_length : float or array
        The same length on the full-size engine [m], greater than 0

    Returns
    -------
    ratio : float or array
        Scale ratio [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    3.5 mm to the foot is 1:87.09, not 1:87.  Source: definition of the scale.

    Examples
    --------
    >>> round(scale_ratio(model_length=0.0035, prototype_length=0.3048), 2)
    87.09
    """
    check.positive(model_length=model_length, prototype_length=prototype_length)
    return prototype_length / model_length


check.formulas(__name__)
