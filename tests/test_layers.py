"""Imports only ever point down the list of rooms, and only new addresses are used."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

import mechkit
from mechkit import moved
from mechkit.derivations import TOPICS

ROOT = Path(mechkit.__file__).parent
#: From the ground up; a room may import its own level and what lies below.
LEVELS = [
    {"moved"}, {"names", "equations"}, {"check", "units"}, {"tables"}, set(TOPICS),
    {"derivations"}, {"drive"}, {"drawings"}, {"panels"}, {"publish"}, {"__main__", "launch", "lab_server"},
]  # fmt: skip
#: Inside the drive, from the ground up.
DRIVE = [
    "sheet", "model", "constants", "motion", "decisions", "diagnosis", "choice", "questions",
]  # fmt: skip
#: Packages that only one room may know.
ONLY = {
    "sympy": {"derivations"},
    "matplotlib": {"drawings"},
    "ipywidgets": {"panels"},
    "IPython": {"panels", "derivations"},
    "jinja2": {"publish"},
    "pint": {"units"},
    "tomlkit": {"drive"},
}
FILES = sorted(ROOT.rglob("*.py"))
TESTS = sorted(Path(__file__).parent.rglob("*.py"))
NOTEBOOKS = sorted((ROOT.parent / "notebooks").glob("*.ipynb"))
#: Packages from which modules are imported by name.
FOLDERS = {"mechkit", "mechkit.drive", *(f"mechkit.{topic}" for topic in TOPICS if TOPICS[topic])}
#: Pages of a chapter that hold no formula.
APART = {"suspension": {"stance"}}
PAGES = [path for path in FILES if path.relative_to(ROOT).with_suffix("").parts[0] in TOPICS]


def room(path):
    """The room that a file belongs to."""
    return path.relative_to(ROOT).with_suffix("").parts[0]


def level(name):
    """How high a room lies."""
    return next((n for n, rooms in enumerate(LEVELS) if name in rooms), None)


def imports(path):
    """Every module that a file imports, wherever in the file."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            if node.module in FOLDERS:
                yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_point_down(path):
    mine = room(path)
    if mine == "__init__":
        assert set(imports(path)) == {"mechkit", "mechkit.moved"}
        return
    assert level(mine) is not None, f"{mine} is in no room"
    for module in imports(path):
        parts = module.split(".")
        if parts[0] == "mechkit" and len(parts) > 1:
            assert level(parts[1]) <= level(mine), f"{mine} imports {module}, which lies higher"
        elif parts[0] in ONLY:
            assert mine in ONLY[parts[0]], f"{mine} imports {parts[0]}"


@pytest.mark.parametrize(
    "path", sorted((ROOT / "drive").glob("*/*.py")), ids=lambda path: str(path.relative_to(ROOT))
)
def test_inside_the_drive_too(path):
    mine = DRIVE.index(path.parent.name)
    for module in imports(path):
        parts = module.split(".")
        if parts[:2] == ["mechkit", "drive"] and len(parts) > 2:
            assert DRIVE.index(parts[2]) <= mine, f"{path.parent.name} imports {module}"


def test_nothing_lies_between_the_rooms_of_the_drive():
    assert [path.name for path in (ROOT / "drive").glob("*.py")] == ["__init__.py"]


@pytest.mark.parametrize(
    "path", FILES + TESTS + NOTEBOOKS, ids=lambda path: str(path.relative_to(ROOT.parent))
)
def test_nothing_here_uses_an_old_address(path):
    names = (
        imports(path)
        if path.suffix == ".py"
        else re.findall(r"\b(?:from|import) (mechkit[\w.]*)", path.read_text("utf-8"))
    )
    assert not [name for name in names if moved.page(name)]


@pytest.mark.parametrize("topic", TOPICS)
def test_a_chapter_is_a_page_or_a_folder_of_pages(topic):
    """Every page of the folder has its place in the book; those that hold no formula are named."""
    if not TOPICS[topic]:
        assert (ROOT / f"{topic}.py").is_file()
        return
    here = {path.stem for path in (ROOT / topic).glob("*.py")}
    assert here == {"__init__", *TOPICS[topic], *APART.get(topic, ())}


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_handbook_pages_know_only_the_ground(path):
    """Of their own chapter they know its pages, of another what it offers."""
    ground = {"math", "numpy", "scipy", "typing", "functools", "collections", "dataclasses"}
    chapter = room(path)
    own = {f"mechkit.{chapter}.{page}" for page in (*TOPICS[chapter], *APART.get(chapter, ()))}
    known = {"mechkit", "mechkit.names", "mechkit.check", "mechkit.tables", "mechkit.tables.sizes"}
    others = {f"mechkit.{topic}" for topic in TOPICS if topic != chapter}
    for module in imports(path):
        if module.split(".")[0] != "mechkit":
            assert module.split(".")[0] in ground, module
        elif module != f"mechkit.{chapter}":  # whose aliases come next
            assert module in known | own | others, module


@pytest.mark.parametrize(
    "path",
    FILES + TESTS,
    ids=lambda path: str(path.relative_to(ROOT.parent)),
)
def test_files_stay_short(path):
    """Code is counted, not the handbook's entries: docstrings, comments and blank lines are free."""
    assert code_lines(path) < 400


def code_lines(path):
    """How many lines hold code."""
    source = path.read_text("utf-8")
    words = set()
    for node in ast.walk(ast.parse(source)):
        holds = (ast.Module, ast.ClassDef, ast.FunctionDef)
        if isinstance(node, holds) and ast.get_docstring(node, clean=False) is not None:
            words.update(range(node.body[0].lineno, node.body[0].end_lineno + 1))
    lines = enumerate(source.splitlines(), 1)
    return sum(
        1
        for n, line in lines
        if line.strip() and not line.strip().startswith("#") and n not in words
    )


def test_the_handbook_alone_loads_no_more_than_numpy():
    """So that one formula at the prompt is there at once; scipy loads its rooms when they are called."""
    load = "; ".join(f"import mechkit.{topic}" for topic in TOPICS)
    asked = f"{load}; import sys; print([n for n in ('scipy.special', 'scipy.optimize', 'sympy', 'pint') if n in sys.modules])"
    said = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=True, cwd=ROOT.parent
    )
    assert said.stdout.strip() == "[]"
