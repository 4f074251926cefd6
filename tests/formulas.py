"""All public formulas with their twins, for the tests that hold every formula alike."""

from functools import cache

import numpy as np

from mechkit import derivations, names

TOPICS = derivations.TOPICS


def all_formulas():
    """(topic, name, function) of every public formula."""
    return [
        (topic, name, function)
        for topic in TOPICS
        for name, function in derivations.public_functions(topic).items()
    ]


@cache
def twin(topic, name):
    """The derivation of a formula, or None where the file holds none; sympy works only once."""
    try:
        return derivations.of(topic, name)
    except AttributeError:
        return None


def draw(inside, count, seed=1):
    """Random arguments over the useful ranges: name -> array of ``count`` values.

    A range is (low, high), or a list of allowed values, or a function that draws.
    """
    random = np.random.default_rng(seed)
    drawn = {}
    for name, useful in inside.items():
        if callable(useful):
            drawn[name] = useful(random, count)
        elif isinstance(useful, tuple):
            low, high = useful
            drawn[name] = random.uniform(low, high, count)
        else:
            drawn[name] = random.choice(np.asarray(useful), count)
    return drawn


#: Arguments of formulas whose twin draws none: a gear is told by a list, not by a number.
TOLD = {
    "identify": {"outside_diameter": 11.96e-3, "teeth": 28.0, "uncertainty": 0.05e-3},
    "identify_by_spans": {
        "outside_diameter": 11.96e-3, "teeth": 28.0, "uncertainty": 0.02e-3,
        "span": 3.09e-3, "next_span": 4.27e-3,
    },
}  # fmt: skip


def bench(topic, name, count=3, seed=5):
    """Arguments of a formula: arrays of ``count`` values, rows of parts, words."""
    if name in TOLD:
        return dict(TOLD[name])
    drawn = draw(twin(topic, name).inside, count, seed)
    words = {key: str(value) for key, value in drawn.items() if key in names.WORDS}
    return {
        **{key: np.array(value, float) for key, value in drawn.items() if key not in words},
        **words,
    }


def single(topic, name):
    """One set of arguments of a formula: numbers, one row of each kind of part, words."""
    return {
        key: value
        if key in names.WORDS or np.ndim(value) == 0
        else value.reshape(-1, value.shape[-1])[0]
        if key in names.ROWS
        else value.flat[0]
        for key, value in bench(topic, name).items()
    }


def answers(answer):
    """The results of a formula as a list."""
    return list(answer) if isinstance(answer, tuple) else [answer]
