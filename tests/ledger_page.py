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
    "published, worked on by hand": "worked on",
    "independent computation": "computed",
    "same formula, other words": "repeated",
    "common practice, no source": "practice",
    "from memory": "memory",
}
#: What could tell that a formula is wrong, and not only mistyped.
TELLING = {"published", "published, worked on by hand", "independent computation"}
HEAD = """# The handbook, and what holds it

Written by `python -m tests.ledger_page`; do not edit.

Every formula has a twin that sympy derives from first principles, or, where it is a fit, a
table or a counting rule, says whose. *Dimensions*: measured again in odd units, the answer
scales by its own unit; a table in its own units cannot. The last columns count the values
from outside: *published*, the value stands at the place named; *worked on*, the rule or the
numbers stand there and ours was worked out of them by hand; *computed* another way by a
general-purpose library; *repeated*, the same formula in other words, which finds slips and
no wrong physics; *practice* (common practice, no source); from *memory* (nobody can go and
look).
"""
SOURCES_HEAD = """
## The sources

What the published rows name, and how many do. The worked solutions are a book's problems
solved by others and handed round; a companion is somebody's program for a book's example and
prints what it computes, which need not be what the book prints; a calculator computes, and
its own example is taken.
"""
ERRS_HEAD = """
## Known to err to one side

Where the value beside ours is of a fuller theory or was measured; a test holds the side.
"""
LEDGER_HEAD = """
## Every outside value

Ours and theirs in the unit that the formula returns; *within* is the relative difference
allowed, half of the last digit that the source prints or the reason given. *Read again*: once
more at its source when the sources were written down.
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


def origin(row):
    """Where a value comes from, in words."""
    if not row.source:
        return row.how
    again = " (read again)" if row.read_again else ""
    return f"{ledger.sources()[row.source]}, {row.where}{again}"


def shelf():
    """One line a source."""
    yield line("source", "kind", "rows", "address")
    yield "|---|---|--:|---|"
    counts = Counter(row.source for row in ledger.rows())
    for key, source in sorted(ledger.sources().items(), key=lambda pair: str(pair[1])):
        yield line(source, source.kind, counts[key], source.address or "–")


def one_sided():
    """One line a formula that is known to err, and how."""
    told = {(row.formula, row.errs): None for row in ledger.rows() if row.errs}
    yield from (f"- `{formula}` errs {errs}" for formula, errs in told)


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
        wider = f"wider: {row.reason}" if row.reason else ""
        remarks = (origin(row), wider, f"errs {row.errs}" if row.errs else "", row.note)
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
    """How many formulas and values of each kind, and what rests on too little."""
    rows = ledger.rows()
    counts = Counter(row.provenance for row in rows)
    kinds = ", ".join(f"{counts[kind]} {name}" for kind, name in KINDS.items())
    printed = [row for row in rows if row.source]
    of_kind = Counter(ledger.sources()[row.source].kind for row in printed)
    told = {row.formula for row in rows if row.provenance in TELLING}
    bare = [
        f"`{topic}.{name}`" for topic, name, _ in all_formulas() if f"{topic}.{name}" not in told
    ]
    return (
        f"{len(all_formulas())} formulas; {len(rows)} outside values: {kinds}.\n\n"
        f"Of the {len(printed)} that name a source, {sum(row.read_again for row in printed)} were "
        f"read again at it. Kinds of source: "
        f"{', '.join(f'{number} from {kind}' for kind, number in of_kind.most_common())}.\n\n"
        f"Only repeated, practice or memory stands behind {len(bare)}: {', '.join(bare)}.\n"
    )


def page():
    """The whole page."""
    parts = [HEAD, totals(), *coverage(), ERRS_HEAD, *one_sided(), SOURCES_HEAD, *shelf()]
    return "\n".join([*parts, LEDGER_HEAD, *entries(ledger.theirs), ""])


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
    print(f"{PAGE.name} written")
