"""Any argument may be an array: (3, 1) against (4,) gives a grid of single answers."""

import numpy as np
import pytest

from tests.formulas import all_formulas, answers, draw, twin

#: Formulas without a grid, and why.
APART = {
    "gears.identify": "a list of candidates for one gear, not a number",
    "gears.identify_by_spans": "a list of candidates for one gear, not a number",
    "runout.worst_case_stack": "adds up along its only argument",
    "runout.root_sum_square_stack": "adds up along its only argument",
    "suspension.driver_share": "adds up along the axles",
}


@pytest.mark.parametrize(
    ("topic", "name", "function"), all_formulas(), ids=lambda x: x if isinstance(x, str) else ""
)
def test_a_column_against_a_row_is_a_grid(topic, name, function):
    inside = twin(topic, name).inside
    loose = [key for key, useful in inside.items() if isinstance(useful, tuple)]
    if f"{topic}.{name}" in APART:
        assert not loose
        return
    assert loose, "draws no argument from a plain range: say why in APART"
    drawn = draw(inside, 7, seed=5)  # seven draws: no bench has seven axles
    bench = {
        key: value[0] if np.shape(value)[:1] == (7,) else value for key, value in drawn.items()
    }
    axes = zip(loose, (np.s_[:3, None], np.s_[:4]), strict=False)  # one argument: a column alone
    grid = {key: drawn[key][axis] for key, axis in axes}
    shape = np.broadcast_shapes(*(value.shape for value in grid.values()))
    whole = answers(function(**{**bench, **grid}))
    for place in np.ndindex(shape):
        at = {key: np.broadcast_to(value, shape)[place] for key, value in grid.items()}
        for one, other in zip(whole, answers(function(**{**bench, **at})), strict=True):
            together = np.broadcast_to(one, shape + np.shape(other))
            np.testing.assert_allclose(together[place], other, rtol=1e-12)
