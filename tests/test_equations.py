"""Every equation that the handbook prints, worked as it stands, gives what its formula gives."""

import ast

import numpy as np
import pytest

from mechkit import derivations, equations, names
from tests.formulas import all_formulas, bench

EQUATIONS = [(topic, name) for topic, name, _ in all_formulas() if equations.lines(topic, name)]
#: What an equation may call, in numpy's words.
CALLED = {
    **{name: getattr(np, name) for name in ("sqrt", "sin", "cos", "tan", "exp", "abs", "floor")},
    "acos": np.arccos, "atan": np.arctan, "ln": np.log, "pi": np.pi,
    "min": np.minimum, "max": np.maximum, "sum": lambda row: np.sum(row, axis=-1),
    "inv": lambda angle: np.tan(angle) - angle,
    "g": names.STANDARD_GRAVITY, "L_z": names.LORENZ_NUMBER,
}  # fmt: skip
COUNT = 200


def sides(line):
    """What stands left and right of the first equals sign."""
    left, _, right = line.partition(" = ")
    return left, right


def worked(lines, given):
    """The left sides that are names, worked from the last line up."""
    known = CALLED | given
    for line in reversed(lines):
        left, right = sides(line)
        known[left] = eval(compile(ast.parse(right, mode="eval"), left, "eval"), {}, known)
    return known


def asked(topic, name):
    """Arguments as they are drawn for every formula, one row each."""
    made = derivations.of(topic, name)
    return made.function, bench(topic, name, COUNT, seed=3)


@pytest.mark.parametrize(("topic", "name"), EQUATIONS, ids=[".".join(one) for one in EQUATIONS])
def test_the_printed_equation_is_the_formula(topic, name):
    function, given = asked(topic, name)
    lines = equations.lines(topic, name)
    answer = function(**given)
    answers = answer if isinstance(answer, tuple) else (answer,)
    left, _ = sides(lines[0])
    if left in given:  # solved for its result: put in, it must give the argument back
        result = set(ast_names(lines)) - set(given) - set(CALLED)
        (unknown,) = result - {sides(line)[0] for line in lines[1:]}
        found = worked(
            lines, {**{k: v for k, v in given.items() if k != left}, unknown: answers[0]}
        )
        np.testing.assert_allclose(found[left], given[left], rtol=1e-6)
        return
    lefts = [sides(line)[0] for line, _ in zip(lines, answers, strict=False)]
    # Cases and rows of parts beside plain numbers are worked one by one.
    shapes = [np.shape(value) for value in given.values()]
    rows_of_parts = len({len(shape) for shape in shapes}) > 1
    rows_of_parts &= all(shape[:1] == (COUNT,) for shape in shapes)
    by_one = rows_of_parts or any(" if " in line for line in lines)
    rows = [given]
    if by_one:
        rows = [{name: value[n] for name, value in given.items()} for n in range(COUNT)]
    every = [worked(lines, row) for row in rows]
    for left, one in zip(lefts, answers, strict=False):
        found = [each[left] for each in every] if by_one else every[0][left]
        np.testing.assert_allclose(found + 0 * one, one, rtol=1e-7, atol=1e-12)


def ast_names(lines):
    """Every name in some lines."""
    trees = [ast.parse(sides(line)[1], mode="eval") for line in lines]
    return {node.id for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Name)}


def test_every_section_and_line_is_of_a_formula():
    public = {(topic, name) for topic, name, _ in all_formulas()}
    written = {(topic, name) for topic, held in equations._all().items() for name in held}
    assert written <= public
    assert len(written) > 0.85 * len(public), "few formulas are tables or numeric solutions"


def test_help_shows_the_equation():
    from mechkit import flywheel

    assert "Equation\n" in flywheel.ring_inertia.__doc__
    assert equations.lines("flywheel", "ring_inertia")[0] in flywheel.ring_inertia.__doc__
