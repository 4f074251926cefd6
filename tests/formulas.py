"""All public formulas with their twins, for the tests that hold every formula alike."""

import importlib
from functools import cache

import numpy as np

from mechkit import derivations

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
    module = importlib.import_module(f"mechkit.derivations.{topic}")
    maker = getattr(module, name, None)
    return maker() if maker else None


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
