"""Every formula against something outside the project."""

import numpy as np
import pytest

from tests import ledger, ledger_page

ROWS = ledger.rows()
each = pytest.mark.parametrize(
    "row", ROWS, ids=[f"{row.formula}-{number}" for number, row in enumerate(ROWS)]
)


@each
def test_agrees_with_the_outside(row):
    ours, theirs = ledger.ours(row), ledger.theirs(row)
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


def test_page_for_readers_is_the_ledger_as_it_stands():
    """All but what the other computations gave, which `test_agrees_with_the_outside` holds."""

    def without(lines):
        for line in lines:
            cells = line.split(" | ")
            yield cells[:3] + cells[5:] if cells[-1] == "computed |" else cells

    def outside(row):
        return ledger.ours(row) if row.computed_by else ledger.theirs(row)

    text = ledger_page.PAGE.read_text("utf-8")
    printed = text.partition(ledger_page.LEDGER_HEAD)[2]
    now = "\n".join(ledger_page.entries(outside)) + "\n"
    assert ledger_page.totals() in text
    assert list(without(printed.strip().splitlines())) == list(without(now.strip().splitlines())), (
        "python -m tests.ledger_page writes it anew"
    )
