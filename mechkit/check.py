"""What every formula's arguments pass: numbers become floats, and bad input is refused.

The last line of each handbook file puts `arguments` on all its formulas: what they compute
with are floats and float arrays that fit one another.  The other checks, called in the
formula, ask for the range.  A refusal is one line with name, value as given, unit and limit.
"""

import math
import sys
from collections.abc import Callable
from functools import wraps
from inspect import isfunction
from itertools import combinations
from typing import ParamSpec, TypeVar

import numpy as np

from mechkit import equations, names

Arguments = ParamSpec("Arguments")
Answer = TypeVar("Answer")

INFINITE, RIGHT = math.inf, math.pi / 2
TRUE, FLOAT = np.True_, np.dtype(float)


def formulas(module):
    """Put `arguments` on every public formula of a handbook file, from its last line.

    Its entry gets the equation, so that `help` shows it.
    """
    here = vars(sys.modules[module])
    topic = module.split(".")[1]
    for name, thing in tuple(here.items()):
        own = isfunction(thing) and thing.__module__ == module and not name.startswith("_")
        if own and not hasattr(thing, "__wrapped__"):
            here[name] = arguments(thing)
            here[name].__doc__ = equations.entry(thing.__doc__, topic, name)


def arguments(formula: Callable[Arguments, Answer]) -> Callable[Arguments, Answer]:
    """Make every number of a call a float or a float array, once, before the formula sees it."""

    @wraps(formula)
    def checked(*loose: Arguments.args, **given: Arguments.kwargs) -> Answer:
        for value in given.values():
            if type(value) is not float and type(value) is not np.float64:
                return formula(*loose, **_fitted(given))
        return formula(*loose, **given)

    return checked


def _fitted(given):
    """The arguments as floats and float arrays that fit one another."""
    made = {name: _float(name, value) for name, value in given.items() if name not in names.WORDS}
    shapes = {name: value.shape for name, value in made.items() if type(value) is np.ndarray}
    if len(set(shapes.values())) > 1 or any(len(shape) > 1 for shape in shapes.values()):
        _refuse_misfits(shapes)
    return given | made


def _float(name, value):
    """One argument as a float or a float array."""
    if isinstance(value, float):
        return value
    if type(value) is int and abs(value) < 2**53:
        return float(value)
    numbers = _numbers(name, value)
    return numbers if numbers.ndim else float(numbers)


def _refuse_misfits(shapes):
    """Name two arrays that do not fit; rows must fit in their length, and without it the rest."""
    rows = [name for name in shapes if name in names.ROWS]
    apart = {name: shape[:-1] if name in rows else shape for name, shape in shapes.items()}
    _fit(shapes, apart)
    _fit(shapes, {name: shapes[name][-1:] for name in rows})


def _fit(shapes, parts):
    """Refuse two shapes of which neither broadcasts to the other."""
    each = {part: name for name, part in parts.items()}
    for (first, one), (second, other) in combinations(each.items(), 2):
        pairs = zip(reversed(first), reversed(second), strict=False)
        if any(mine != its and 1 not in (mine, its) for mine, its in pairs):
            raise ValueError(
                f"{one}, {other} = arrays of shape {shapes[one]} and {shapes[other]}: "
                "must be of one shape, or broadcast to one"
            )


def refuse(name, value, demand, limits=()):
    """Raise the one-line error."""
    unit = names.unit_of(name)
    demand = demand.format(*(f"{limit:.6g}{unit}" if limit else "0" for limit in limits))
    value = value.tolist() if type(value) is np.ndarray else value
    shown = f"{value:.6g}{unit}" if isinstance(value, float) else " ".join(repr(value).split())[:40]
    raise ValueError(f"{name} = {shown}: must be {demand}")


