"""The rebuild as tables of plain text, in the reader's units, for whoever prints them."""

from collections.abc import Sequence
from typing import NamedTuple

from mechkit.drive.decisions.decision import FOUND, PLANNED, Decision, Verdict
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.model.spread import Band
from mechkit.drive.sheet.hour import answers
from mechkit.units import System, show

#: The mark before a verdict's word: readable without color.
MARKS: dict[Verdict, str] = {"good": "●", "watch": "◐", "wrong": "○"}


def sure(one: Decision) -> str:
    """How sure a verdict is; draws never make certain."""
    return "> 99\u00a0%" if one.sure > 0.99 else show(one.sure, "percent")


class Rows(NamedTuple):
    """A table: its heading, its column heads, its rows."""

    title: str
    head: tuple[str, ...]
    rows: Sequence[tuple[str, ...]]


def before_and_after(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Before, as planned, as measured."""
    head = ("", "as it is", "as planned", "measured after", "agrees")
    rows = [
        (
            line.words,
            line.before.say(system),
            line.planned.say(system),
            line.after.say(system) if line.after else "—",
            {True: "yes", False: "no", None: "—"}[line.agrees],
        )
        for line in rebuild.headlines
    ]
    return Rows("Before and after", head, rows)


def ranked(band: Band) -> str:
    """What a band comes from, the first to be measured better first, with shares of it."""
    return "; ".join(f"{name} {100 * share:.0f}\u00a0%" for name, share in band.sources) or "—"


def ranking(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Where the headline bands come from: what to measure better first."""
    head = ("", "band as it is comes from", "band as planned comes from")
    rows = [(line.words, ranked(line.before), ranked(line.planned)) for line in rebuild.headlines]
    return Rows("What to measure better", head, rows)


def told(rebuild: Rebuild, system: System = "metric") -> Rows:
    """What all readings tell together, and what to read next."""
    head = ("", "constant", "all readings together")
    rows: list[tuple[str, ...]] = []
    for one in rebuild.told:
        rows += [(one.when, line.words, line.band.say(system)) for line in one.lines]
        rows += [(one.when, words, "") for words in one.remarks()]
    return Rows("What your readings tell", head, rows)


def faults(rebuild: Rebuild, system: System = "metric") -> Rows:
    """What is wrong, how sure, what to do."""
    head = ("question", "verdict", "sure", "what was found", "what to do")
    rows = [
        (
            one.question,
            f"{MARKS[one.verdict]} {FOUND[one.verdict]}",
            sure(one),
            one.words(system),
            one.todo(system) if one.verdict != "good" else "",
        )
        for one in rebuild.faults
    ]
    return Rows("What is wrong", head, rows)


def decisions(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Every decision: number, limit, margin, how sure."""
    head = ("", "question", "verdict", "number", "limit", "margin", "sure", "band from")
    rows = [
        (
            one.group,
            one.question,
            f"{MARKS[one.verdict]} {PLANNED[one.verdict]}",
            one.instead or one.value.say(system),
            "—" if one.instead else f"{one.sense} {one.limit.say(system)}",
            "—" if one.instead else show(one.margin, "percent"),
            sure(one),
            one.unsure.source or "—",
        )
        for one in rebuild.decisions
    ]
    return Rows("What to change", head, rows)


def why(rebuild: Rebuild, system: System = "metric") -> Rows:
    """The same decisions in words."""

    def row(one: Decision):
        return (one.question, one.words(system), one.todo(system), one.reason)

    head = ("question", "what it comes to", "at the bench", "why this limit")
    return Rows("Why", head, [row(one) for one in rebuild.decisions])


def axles(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Every axle and direction tried."""
    head = ("drive", "tightest part", "clearance at the nearest", "left at the end")
    rows = [
        (
            one.words,
            f"{one.tightest.name}, {one.tightest.room}",
            show(one.least, "length", system),
            show(one.end_room, "length", system),
        )
        for one in (rebuild.layouts if answers(rebuild.sheet, "change", "axle") else ())
    ]
    return Rows("Which axle to drive", head, rows)


def parts(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Sizes to turn."""
    head = ("part", "of", "size", "turn to", "how")
    rows = [
        (part.name, part.material, size.words, size.say(system), size.how)
        for part in rebuild.parts
        for size in part.sizes.values()
    ]
    return Rows("Parts to turn", head, rows)


def proof(rebuild: Rebuild, system: System = "metric") -> Rows:
    """Readings after the work beside their predictions."""
    head = ("reading", "measured", "planned", "agrees")
    rows = [
        (
            check.say(system),
            check.measured.say(system),
            check.planned.say(system),
            "yes" if check.agrees else "no",
        )
        for check in rebuild.proof
    ]
    return Rows("Planned against measured", head, rows)
