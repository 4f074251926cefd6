"""The units in docstrings are executed: measured again in odd units, the answer scales.

Every argument is multiplied by what its promised unit is worth in a made-up system of
units; the result must then be multiplied by what its own promised unit is worth.  A
formula that mixes up dimensions, or hides a number with a unit, cannot pass.
"""

import numpy as np
import pytest

from mechkit import derivations, names, units
from tests import docstrings
from tests.formulas import all_formulas, answers, draw, twin

#: One odd unit is worth so many SI units; no two alike, none a power of another.
ODD = {"[length]": 1.37, "[mass]": 0.61, "[time]": 1.83, "[current]": 2.29, "[temperature]": 0.83}


def worth(unit):
    """What one SI unit is worth in the odd system."""
    if unit in {"-", "rad"}:
        return 1.0
    powers = units.registry().Unit(unit).dimensionality
    return float(np.prod([ODD[base] ** -power for base, power in powers.items()]))


@pytest.mark.parametrize(
    ("topic", "name", "function"), all_formulas(), ids=lambda x: x if isinstance(x, str) else ""
)
def test_answer_scales_by_its_own_unit(topic, name, function, monkeypatch):
    made = twin(topic, name)
    if isinstance(made, derivations.Empirical) and not made.scales:
        assert len(made.whose) > 20, "holds in its own units only: say whose table or fit it is"
        return
    promised_in = docstrings.units(function, "Parameters")
    promised_out = list(docstrings.units(function, "Returns").values())
    ranges = made.inside
    arguments = draw(ranges, 25, seed=3)
    plain = answers(function(**arguments))
    for constant, unit in names.CONSTANTS.items():
        for other in derivations.TOPICS:  # one formula may call another topic's
            module = __import__(f"mechkit.{other}", fromlist=["_"])
            if hasattr(module, constant):
                monkeypatch.setattr(module, constant, getattr(names, constant) * worth(unit))
    odd = answers(
        function(**{key: value * worth(promised_in[key]) for key, value in arguments.items()})
    )
    assert len(plain) == len(odd) == len(promised_out)
    for before, after, unit in zip(plain, odd, promised_out, strict=True):
        np.testing.assert_allclose(after, before * worth(unit), rtol=1e-9)
