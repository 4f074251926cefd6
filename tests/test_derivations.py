"""The last line of every derivation equals the handbook's function."""

import inspect
import re

import numpy as np
import pytest
import sympy as sp

from mechkit.derivations import Derivation, Empirical, public_functions
from tests.formulas import TOLD, all_formulas, answers, bench, draw, twin

NAMES = [(topic, name) for topic, name, _ in all_formulas()]


def results(answer):
    """One row a result: several come as a tuple."""
    several = answer if isinstance(answer, tuple) else (answer,)
    return [np.broadcast_to(one, 400) for one in several]


@pytest.mark.parametrize(("topic", "name"), NAMES, ids=[".".join(pair) for pair in NAMES])
def test_derivation(topic, name):
    """Readable, complete, and its last line the function; or a fit that says whose."""
    made = twin(topic, name)
    if isinstance(made, Empirical):
        is_of_the_entry(topic, name, made)
        return
    can_be_read(made)
    derives_every_argument(made)
    last_line_equals_the_function(name, made)


#: A standard, as it is cited.
STANDARD = re.compile(r"(?:ISO|ANSI/AGMA|ANSI|ASTM|DIN) [A-Z]?\d[\d.-]*\d")


def is_of_the_entry(topic, name, made):
    """Of the formula of that name and all its arguments, of no other standard, finite inside."""
    assert made.function is public_functions(topic)[name]
    parameters = set(inspect.signature(made.function).parameters)
    assert set(made.inside) == (set() if name in TOLD else parameters)
    for one in answers(made.function(**bench(topic, name, 400, seed=2))):
        assert name in TOLD or np.all(np.isfinite(one))
    cited = STANDARD.findall("".join(f.__doc__ for f in public_functions(topic).values()))
    assert set(STANDARD.findall(made.whose)) <= set(cited)


def last_line_equals_the_function(name, made):
    assert made.function.__name__ == name
    arguments = draw(made.inside, 400, seed=2)
    symbols = [sp.Symbol(argument, positive=True) for argument in made.inside]
    formula = sp.lambdify(symbols, made.result, modules=["scipy", "numpy"])
    derived = results(formula(*arguments.values()))
    function = results(made.function(**arguments))
    assert np.all(np.isfinite(derived))
    assert len(function) == len(derived)
    np.testing.assert_allclose(function, derived, rtol=made.tolerance, atol=0)


def derives_every_argument(made):
    assert set(made.inside) == set(inspect.signature(made.function).parameters)
    used = {symbol.name for symbol in made.result.free_symbols}
    assert used == set(made.inside), "the last line and the function name different things"


def can_be_read(made):
    assert isinstance(made, Derivation)
    assert len(made.steps) >= 2, "a derivation is at least a start and a step"
    for sentence, step in made.steps:
        assert sentence.strip().endswith((".", ":", "?")), sentence
        assert isinstance(step, (sp.Basic, sp.MatrixBase)), sentence
    assert made._repr_markdown_().count("$$") >= 2 * len(made.steps) + 2
