"""The ranges in docstrings are executed: what lies outside is refused by name, what lies in is not.

Read are the words of the handbook's own entries: *greater than 0*, *at least 3 and less than
pi/2*, *0 to 0.5*, *0 <= bore < outer*.  Where a limit is another argument, either may be named.
"""

import math
import re

import numpy as np
import pytest

from mechkit import fits, gears, names, suspension, wheels
from mechkit.publish.entries import described
from tests.formulas import all_formulas, single

#: Arguments of either sign, or with a limit that words alone tell.
FREE = {
    "center_of_gravity", "current", "diametral_interference", "drivers",
    "flange_angle", "grade", "groups", "housing_rise", "offsets", "position_1", "position_2",
    "positions", "quartering_error", "rail_height", "rail_heights", "rod_error",
    "shaft_rise", "temperature_rise",
}  # fmt: skip

ROUGH = {
    "positions": [0, 0.03, 0.06], "rates": 400.0, "unevenness": 1e-4, "minimum_load": 0.1,
    "mass": 0.3, "center_of_gravity": 0.03,
}  # fmt: skip

_NUMBER = r"\d pi|\d[\d.]*|pi(?:/2)?"
_LIMIT = rf"(?:{_NUMBER}|[a-z1]\w*(?: / \w+)?)"
_WORDS = re.compile(r"(greater than|at least|less than|at most|up to) (.+?)(?= and |[,;:]|$)")
_CHAIN = re.compile(rf"({_LIMIT}) (<=?) (\w+) (<=?) ({_LIMIT})(?=[,;]|$)")
_SPAN = re.compile(rf"\], ({_NUMBER})(?: \([^)]*\))? to ({_NUMBER})")
_SIGNS = {"greater than": ">", "at least": ">=", "less than": "<", "at most": "<=", "up to": "<="}
_FACTORS = {"pi": math.pi, "pi/2": math.pi / 2, "mm": 1e-3, "in": 0.0254}


def limits(text, argument):
    """What an entry promises of an argument: (sign, limit as written)."""
    found = [(_SIGNS[said], limit) for said, limit in _WORDS.findall(text)]
    for low, first, name, second, high in _CHAIN.findall(text):
        if argument == name:
            found += [(first.replace("<", ">"), low), (second, high)]
        elif argument == high:
            found.append((second.replace("<", ">"), name))
    for low, high in _SPAN.findall(text):
        found += [(">=", low), ("<=", high)]
    return found


def entries(topic, name, function):
    """Argument, and the text of its entry, of every number that a formula takes."""
    for argument, text in described(function, "Parameters"):
        if argument not in names.WORDS:
            yield argument, text


def value_of(limit, given):
    """A limit as a number, or None where words alone tell it."""
    if re.fullmatch(r"[\d.]+ (?:pi|mm|in)", limit):
        limit = limit.replace(" ", " * ")
    known = {**given, **_FACTORS}
    value, signs = 1.0, ["*", *re.findall(r" ([*/]) ", limit)]
    for sign, part in zip(signs, re.split(r" [*/] ", limit), strict=True):
        factor = known.get(part, float(part) if re.fullmatch(r"\d[\d.]*", part) else None)
        if factor is None:
            return None
        value = value * factor if sign == "*" else value / factor
    return value


def refusal(function, given):
    """What a formula says against these arguments, or nothing."""
    try:
        function(**given)
    except ValueError as error:
        return str(error)
    return ""


@pytest.mark.parametrize(
    ("topic", "name", "function"), all_formulas(), ids=lambda x: x if isinstance(x, str) else ""
)
def test_the_range_of_every_argument_holds(topic, name, function):
    given = single(topic, name)
    assert not refusal(function, given)
    for argument, text in entries(topic, name, function):
        promised = limits(text, argument)
        assert argument in FREE or any(sign.startswith(">") for sign, _ in promised), text
        for sign, written in promised:
            limit = value_of(written, given)
            for wrong in outside(sign, limit, np.max(np.abs(given.get(argument, 1.0)))):
                said = refusal(function, {**given, argument: put(argument, given, wrong)})
                named = said.partition(" = ")[0]
                assert named in {argument, *re.findall(r"\w+", written)}, text
                if named == argument and limit is not None:
                    tells_it(said, argument, wrong, limit)
            if "=" in sign and limit is not None:
                said = refusal(function, {**given, argument: put(argument, given, limit)})
                assert not said.startswith(f"{argument} = "), text


def tells_it(said, argument, value, limit):
    """A refusal gives the value, the limit and the unit of both."""
    unit = names.unit_of(argument)
    assert said.startswith(f"{argument} = {value:.6g}{unit}: must be ")
    assert f" {limit:.6g}{unit}" in said if limit else re.search(r" 0(?: |$)", said)


@pytest.mark.parametrize(
    ("function", "given", "argument"),
    [
        (fits.tolerance_grade, {"diameter": 0.002}, "grade"),
        (wheels.path_resistance, {"contact_resistance": 1.0, "wheels_1": 4}, "wheels_2"),
        (wheels.path_resistance, {"contact_resistance": 1.0, "wheels_2": 4}, "wheels_1"),
        (gears.identify, {"outside_diameter": 0.012, "uncertainty": 5e-5}, "teeth"),
        (suspension.contact_shares, ROUGH, "samples"),
        (suspension.contact_shares, ROUGH, "seed"),
    ],
)
def test_what_is_counted_is_whole(function, given, argument):
    assert not refusal(function, {**given, argument: 12})
    said = refusal(function, {**given, argument: 11.5})
    assert said.startswith(f"{argument} = 11.5: must be a whole number of at least ")


def outside(sign, limit, size):
    """What lies just outside of a limit; below nothing where words alone tell a lower one."""
    if limit is None:
        return [-1.0] if sign.startswith(">") else []
    away = 1e-6 * (abs(limit) or size)
    beyond = limit - away if sign.startswith(">") else limit + away
    return [beyond] if "=" in sign else [beyond, limit]


def put(argument, given, value):
    """The value, or a row whose last place it is."""
    if argument not in names.ROWS:
        return value
    row = np.array(given[argument])
    row[..., -1] = value
    return row
