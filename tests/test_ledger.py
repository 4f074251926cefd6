"""Every formula against something outside the project."""

import importlib

import numpy as np
import pytest

from tests import docstrings, ledger

ROWS = ledger.rows()
each = pytest.mark.parametrize(
    "row", ROWS, ids=[f"{row.formula}-{number}" for number, row in enumerate(ROWS)]
)


def expected(row):
    """What the outside says, in SI."""
    if row.computed_by:
        module, name = row.computed_by.split(":")
        return getattr(importlib.import_module(f"tests.independent.{module}"), name)(
            **row.arguments
        )
    promised = list(docstrings.units(row.function, "Returns").values())
    if len(promised) > 1:
        return [ledger.si(one, unit) for one, unit in zip(row.expected, promised, strict=True)]
    return ledger.si(row.expected, promised[0])


@each
def test_agrees_with_the_outside(row):
    arguments = {
        name: np.array(value) if isinstance(value, list) else value
        for name, value in row.arguments.items()
    }
    ours, theirs = row.function(**arguments), expected(row)
    each_result = zip(ours, theirs, strict=True) if isinstance(ours, tuple) else [(ours, theirs)]
    for one, other in each_result:
        np.testing.assert_allclose(one, other, rtol=row.within, atol=0)


@each
def test_row_is_honest(row):
    assert row.provenance in ledger.PROVENANCE
    assert len(row.source) > 10
    assert (row.expected is None) == bool(row.computed_by)
    assert (row.provenance == "independent computation") == bool(row.computed_by)
    assert 0 <= row.within <= 0.2
    if row.within > 0.006:
        assert row.reason, "a wide tolerance needs its reason"
