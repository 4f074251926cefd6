"""What refuses bad input: one line with name, value as given, unit and limit."""

import math

import numpy as np

from mechkit import names


def _refuse(name, value, demand, limits=()):
    """Raise the one-line error."""
    unit = names.unit_of(name)
    demand = demand.format(*(f"{limit:.6g}{unit}" if limit else "0" for limit in limits))
    shown = f"{value:.6g}{unit}" if isinstance(value, float) else repr(value)[:40]
    raise ValueError(f"{name} = {shown}: must be {demand}")


def _numbers(name, value):
    """The value as a float array, or a refusal."""
    demand = "a plain number or an array of numbers in SI units"
    if hasattr(value, "units") or isinstance(value, (bool, str, bytes)):
        _refuse(name, value, demand)
    try:
        array = np.asarray(value)
    except (TypeError, ValueError):
        _refuse(name, value, demand)
    if array.dtype.kind not in "iuf":
        _refuse(name, value, demand)
    return array.astype(float, copy=False)


def _demand(named, good, demand, limits=()):
    """Refuse the first named value where ``good`` is not true everywhere."""
    for name, value in named.items():
        # A plain number that is fine, the usual case of a moving slider, costs almost nothing.
        if isinstance(value, (float, int)) and type(value) is not bool and math.isfinite(value):
            fine = good(value)
            if isinstance(fine, (bool, np.bool_)) and fine:
                continue
        numbers = _numbers(name, value)
        for fine, words in ((np.isfinite(numbers), "finite"), (good(numbers), demand)):
            if not np.all(fine):
                met = [_first(limit, fine) for limit in limits]
                _refuse(name, _first(numbers, fine), words, met)


def _first(numbers, fine):
    """The first element that is not fine; arrays broadcast."""
    numbers, fine = np.broadcast_arrays(numbers, fine)
    return float(numbers[~fine].flat[0])


def finite(**named):
    """Refuse what is not a finite number."""
    _demand(named, np.isfinite, "finite")


def positive(**named):
    """Refuse zero and below."""
    _demand(named, lambda x: x > 0, "greater than 0")


def not_negative(**named):
    """Refuse what is below zero."""
    _demand(named, lambda x: x >= 0, "at least 0")


def at_least(low, **named):
    """Refuse what is below ``low``."""
    _demand(named, lambda x: x >= low, "at least {}", [low])


def above(low, **named):
    """Refuse ``low`` and below."""
    _demand(named, lambda x: x > low, "greater than {}", [low])


def between(low, high, **named):
    """Refuse what is not in low <= value < high."""
    _demand(named, lambda x: (x >= low) & (x < high), "at least {} and less than {}", [low, high])


def inside(low, high, **named):
    """Refuse what is not in low < value < high, both ends left out."""
    _demand(
        named, lambda x: (x > low) & (x < high), "greater than {} and less than {}", [low, high]
    )


def up_to(low, high, **named):
    """Refuse what is not in low <= value <= high, both ends allowed."""
    _demand(named, lambda x: (x >= low) & (x <= high), "at least {} and at most {}", [low, high])


def poisson(**named):
    """Refuse a Poisson's ratio that no isotropic solid has."""
    up_to(0.0, 0.5, **named)


def acute(**named):
    """Refuse an angle that is not between 0 and a right angle."""
    inside(0.0, np.pi / 2, **named)


def whole(low, **named):
    """Refuse what is not a whole number of at least ``low``."""
    _demand(
        named,
        lambda x: (x == np.floor(x)) & (x >= low),
        "a whole number of at least {}",
        [low],
    )
