"""Run the notebooks anew and store what they show: ``python -m tests.run_notebooks [NAME ...]``."""

import os
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
# What is stored shows the demo, whatever engine lies on the bench.
os.environ["MECHKIT_ON_BENCH"] = "demo"
WIDGET = "application/vnd.jupyter.widget-view+json"


def run(path: Path) -> None:
    """Run one in a fresh kernel; panels stay as pictures, times and widgets are not kept."""
    book = nbformat.read(path, 4)
    NotebookClient(
        book,
        timeout=300,
        kernel_name="python3",
        store_widget_state=False,
        record_timing=False,
        resources={"metadata": {"path": str(path.parent)}},
    ).execute()
    for output in (each for cell in book.cells for each in cell.get("outputs", [])):
        if {"image/png", "text/html"} & output.get("data", {}).keys():
            output["data"].pop(WIDGET, None)
    book.metadata.pop("widgets", None)
    nbformat.write(book, path)


if __name__ == "__main__":
    for one in sys.argv[1:] or sorted(path.stem for path in NOTEBOOKS.glob("*.ipynb")):
        print(one, flush=True)
        run(NOTEBOOKS / f"{one}.ipynb")
