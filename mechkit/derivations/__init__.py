"""Twins of the handbook's pages: each formula derived by sympy, step by step.

A derivation file holds one function a formula, of the same name, that returns a
`Derivation` (steps that sympy performs) or an `Empirical` (a fit or a table, and whose).
Notebooks print these objects; the tests hold them against the handbook.
"""

import importlib
import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import sympy as sp

from mechkit import names

#: The handbook's chapters in the order in which a reader meets them, each with its pages; one
#: without pages is a page itself.
TOPICS = {
    "scale": (),
    "gears": ("sizes", "pair", "teeth", "mesh", "gauging"),
    "worm": ("pair", "loads"),
    "runout": ("eccentric", "stackup"),
    "wear": ("rates", "mesh"),
    "motor": ("running", "winding", "pulsed"),
    "flywheel": ("wheel", "sizing"),
    "fits": ("press", "joints", "knurls", "knurl_joints", "creep"),
    "bearings": (),
    "alignment": (),
    "springs": ("coil", "stock", "washers"),
    "suspension": ("axles", "equalizing", "ride"),
    "wheels": ("wheelsets", "rods", "truck", "contacts"),
    "traction": (),
}


def inputs(*wanted):
    """Positive real symbols with the names of the arguments.

    >>> inputs("outer", "bore")
    (outer, bore)
    """
    return tuple(sp.Symbol(name, positive=True) for name in wanted)


@dataclass(frozen=True, repr=False)
class Derivation:
    """How one formula follows from first principles.

    Parameters
    ----------
    function : callable
        The handbook function that the last line must equal.
    steps : sequence of (sentence, expression)
        What is done, in words, and what sympy made of it.
    result : sympy expression
        The last line; its symbols carry the names of the function's arguments.
    inside : mapping
        For each argument the useful range (low, high), or a list of allowed values, on which
        both are compared.
    tolerance : float
        Relative difference allowed between the two.
    """

    function: Callable[..., Any]
    steps: Sequence[tuple[str, sp.Basic]]
    result: sp.Expr
    inside: Mapping[str, Any]
    tolerance: float = 1e-12

    @property
    def topic(self):
        """The chapter of the formula."""
        return self.function.__module__.split(".")[1]

    def latex(self, expression):
        """LaTeX of an expression, symbols printed with the letters of the vocabulary."""
        letters = {
            symbol: names.entry(symbol.name, self.topic).letter
            for symbol in expression.free_symbols
            if symbol.name in names.NAMES or f"{self.topic}.{symbol.name}" in names.NAMES
        }
        return sp.latex(expression, symbol_names=letters, mul_symbol=r"\,")

    def __repr__(self):
        return f"{self.topic}.{self.function.__name__}, derived in {len(self.steps)} steps"

    def _repr_markdown_(self):
        """What a notebook shows: every step, then the formula and its letters."""
        lines = [f"{sentence}\n\n$${self.latex(step)}$$" for sentence, step in self.steps]
        formula = f"**{self.function.__name__.replace('_', ' ')}** $$ = {self.latex(self.result)}$$"
        legend = ", ".join(
            f"${entry.letter}$ {entry.words}" + ("" if entry.unit == "-" else f" [{entry.unit}]")
            for entry in (names.entry(name, self.topic) for name in self.inside)
        )
        return "\n\n".join([*lines, formula, legend])


@dataclass(frozen=True, repr=False)
class Empirical:
    """A fit, a table or a counting rule: nothing to derive, and the reason why.

    ``whose`` says who measured or agreed it; ``inside`` gives the useful ranges; with
    ``scales=False`` the formula holds in its own units only (a table in meters).
    """

    function: Callable[..., Any]
    whose: str
    inside: Mapping[str, Any] = field(default_factory=dict)
    scales: bool = True

    @property
    def topic(self):
        """The chapter of the formula."""
        return self.function.__module__.split(".")[1]

    def __repr__(self):
        return f"{self.topic}.{self.function.__name__}, not derived: {self.whose}"

    def _repr_markdown_(self):
        return f"**{self.function.__name__.replace('_', ' ')}** is not derived: {self.whose}"


def pages(topic):
    """The names of a chapter's pages, below a room: ``gears.sizes``, or the chapter alone."""
    return [f"{topic}.{page}" for page in TOPICS[topic]] or [topic]


def public_functions(topic):
    """The public formulas of one chapter, by name, page by page."""
    return {
        name: thing
        for page in pages(topic)
        for name, thing in vars(importlib.import_module(f"mechkit.{page}")).items()
        if inspect.isfunction(thing)
        and thing.__module__ == f"mechkit.{page}"
        and not name.startswith("_")
    }


def twin(topic, name):
    """What derives one formula, by chapter and name."""
    page = public_functions(topic)[name].__module__.removeprefix("mechkit.")
    return getattr(importlib.import_module(f"mechkit.derivations.{page}"), name)


def of(topic, name):
    """The derivation of one formula, by chapter and name."""
    return twin(topic, name)()


def offered(chapter):
    """What a chapter's package says when asked for a derivation: the one of its pages."""
    topic = chapter.rpartition(".")[2]

    def ask(name):
        for page in TOPICS[topic]:
            found = vars(importlib.import_module(f"{chapter}.{page}"))
            if name in found and not name.startswith("_"):
                return found[name]
        raise AttributeError(f"module {chapter!r} has no attribute {name!r}")

    return ask
