"""Every formula against something outside the project."""

import numpy as np
import pytest

from mechkit import names
from tests import ledger, ledger_page

ROWS = ledger.rows()
KINDS_OF_SOURCE = {
    "standard", "book", "worked solutions", "companion", "data sheet", "article", "calculator",
}  # fmt: skip
#: Below these an input says that something is left out.
LEAST = {"-": 1e-4, "rad": 1e-4, "1/kelvin": 1e-6}
#: Rows whose other side is computed anew wherever the page is written.
COMPUTED = ("computed |", "repeated |")
each = pytest.mark.parametrize(
    "row", ROWS, ids=[f"{row.formula}-{number}" for number, row in enumerate(ROWS)]
)


@each
def test_agrees_with_the_outside(row):
    pairs = ledger.side_by_side(ledger.ours(row), ledger.theirs(row))
    for one, other in zip(*pairs, strict=True):
        np.testing.assert_allclose(one, other, rtol=row.within, atol=0)


@each
def test_row_is_honest(row):
    assert row.provenance in ledger.PROVENANCE
    assert (row.expected is None) == bool(row.computed_by)
    if row.provenance == "independent computation":
        assert row.computed_by
    elif row.computed_by:
        assert row.provenance == "same formula, other words"
    assert 0 <= row.within <= 0.2
    if row.within > 0.006:
        assert row.reason, "a wide tolerance needs its reason"


@each
def test_row_says_where_it_comes_from(row):
    """A published value names its source and the place in it, any other how it was come by."""
    if row.provenance in ledger.PRINTED:
        assert row.source in ledger.sources()
        assert len(row.where) > 4 and not row.how
    else:
        assert len(row.how) > 10
        assert not (row.source or row.where or row.read_again)


@pytest.mark.parametrize("key", ledger.sources())
def test_source_can_be_found(key):
    source = ledger.sources()[key]
    assert len(source.title) > 5
    assert source.address or (source.author and source.edition)
    assert source.kind in KINDS_OF_SOURCE
    assert any(row.source == key for row in ROWS), "no row names it"


@pytest.mark.parametrize("row", [row for row in ROWS if row.errs], ids=lambda row: row.formula)
def test_row_errs_to_the_side_it_says(row):
    side, _, how_far = row.errs.partition(": ")
    assert side in ("high", "low") and how_far
    for ours, theirs in zip(
        *ledger.side_by_side(ledger.ours(row), ledger.theirs(row)), strict=True
    ):
        assert np.all(ours > theirs if side == "high" else ours < theirs)


@each
def test_no_input_is_next_to_nothing(row):
    """A coefficient of 1e-12 or an angle of a thousandth of a degree tries another formula."""
    for name, value in row.arguments.items():
        least = LEAST.get(names.entry(name, row.formula.split(".")[0]).unit)
        if least and not isinstance(value, str):
            sizes = np.abs(np.ravel(value)).astype(float)
            assert np.all((sizes == 0) | (sizes > least)), name


def test_page_for_readers_is_the_ledger_as_it_stands():
    """All but what the other computations gave, which `test_agrees_with_the_outside` holds."""

    def without(lines):
        for line in lines:
            cells = line.split(" | ")
            yield cells[:3] + cells[5:] if cells[-1] in COMPUTED else cells

    def outside(row):
        return ledger.ours(row) if row.computed_by else ledger.theirs(row)

    text = ledger_page.PAGE.read_text("utf-8")
    printed = text.partition(ledger_page.LEDGER_HEAD)[2]
    now = "\n".join(ledger_page.entries(outside)) + "\n"
    assert ledger_page.totals() in text
    assert list(without(printed.strip().splitlines())) == list(without(now.strip().splitlines())), (
        "python -m tests.ledger_page writes it anew"
    )
