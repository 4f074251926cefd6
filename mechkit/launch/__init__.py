"""From a fresh clone to a running command, with nothing but Python: standard library only."""

from pathlib import Path

#: The folder that holds the notebooks and pyproject.toml when the kit runs from a clone.
CHECKOUT = Path(__file__).resolve().parents[2]
