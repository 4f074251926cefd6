"""The hour at the bench: which readings a sheet has, which questions they open, and what would open more."""

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from mechkit.drive.sheet.keys import bare
from mechkit.drive.sheet.schema import BenchSheet, Table

#: The kinds of questions that are asked of the drive as planned, and of one constant alone.
OF_THE_PLAN, CONSTANT = "change", "constant"


@dataclass(frozen=True)
class Step:
    """One reading of the hour: how it is asked for, how long it takes, what it fills in."""

    name: str
    words: str
    minutes: float
    keys: tuple[str, ...]
    reads_to: float = 0.0


@dataclass(frozen=True)
class Question:
    """One question, and the sets of readings of which any one opens it."""

    kind: str
    key: str
    words: str
    any: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Opening:
    """Readings that are missing together, and the questions that they would open."""

    steps: tuple[Step, ...]
    questions: tuple[Question, ...]

    @property
    def minutes(self) -> float:
        """How long all of them take."""
        return sum(step.minutes for step in self.steps)


@cache
def _data():
    return tomllib.loads(Path(__file__).with_name("hour.toml").read_text("utf-8"))


@cache
def steps() -> dict[str, Step]:
    """Every reading in the order of the hour."""
    return {one["name"]: Step(**{**one, "keys": tuple(one["keys"])}) for one in _data()["reading"]}


@cache
def questions() -> dict[tuple[str, str], Question]:
    """Every question by its kind and key."""
    return {
        (kind, key): Question(kind, key, one["words"], tuple(map(tuple, one["any"])))
        for kind, some in _data()["question"].items()
        for key, one in some.items()
    }


def taken(sheet: BenchSheet, step: Step, state: str = "as_is") -> bool:
    """Whether a reading was taken: nothing of it is assumed, and what may be empty is not."""
    assumed, within = _spans(tuple(sheet.assumed))
    for key in step.keys:
        first, _, rest = key.partition(".")
        place = f"{state}.{rest}" if first == "as_is" else key
        if place in within or not assumed.isdisjoint(_above(place)):
            return False
        if not any(True for _ in _values(sheet, place.split("."))):
            return False
    return True


@lru_cache(maxsize=8)
def _spans(assumed: tuple[str, ...]) -> tuple[frozenset[str], frozenset[str]]:
    """What is assumed, without numbers; and that with every table around it."""
    places = frozenset(bare(key) for key in assumed)
    return places, places.union(*(_above(one) for one in places))


def _above(place: str) -> list[str]:
    """The tables around a place.

    >>> _above("as_is.gears.teeth")
    ['as_is', 'as_is.gears']
    """
    parts = place.split(".")
    return [".".join(parts[:end]) for end in range(1, len(parts))]


def _values(part, path) -> Iterator[object]:
    """Everything that stands at a place, through lists; nothing where it was left out."""
    if isinstance(part, list | tuple):
        for one in part:
            yield from _values(one, path)
    elif path and isinstance(part, Table):
        yield from _values(getattr(part, path[0], None), path[1:])
    elif part not in (None, ""):
        yield part


def lacking(sheet: BenchSheet, question: Question) -> tuple[Step, ...]:
    """The readings that would open a question soonest; none where it is open already.

    A sheet of which nothing is assumed answers everything.
    """
    if not sheet.assumed:
        return ()
    states = ("as_is", "planned") if question.kind == OF_THE_PLAN else ("as_is",)
    ways = [
        tuple(
            step
            for step in (steps()[name] for name in way)
            if not all(taken(sheet, step, state) for state in states)
        )
        for way in question.any
    ]
    return min(ways, key=lambda way: (sum(step.minutes for step in way), len(way)))


def answers(sheet: BenchSheet, kind: str, key: str) -> bool:
    """Whether a question is answered with what was measured."""
    return not lacking(sheet, questions()[kind, key])


def openings(sheet: BenchSheet, wanted: Iterable[tuple[str, str]]) -> list[Opening]:
    """What is missing, by the questions that it would open, the shortest first.

    ``wanted`` are the kinds and keys of the questions that this engine asks.
    """
    found: dict[tuple[Step, ...], list[Question]] = {}
    for question in (questions()[one] for one in wanted):
        if missing := lacking(sheet, question):
            order = tuple(step for step in steps().values() if step in missing)
            found.setdefault(order, []).append(question)
    opened = [Opening(missing, tuple(some)) for missing, some in found.items()]
    return sorted(opened, key=lambda one: (one.minutes, len(one.steps)))


def opened_by(step: Step) -> list[Question]:
    """The questions about the engine that a reading opens, once all before it are taken."""
    names = list(steps())
    before = set(names[: names.index(step.name)])
    return [
        one
        for one in questions().values()
        if one.kind not in (CONSTANT, OF_THE_PLAN)
        and not any(before >= set(way) for way in one.any)
        and any(before | {step.name} >= set(way) for way in one.any)
    ]
