"""Notebooks stay thin, run in order, and are stored with what they show."""

import ast
import re
from itertools import pairwise

import nbformat
import pytest

from mechkit.lab_server import WIDGET
from mechkit.launch import CHECKOUT

NOTEBOOKS = sorted((CHECKOUT / "notebooks").glob("*.ipynb"))
#: One question each, and the way in.
EXPECTED = {
    "start",
    "bench",
    "rebuild",
    "wear",
    "flywheel",
    "fits",
    "gears",
    "springs",
    "motion",
    "diagnose",
    "choose",
}

every_notebook = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)


def read(path):
    """A notebook, valid or refused."""
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    return notebook


def code(notebook):
    """Its code cells."""
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def lines(cell):
    """The lines of a code cell that do something."""
    return [
        line
        for line in cell.source.splitlines()
        if line.strip() and not line.strip().startswith("#")
    ]


def headings(notebook):
    """(level, words) of every heading."""
    text = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    text = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    return [(len(m[1]), m[2].strip()) for m in re.finditer(r"^(#+) (.+)$", text, re.MULTILINE)]


def test_every_question_has_its_notebook():
    assert {path.stem for path in NOTEBOOKS} == EXPECTED


@every_notebook
def test_cells_are_short(path):
    cells = code(read(path))
    for number, cell in enumerate(cells, 1):
        assert len(lines(cell)) <= 6, f"code cell {number}"
    assert sum(len(lines(cell)) for cell in cells) <= 40


@every_notebook
def test_nothing_is_defined_in_a_cell(path):
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Lambda)
    for number, cell in enumerate(code(read(path)), 1):
        for node in ast.walk(ast.parse(cell.source)):
            assert not isinstance(node, kinds), f"code cell {number}"


@every_notebook
def test_it_was_run_from_top_to_bottom(path):
    cells = code(read(path))
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    assert any(cell.outputs for cell in cells)


@every_notebook
def test_no_cell_failed(path):
    for number, cell in enumerate(code(read(path)), 1):
        for output in cell.outputs:
            assert output.output_type != "error", f"code cell {number}: {output.ename}"
            assert output.get("name") != "stderr", f"code cell {number}: {output.text}"


@every_notebook
def test_panels_are_stored_as_pictures(path):
    notebook = read(path)
    assert "widgets" not in notebook.metadata
    for number, cell in enumerate(code(notebook), 1):
        for output in cell.outputs:
            data = output.get("data", {})
            assert not ("image/png" in data and WIDGET in data), f"code cell {number}"


@every_notebook
def test_it_names_the_kernel_that_every_python_has(path):
    assert read(path).metadata.kernelspec.name == "python3"


@every_notebook
def test_it_is_small(path):
    assert path.stat().st_size < 1_500_000


@every_notebook
def test_headings_form_a_ladder(path):
    found = headings(read(path))
    levels = [level for level, _ in found]
    assert levels[0] == 1 and levels.count(1) == 1, "one title, on top"
    assert all(below <= above + 1 for above, below in pairwise(levels))


@every_notebook
def test_its_title_stands_in_the_first_cell(path):
    first = read(path).cells[0]
    assert first.cell_type == "markdown"
    assert first.source.startswith("# ")


#: The parts of every question's notebook, in this order; `start` is the way in and has its own.
PARTS = ["try it by hand", "where it comes from", "cautions", "sources"]


@pytest.mark.parametrize(
    "path",
    [p for p in NOTEBOOKS if p.stem not in {"start", "bench", "rebuild"}],
    ids=lambda path: path.stem,
)
def test_parts_stand_in_their_order(path):
    words = [heading.lower() for _, heading in headings(read(path))]
    places = [next((n for n, w in enumerate(words) if w.startswith(part)), None) for part in PARTS]
    missing = [part for part, place in zip(PARTS, places, strict=True) if place is None]
    assert not missing
    assert places == sorted(places)
