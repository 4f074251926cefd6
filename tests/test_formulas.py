"""What every public formula owes: signature, docstring, vocabulary, twins."""

import importlib
import inspect

import pytest

from mechkit import derivations, names
from tests import docstrings, ledger, ledger_page
from tests.formulas import all_formulas, twin

FORMULAS = all_formulas()
IDS = [f"{topic}.{name}" for topic, name, _ in FORMULAS]
each = pytest.mark.parametrize(("topic", "name", "function"), FORMULAS, ids=IDS)


@each
def test_arguments_are_keyword_only_and_in_the_vocabulary(topic, name, function):
    for argument in inspect.signature(function).parameters.values():
        assert argument.kind is inspect.Parameter.KEYWORD_ONLY, argument.name
        names.entry(argument.name, topic)


@each
def test_docstring_is_a_handbook_entry(topic, name, function):
    sections = docstrings.sections(function)
    assert {"Parameters", "Returns", "Raises", "Notes", "Examples"} <= set(sections)
    assert "Source:" in sections["Notes"] or "Sources:" in sections["Notes"]
    assert ">>>" in sections["Examples"]


@each
def test_docstring_units_are_those_of_the_vocabulary(topic, name, function):
    promised = docstrings.units(function, "Parameters")
    assert list(promised) == list(inspect.signature(function).parameters)
    for argument, unit in promised.items():
        assert unit == names.entry(argument, topic).unit, argument
    assert all(docstrings.units(function, "Returns").values()), "a result without a unit"


@each
def test_is_called_by_its_chapter(topic, name, function):
    chapter = importlib.import_module(f"mechkit.{topic}")
    assert getattr(chapter, name) is function
    assert name in getattr(chapter, "__all__", [name])


@pytest.mark.parametrize("topic", derivations.TOPICS)
def test_a_page_is_called_as_no_formula_is(topic):
    """Or the page, once loaded, would stand where the chapter offers the formula."""
    assert not {*derivations.TOPICS[topic], "stance"} & {*derivations.public_functions(topic)}


@each
def test_has_a_derivation_and_an_outside_value(topic, name, function):
    assert twin(topic, name) is not None, "no derivation, and no Empirical that says why not"
    assert any(row.formula == f"{topic}.{name}" for row in ledger.rows()), "no outside value"
    assert ledger_page.holds(topic, name) in ledger_page.PAGE.read_text("utf-8"), (
        "python -m tests.ledger_page writes it anew"
    )


def test_derivations_derive_only_what_exists():
    for topic in derivations.TOPICS:
        for page in derivations.pages(topic):
            module = importlib.import_module(f"mechkit.derivations.{page}")
            made = {
                name
                for name, thing in vars(module).items()
                if inspect.isfunction(thing)
                and thing.__module__ == module.__name__
                and not name.startswith("_")
            }
            page = f"mechkit.{page}"
            here = derivations.public_functions(topic).items()
            assert made <= {name for name, one in here if one.__module__ == page}, page


def test_docstring_rounds_trip_through_the_parser():
    def sample(*, outer):
        """One sentence.

        Parameters
        ----------
        outer : float or array
            Outside diameter [m], greater than 0

        Returns
        -------
        inertia : float or array
            Moment [kg*m^2]
        """

    assert docstrings.units(sample, "Parameters") == {"outer": "m"}
    assert docstrings.units(sample, "Returns") == {"inertia": "kg*m^2"}
