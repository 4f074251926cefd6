"""The units in docstrings are executed: measured again in odd units, the answer scales.

Every argument is multiplied by what its promised unit is worth in a made-up system of
units; the result must then be multiplied by what its own promised unit is worth.  A
formula that mixes up dimensions, or hides a number with a unit, cannot pass.
"""

import importlib

import numpy as np
import pytest

from mechkit import derivations, names, units
from tests import docstrings
from tests.formulas import TOLD, all_formulas, answers, bench, twin

#: One odd unit is worth so many SI units; no two alike, none a power of another.
ODD = {"[length]": 1.37, "[mass]": 0.61, "[time]": 1.83, "[current]": 2.29, "[temperature]": 0.83}


PAGES = [page for topic in derivations.TOPICS for page in derivations.pages(topic)]


def worth(unit):
    """What one SI unit is worth in the odd system."""
    if unit in {"-", "rad"}:
        return 1.0
    powers = units.registry().Unit(unit).dimensionality
    return float(np.prod([ODD[base] ** -power for base, power in powers.items()]))


def all_close(after, before):
    """As many numbers, and all of them the same."""
    after, before = np.asarray(after), np.asarray(before)
    return after.shape == before.shape and np.allclose(after, before, rtol=1e-9, atol=0)


@pytest.mark.parametrize(
    ("topic", "name", "function"), all_formulas(), ids=lambda x: x if isinstance(x, str) else ""
)
def test_answer_scales_by_its_own_unit(topic, name, function, monkeypatch):
    """A table or fit in its own units does not, or it would need no exception."""
    made = twin(topic, name)
    own_units = isinstance(made, derivations.Empirical) and not made.scales
    promised_in = docstrings.units(function, "Parameters")
    promised_out = list(docstrings.units(function, "Returns").values())
    arguments = bench(topic, name, 25, seed=3)
    plain = answers(function(**arguments))
    for constant, unit in names.CONSTANTS.items():
        for page in PAGES:  # one formula may call another page's
            module = importlib.import_module(f"mechkit.{page}")
            if hasattr(module, constant):
                monkeypatch.setattr(module, constant, getattr(names, constant) * worth(unit))
    odd = {
        key: value if key in names.WORDS else value * worth(promised_in[key])
        for key, value in arguments.items()
    }
    if name in TOLD:  # a list of candidates, which hold sizes first
        found = [[one[0] for one in function(**given)] for given in (arguments, odd)]
        assert not all_close(found[1], np.array(found[0]) * worth("m"))
        return
    try:
        odd = answers(function(**odd))
    except ValueError:  # past the end of a table
        assert own_units
        return
    assert len(plain) == len(odd) == len(promised_out)
    scaled = [before * worth(unit) for before, unit in zip(plain, promised_out, strict=True)]
    if own_units:
        assert not all(map(all_close, odd, scaled))
    else:
        for after, before in zip(odd, scaled, strict=True):
            np.testing.assert_allclose(after, before, rtol=1e-9)