def _numbers(name, value):
    """The value as a float array, or a refusal."""
    if type(value) is np.ndarray and value.dtype == FLOAT:
        return value
    demand = "a plain number or an array of numbers in SI units"
    foreign = hasattr(value, "units") or hasattr(value, "filled")  # filled: a masked array
    if foreign or isinstance(value, (bool, str, bytes)):
        refuse(name, value, demand)
    try:
        array = np.asarray(value)
    except (TypeError, ValueError):
        refuse(name, value, demand)
    if array.dtype.kind not in "iuf":
        refuse(name, value, demand)
    return array.astype(float, copy=False)


def _demand(named, good, demand, limits=()):
    """Refuse the first named value where ``good`` is not true everywhere."""
    for name, value in named.items():
        # A plain number that is fine, the usual case of a moving slider, costs almost nothing.
        if isinstance(value, float) and -INFINITE < value < INFINITE:
            fine = good(value)
            if fine is True or fine is TRUE or (fine is not False and fine.all()):
                continue
        numbers = _numbers(name, value)
        _refuse_where(name, numbers, np.isfinite(numbers), "finite")
        _refuse_where(name, numbers, good(numbers), demand, limits)


def _refuse_where(name, numbers, fine, demand, limits=()):
    """Refuse the first number that is not fine."""
    if not fine.all():
        met = [_first(limit, fine) for limit in limits]
        refuse(name, _first(numbers, fine), demand, met)


def _first(numbers, fine):
    """The first element that is not fine; arrays broadcast."""
    numbers, fine = np.broadcast_arrays(numbers, fine)
    return float(numbers[~fine].flat[0])


def _between(low, high, named, good, demand, limits):
    """Refuse what is not good; plain numbers well between plain limits are."""
    if isinstance(low, float) and isinstance(high, float):
        for value in named.values():
            if type(value) is not float or not low < value < high:
                break
        else:
            return
    _demand(named, good, demand, limits)


def finite(**named):
    """Refuse what is not a finite number."""
    _between(-INFINITE, INFINITE, named, np.isfinite, "finite", ())


def positive(**named):
    """Refuse zero and below."""
    for value in named.values():
        if type(value) is not float or not 0.0 < value < INFINITE:
            _demand(named, lambda x: x > 0, "greater than 0")
            break


def not_negative(**named):
    """Refuse what is below zero."""
    for value in named.values():
        if type(value) is not float or not 0.0 <= value < INFINITE:
            _demand(named, lambda x: x >= 0, "at least 0")
            break


def at_least(low, **named):
    """Refuse what is below ``low``."""
    _between(low, INFINITE, named, lambda x: x >= low, "at least {}", [low])


def above(low, **named):
    """Refuse ``low`` and below."""
    _between(low, INFINITE, named, lambda x: x > low, "greater than {}", [low])


def between(low, high, **named):
    """Refuse what is not in low <= value < high."""
    demand = "at least {} and less than {}"
    _between(low, high, named, lambda x: (x >= low) & (x < high), demand, [low, high])


def inside(low, high, **named):
    """Refuse what is not in low < value < high, both ends left out."""
    demand = "greater than {} and less than {}"
    _between(low, high, named, lambda x: (x > low) & (x < high), demand, [low, high])


def up_to(low, high, **named):
    """Refuse what is not in low <= value <= high, both ends allowed."""
    demand = "at least {} and at most {}"
    _between(low, high, named, lambda x: (x >= low) & (x <= high), demand, [low, high])


def poisson(**named):
    """Refuse a Poisson's ratio that no isotropic solid has."""
    up_to(0.0, 0.5, **named)


def acute(**named):
    """Refuse an angle that is not between 0 and a right angle."""
    inside(0.0, RIGHT, **named)


def whole(low, **named):
    """Refuse what is not a whole number of at least ``low``."""
    demand = "a whole number of at least {}"
    _demand(named, lambda x: (x // 1 == x) & (x >= low), demand, [low])


def single(**named):
    """Refuse an array where one number is asked."""
    for name, value in named.items():
        if np.ndim(value):
            refuse(name, value, "one number")
