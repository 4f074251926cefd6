"""Every page opens on any engine: a beginner's five readings, and an engine that nobody tuned for."""

import linecache
import re
from pathlib import Path

import nbformat
import pytest

from mechkit.drive.sheet import engines
from tests.engines import drawn, sheet

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
PAGES = sorted(path.stem for path in NOTEBOOKS.glob("*.ipynb") if path.stem != "bench")
BEGINNER = """
[locomotive]
scale = "1:87"
weight = "310 g"
weight_on_drivers = "205 g"
[measured_before]
starting_voltage = ["3.1 V"]
[[measured_before.runs]]
voltage = "12 V"
distance = "2 m"
time = "4.1 s"
"""
#: Drawn, with an idler or without, no flywheel and no sleeve.
SEED = 9302


@pytest.fixture(scope="module", params=["beginner", "drawn"])
def laid(request, tmp_path_factory):
    """A sheet on the bench."""
    text = BEGINNER if request.param == "beginner" else sheet.sheet_text(drawn.draw(SEED), SEED)
    path = tmp_path_factory.mktemp("bench") / "engine.toml"
    path.write_text(text, "utf-8")
    return path


@pytest.mark.parametrize("page", PAGES)
def test_a_page_runs_from_top_to_bottom_on_the_engine_on_the_bench(page, laid, monkeypatch, capsys):
    monkeypatch.setattr(engines, "path", lambda: laid)
    monkeypatch.chdir(NOTEBOOKS)
    known: dict[str, object] = {}
    for number, cell in enumerate(nbformat.read(f"{page}.ipynb", 4).cells):
        if cell.cell_type == "code":
            name = f"<{page}, cell {number}>"
            linecache.cache[name] = (len(cell.source), None, cell.source.splitlines(True), name)
            exec(compile(cell.source, name, "exec"), known)
    said = capsys.readouterr().out
    assert not re.search(r"\bnan\b", said)
    bench = known.get("bench")
    if page != "choose":  # an empty drawer gives way to the demo's, and says so
        assert bench is None or bench.path == laid
    else:
        assert "No motors and gear sets" in said
