"""Writes ``tests/ledger/README.md``: what holds every formula, and every outside value beside ours.

``python -m tests.ledger_page``; a test refuses a page that no longer agrees.
"""

from collections import Counter
from pathlib import Path

from mechkit import derivations
from tests import docstrings, ledger
from tests.formulas import all_formulas, twin

PAGE = Path(__file__).parent / "ledger" / "README.md"
#: Differences below this are rounding, and differ from machine to machine.
ROUNDING = 1e-7
KINDS = {
    "published": "published",
    "independent computation": "computed",
    "common practice, no source": "practice",
    "from memory": "memory",
}
HEAD = """# The handbook, and what holds it

Written by `python -m tests.ledger_page`; do not edit.

Every formula has a twin that sympy derives from first principles, or, where it is a fit, a
table or a counting rule, says whose. *Dimensions*: measured again in odd units, the answer
scales by its own unit; a table in its own units cannot. The last columns count the values
from outside: *published* with edition and place, *computed* another way by a general-purpose
library, *practice* (common practice, no source), and from *memory* (the page was not at hand).
"""
LEDGER_HEAD = """
## Every outside value

Ours and theirs in the unit that the formula returns; *within* is the relative difference
allowed, half of the last digit that the source prints or the reason given.
"""


def number(values):
    """Numbers to five digits, several side by side."""
    return " · ".join(f"{value + 0.0:.5g}" for one in values for value in one.flat)


def difference(row, theirs):
    """The largest relative difference, one digit."""
    worst = ledger.difference(ledger.ours(row), theirs)
    return "0" if worst < ROUNDING else f"{worst:.0e}"


def cell(text):
    """Text that cannot break a table."""
    return str(text).replace("|", "\\|").replace("\n", " ").strip()


def line(*cells):
    """One line of a table."""
    return "| " + " | ".join(map(cell, cells)) + " |"


def holds(topic, name):
    """One line: what holds a formula."""
    made = twin(topic, name)
    fit = isinstance(made, derivations.Empirical)
    counts = Counter(row.provenance for row in ledger.rows() if row.formula == f"{topic}.{name}")
    return line(
        f"`{topic}.{name}`",
        f"none: {made.whose}" if fit else f"{len(made.steps)} steps",
        "its own units only" if fit and not made.scales else "hold",
        *(counts[kind] or "–" for kind in KINDS),
    )


def coverage():
    """One line a formula."""
    yield line("formula", "derivation", "dimensions", *KINDS.values())
    yield "|---|---|---|" + "--:|" * len(KINDS)
    yield from (holds(topic, name) for topic, name, _ in all_formulas())


def entries(outside):
    """One line a row of the ledger, by topic; ``outside`` gives what the outside says."""
    topic = None
    for row in ledger.rows():
        if row.formula.split(".")[0] != topic:
            topic = row.formula.split(".")[0]
            yield f"\n### {topic}\n"
            yield line("formula", "with", "ours", "theirs", "off by", "within", "source", "how")
            yield "|---|---|--:|--:|--:|--:|---|---|"
        promised = docstrings.units(row.function, "Returns").values()
        said = outside(row)
        ours, theirs = ledger.side_by_side(ledger.ours(row), said)
        remarks = (row.source, f"wider: {row.reason}" if row.reason else "", row.note)
        yield line(
            f"`{row.formula.split('.')[1]}`",
            ", ".join(f"{name} {value}" for name, value in row.inputs.items()),
            f"{number(ours)} {' · '.join(unit for unit in promised if unit != '-')}",
            number(theirs),
            difference(row, said),
            f"{row.within:.0e}",
            "; ".join(filter(None, remarks)),
            KINDS[row.provenance],
        )


def totals():
    """How many formulas, and how many values of each kind."""
    counts = Counter(row.provenance for row in ledger.rows())
    kinds = ", ".join(f"{counts[kind]} {name}" for kind, name in KINDS.items())
    return f"{len(all_formulas())} formulas; {len(ledger.rows())} outside values: {kinds}.\n"


def page():
    """The whole page."""
    return "\n".join([HEAD, totals(), *coverage(), LEDGER_HEAD, *entries(ledger.theirs), ""])


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
    print(f"{PAGE.name} written")
