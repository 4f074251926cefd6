"""The last line of every derivation equals the handbook's function."""

import inspect

import numpy as np
import pytest
import sympy as sp

from mechkit.derivations import Derivation
from tests.formulas import all_formulas, draw, twin

DERIVED = [
    (topic, name, made)
    for topic, name, _ in all_formulas()
    if isinstance(made := twin(topic, name), Derivation)
]
each = pytest.mark.parametrize(
    ("topic", "name", "made"), DERIVED, ids=[f"{t}.{n}" for t, n, _ in DERIVED]
)


def results(answer):
    """One row a result: several come as a tuple."""
    several = answer if isinstance(answer, tuple) else (answer,)
    return [np.broadcast_to(one, 400) for one in several]


@each
def test_last_line_equals_the_function(topic, name, made):
    assert made.function.__name__ == name
    arguments = draw(made.inside, 400, seed=2)
    symbols = [sp.Symbol(argument, positive=True) for argument in made.inside]
    formula = sp.lambdify(symbols, made.result, modules=["scipy", "numpy"])
    derived = results(formula(*arguments.values()))
    function = results(made.function(**arguments))
    assert np.all(np.isfinite(derived))
    assert len(function) == len(derived)
    np.testing.assert_allclose(function, derived, rtol=made.tolerance, atol=0)


@each
def test_every_argument_is_derived(topic, name, made):
    assert set(made.inside) == set(inspect.signature(made.function).parameters)
    used = {symbol.name for symbol in made.result.free_symbols}
    assert used == set(made.inside), "the last line and the function name different things"


@each
def test_derivation_can_be_read(topic, name, made):
    assert len(made.steps) >= 2, "a derivation is at least a start and a step"
    for sentence, step in made.steps:
        assert sentence.strip().endswith((".", ":", "?")), sentence
        assert isinstance(step, (sp.Basic, sp.MatrixBase)), sentence
    assert made._repr_markdown_().count("$$") >= 2 * len(made.steps) + 2
