"""Finding the fault by hand: which cause is left after each test, and which test to do next.

The knowledge is data (`hand_tests.toml`): for every cause what each test would answer.
What is left is whatever agrees with all answers; the next test is the one that leaves
the fewest causes for its minutes.
"""

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple


class Trial(NamedTuple):
    """Something to do by hand, the answers it can give, and the minutes it takes."""

    key: str
    ask: str
    answers: tuple[str, ...]
    minutes: float
    after: str


class Cause(NamedTuple):
    """What can be wrong, what to do, and the faults of a rebuild that speak of it."""

    key: str
    words: str
    remedy: str
    faults: tuple[str, ...]
    says: Mapping[str, tuple[str, ...]]

    def agrees(self, answers: Mapping[str, str]) -> bool:
        """Whether this cause would have answered so."""
        return all(test not in self.says or it in self.says[test] for test, it in answers.items())


@cache
def trials() -> dict[str, Trial]:
    """Every test by its key."""
    return {
        key: Trial(key, row["ask"], tuple(row["answers"]), row["minutes"], row.get("after", ""))
        for key, row in _data()["trials"].items()
    }


@cache
def causes() -> dict[str, Cause]:
    """Every cause by its key."""
    return {
        key: Cause(
            key,
            row["words"],
            row["remedy"],
            tuple(row["faults"]),
            {test: tuple(answers) for test, answers in row["says"].items()},
        )
        for key, row in _data()["causes"].items()
    }


@cache
def _data():
    return tomllib.loads(Path(__file__).with_suffix(".toml").read_text("utf-8"))


def left(answers: Mapping[str, str]) -> list[Cause]:
    """The causes that agree with every answer.

    Raises
    ------
    ValueError
        There is no such test, or it has no such answer.

    Examples
    --------
    >>> [cause.key for cause in left({"repeats": "twice a wheel turn"})]
    ['rods']
    """
    for test, answer in answers.items():
        if test not in trials():
            raise ValueError(f"{test}: no such test; there are {', '.join(trials())}")
        if answer not in trials()[test].answers:
            raise ValueError(f"{test} = {answer!r}: one of {', '.join(trials()[test].answers)}")
    return [cause for cause in causes().values() if cause.agrees(answers)]


def doubtful(answers: Mapping[str, str]) -> list[str]:
    """Where no cause agrees: the tests of which one, done again, could bring one back.

    >>> doubtful({"repeats": "twice a wheel turn", "rods": "stays"})
    ['repeats', 'rods']
    """
    if left(answers):
        return []
    return [
        test
        for test in answers
        if left({other: answer for other, answer in answers.items() if other != test})
    ]


def next_trial(answers: Mapping[str, str]) -> Trial | None:
    """The test that settles most for its minutes; None where no test would tell more.

    >>> next_trial({}).key, next_trial({"repeats": "twice a wheel turn"})
    ('repeats', None)
    """
    now = left(answers)
    best: tuple[float, Trial] | None = None
    for test in trials().values():
        if test.key in answers or len(now) < 2:
            continue
        gain = (len(now) - _expected(test, now)) / _minutes(test, answers)
        if gain > 1e-9 and (best is None or gain > best[0]):
            best = gain, test
    return best[1] if best else None


def _minutes(test: Trial, answers: Mapping[str, str]) -> float:
    """What a test takes, with what must come off before it."""
    before = trials()[test.after].minutes if test.after and test.after not in answers else 0
    return test.minutes + before


def _expected(test: Trial, now: list[Cause]) -> float:
    """How many causes a test leaves on average, if all that are left are as likely.

    A cause that is silent about a test promises nothing: it is counted with the answer that
    leaves the most.
    """
    left_by = {
        answer: sum(one.agrees({test.key: answer}) for one in now) for answer in test.answers
    }
    total = 0.0
    for cause in now:
        says = cause.says.get(test.key)
        total += (
            sum(left_by[answer] for answer in says) / len(says) if says else max(left_by.values())
        )
    return total / len(now)


def course(cause: str) -> list[tuple[Trial, str]]:
    """The tests that lead to a cause, with its answers: the way through the tree.

    >>> [(test.key, answer) for test, answer in course("axle_gear")][0]
    ('repeats', 'once a wheel turn')
    """
    answers: dict[str, str] = {}
    way = []
    while (test := next_trial(answers)) is not None:
        answer = causes()[cause].says.get(test.key, test.answers)[-1]
        answers[test.key] = answer
        way.append((test, answer))
    return way


def suspects(broken: Iterable[str]) -> list[Cause]:
    """The causes that the readings already point at, by the faults that a rebuild found."""
    found = set(broken)
    return [cause for cause in causes().values() if found & set(cause.faults)]
