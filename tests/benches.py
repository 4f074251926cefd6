"""Bad inputs and arrays: what every function of a topic owes, from one bench each."""

import numpy as np
import pytest

BAD = (float("nan"), float("inf"), -float("inf"), "2 mm", None, True, np.array([1e-3, np.nan]))


def refuses(function, bench, name, worse=()):
    """The function refuses every bad value of one argument, and names it."""
    for wrong in (*BAD, *worse):
        with pytest.raises(ValueError, match=rf"^{name} = "):
            function(**{**bench, name: wrong})


def broadcasts(function, bench):
    """Two arguments as arrays give a grid that agrees with single calls."""
    first, second = list(bench)[:2]
    grid = {
        **bench,
        first: bench[first] * np.array([[0.9], [1.0]]),
        second: bench[second] * np.array([0.98, 1.0, 1.02]),
    }
    answer = function(**grid)
    assert np.shape(answer) == (2, 3)
    for row in range(2):
        for column in range(3):
            one = {**bench, first: grid[first][row, 0], second: grid[second][column]}
            assert np.isclose(answer[row, column], function(**one), rtol=1e-12, atol=0)
