"""What every formula takes: floats and float arrays, and whatever becomes them without doubt.

Lists, tuples, integers, small integer arrays give the answer of the float array; anything else
is refused in one line that begins with the argument's name.
"""

import inspect
import itertools

import numpy as np
import pytest

from mechkit import names, suspension, units
from mechkit.gears import gauging
from tests.formulas import TOLD, all_formulas, answers, bench, single

each = pytest.mark.parametrize(
    ("topic", "name", "function"), all_formulas(), ids=lambda x: x if isinstance(x, str) else ""
)

#: Whole numbers that are tried in turn; the first two do not fit one byte when added.
WHOLE = ([200, 100], [20, 16], [2, 1], [1, 1], [0, 0])
#: Sizes in meters of tables that end below one: no whole number is in them.
NEVER_WHOLE = {
    "fits.limits",
    "fits.fit_interference",
    "fits.inch_fit_interference",
    "springs.music_wire_strength",
    "springs.phosphor_bronze_strength",
    "springs.nearest_music_wire",
}
#: What is no number.
NO_NUMBERS = {
    "nothing": None,
    "text": "1",
    "bytes": b"1",
    "yes or no": True,
    "complex": 1 + 0j,
    "a set": {1.0},
    "ragged": [[1.0], [1.0, 2.0]],
    "objects": np.array([1.0, None]),
    "numbers as objects": np.array([1.0, 2.0], dtype=object),
    "texts": ["1", "2"],
    "masked": np.ma.array([1.0, 2.0], mask=[False, True]),
    "days": np.array([1, 2], dtype="timedelta64[s]"),
    "a quantity": units.registry().Quantity(1.0, "m"),
    "quantities": units.registry().Quantity([1.0, 2.0], "m"),
}


def numbers_of(given):
    return [key for key in given if key not in names.WORDS]


def same(one, other):
    """Two answers are one, element for element; a list of candidates too."""
    pairs = list(zip(answers(one), answers(other), strict=True))
    assert pairs
    for mine, its in pairs:
        np.testing.assert_array_equal(mine, its)


@each
def test_lists_and_tuples_answer_as_arrays_do(topic, name, function):
    given = bench(topic, name)
    wanted = function(**given)
    for kind in (np.ndarray.tolist, tuple):
        listed = {key: kind(value) if np.ndim(value) else value for key, value in given.items()}
        same(function(**listed), wanted)


@each
def test_small_integers_answer_as_floats_do(topic, name, function):
    """As many arguments at once as the formula takes as whole numbers, in one byte each."""
    given = single(topic, name)
    whole = {}
    for key, tried in itertools.product(numbers_of(given), WHOLE):
        row = np.resize(tried, np.shape(given[key])[-1:] or 2)
        row = row if key in names.ROWS or name not in TOLD else row[0]
        if key not in whole and takes(function, {**given, **whole, key: row.astype(float)}):
            whole[key] = row
    assert bool(whole) != (f"{topic}.{name}" in NEVER_WHOLE)
    wide = {key: np.asarray(row, float) for key, row in whole.items()}
    for kind in (np.uint8, np.int64, np.float32):
        made = {key: np.asarray(row, kind) for key, row in whole.items()}
        same(function(**{**given, **made}), function(**{**given, **wide}))


def takes(function, given):
    """Whether a formula takes these arguments."""
    try:
        function(**given)
    except (ValueError, RuntimeWarning):
        return False
    return True


@each
def test_what_is_no_number_is_refused_by_name(topic, name, function):
    given = bench(topic, name)
    for key in given:
        for what, thing in NO_NUMBERS.items():
            with pytest.raises(ValueError) as error:
                function(**{**given, key: thing})
            assert str(error.value).startswith(f"{key} = "), what
            assert "\n" not in str(error.value)


@each
def test_what_is_not_finite_is_refused_by_name(topic, name, function):
    given = bench(topic, name)
    for key, spoiled in itertools.product(numbers_of(given), (np.nan, np.inf, -np.inf)):
        bad = np.array(given[key])
        bad[(-1,) * bad.ndim] = spoiled
        with pytest.raises(ValueError, match=f"^{key} = (nan|-?inf).*: must be finite$"):
            function(**{**given, key: bad})


@each
def test_shapes_that_do_not_fit_are_refused_by_both_names(topic, name, function):
    given = single(topic, name) if name not in TOLD else {}
    for one, other in itertools.combinations(numbers_of(given), 2):
        lead = {key: np.stack([given[key]] * count) for key, count in ((one, 3), (other, 4))}
        with pytest.raises(ValueError) as error:
            function(**{**given, **lead})
        said, _, _ = str(error.value).partition(" = arrays of shape ")
        assert set(said.split(", ")) == {one, other}


@pytest.mark.parametrize("name", TOLD)
def test_a_gear_is_told_from_single_readings(name):
    for key, value in {**TOLD[name], "addendum_coefficient": 1.0}.items():
        if key in inspect.signature(getattr(gauging, name)).parameters:
            with pytest.raises(ValueError, match=f"^{key} = .*: must be one number$"):
                getattr(gauging, name)(**{**TOLD[name], key: [value, value]})


@pytest.mark.parametrize("key", ["samples", "seed"])
def test_chance_takes_one_number(key):
    with pytest.raises(ValueError, match=f"^{key} = .*: must be one number$"):
        suspension.contact_shares(**{**single("suspension", "contact_shares"), key: [2, 3]})
