"""One decision: a question of the bench, its number, the limit, the margin, how sure, and why."""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model.spread import Band, Spread
from mechkit.drive.sheet.hour import answers
from mechkit.units import System, show

Sense = Literal["at most", "at least"]
Verdict = Literal["good", "watch", "wrong"]
#: A verdict in words: on what was found, and on what is planned (go and no-go gauge).
FOUND: dict[Verdict, str] = {"good": "sound", "watch": "doubtful", "wrong": "wrong"}
PLANNED: dict[Verdict, str] = {"good": "go", "watch": "watch", "wrong": "no go"}

#: Kept in so many of the draws a limit counts as safe; in fewer than half it is broken.
SAFE, EVEN = 0.9, 0.5


def say(text: str, numbers: dict[str, Any], system: System) -> str:
    """A sentence with its numbers in the reader's units."""
    said = {
        name: number.say(system) if hasattr(number, "say") else str(number)
        for name, number in numbers.items()
    }
    return text.format(**said)


@dataclass(frozen=True)
class Decision:
    """A number held against a limit, with what it means and what to do about it."""

    key: str
    group: str
    question: str
    value: Band
    limit: Band
    sense: Sense
    kept: float
    finding: str
    action: str
    notebook: str
    numbers: dict[str, Any] = field(default_factory=dict)
    reason: str = ""
    #: Where there is no number to hold against the limit: what stands in its place.
    instead: str = ""

    @property
    def verdict(self) -> Verdict:
        """Good, watch or wrong, by how many of the draws keep the limit."""
        return "good" if self.kept >= SAFE else "watch" if self.kept >= EVEN else "wrong"

    @property
    def sure(self) -> float:
        """How sure the verdict is, from 0.5 to 1."""
        return max(self.kept, 1 - self.kept)

    @property
    def unsure(self) -> Band:
        """The number or the limit, whichever has the wider band."""
        return max((self.value, self.limit), key=lambda band: band.high - band.low)

    @property
    def margin(self) -> float:
        """How far inside the limit, as a fraction of it; negative where it is broken."""
        room = self.limit.value - self.value.value
        return (room if self.sense == "at most" else -room) / abs(self.limit.value or 1.0)

    def words(self, system: System = "metric") -> str:
        """What was found, in the reader's units."""
        return say(self.finding, {"value": self.value, "limit": self.limit, **self.numbers}, system)

    def todo(self, system: System = "metric") -> str:
        """What to do, in the reader's units."""
        return say(self.action, {"value": self.value, "limit": self.limit, **self.numbers}, system)


def fixed(value, kind: str) -> Band:
    """A number without a spread, as a limit of the trade; of draws, the first, as it is read."""
    plain = float(np.ravel(value)[0])
    return Band(plain, plain, plain, kind)


@dataclass(frozen=True)
class Exact:
    """A size as it is set or turned: all the decimals that its kind is read to."""

    value: float
    kind: str

    def say(self, system: System = "metric") -> str:
        """The size in the reader's units."""
        return show(self.value, self.kind, system)


#: How a question is answered: by one decision or by several that go together.
Ask = Callable[[Knowledge], "Decision | list[Decision]"]


def answered(known: Knowledge, kind: str, asked: dict[str, Ask]) -> list[Decision]:
    """The decisions that what was measured allows."""
    made = [ask(known) for key, ask in asked.items() if answers(known.sheet, kind, key)]
    return [one for some in made for one in (some if isinstance(some, list) else [some])]


@cache
def words() -> dict[str, dict[str, Any]]:
    """The words of every decision, by its key."""
    return tomllib.loads(Path(__file__).with_name("words.toml").read_text("utf-8"))


def _said(key: str, name: str, case: str) -> str:
    """One of a decision's sentences, in the case that it has come to."""
    found = words()[key].get(name, "")
    return found if isinstance(found, str) else found[case]


#: What would pass: which of a decision's cures, and the numbers in it.
Cure = tuple[str, dict[str, Any]]


def judge(
    spread: Spread,
    key: str,
    *,
    value,
    limit,
    case: str = "",
    cure: Callable[[], Cure] | None = None,
    **numbers,
) -> Decision:
    """Hold a number against its limit in every draw at once.

    ``value`` and ``limit`` may be arrays, one value a draw; the verdict counts the draws.
    ``case`` names which of a decision's sentences are meant, where it has several.  ``cure`` is
    asked only where the limit is broken, and what it says takes the place of the action.
    """
    said = words()[key]
    kept = spread.chance(
        np.less_equal(value, limit)
        if said["sense"] == "at most"
        else np.greater_equal(value, limit)
    )
    action = _said(key, "action", case)
    if cure and kept < EVEN:
        which, more = cure()
        action, numbers = said["cure"][which], numbers | more
    return Decision(
        key=key,
        group=said["group"],
        question=said["question"],
        value=spread.band(value, said["kind"]),
        limit=spread.band(limit, said["kind"]),
        sense=said["sense"],
        kept=kept,
        finding=_said(key, "finding", case),
        action=action,
        notebook=said["notebook"],
        numbers=numbers,
        reason=_said(key, "reason", case),
    )


def impossible(key: str, *, case: str, **numbers) -> Decision:
    """A no-go for what has no number: the finding says why, the action what would give one."""
    said, none = words()[key], fixed(0.0, "number")
    return Decision(
        key=key,
        group=said["group"],
        question=said["question"],
        value=none,
        limit=none,
        sense=said["sense"],
        kept=0.0,
        finding=_said(key, "finding", case),
        action=_said(key, "action", case),
        notebook=said["notebook"],
        numbers=numbers,
        reason=_said(key, "reason", case),
        instead="none",
    )


@dataclass(frozen=True)
class Headline:
    """One number of before against after."""

    key: str
    words: str
    before: Band
    planned: Band
    after: Band | None

    @property
    def agrees(self) -> bool | None:
        """Whether what was measured after meets what was planned; None before the work."""
        return None if self.after is None else self.planned.meets(self.after)
