"""Which engine lies on the bench: a list of the sheets beside the notebooks, one of them chosen."""

import html
from pathlib import Path
from typing import Any

import ipywidgets as w

from mechkit.drive.sheet import DEMO, SheetError, engines, load
from mechkit.panels import dress

#: What stands where the list is not live.
ASLEEP = "<p>The list of engines opens here once the page is run.</p>"


class Engines(w.VBox):
    """The list, and a word about what happens next."""

    def __init__(self) -> None:
        there = engines.path()
        self.choice = w.Dropdown(
            options=[(called(path), str(path)) for path in engines.engines()],
            value=str(there) if there and there.exists() else str(DEMO),
            description="On the bench",
        ).add_class("mk-choice")
        self.said = w.HTML("")
        self.choice.observe(self._chosen, "value")
        style = w.HTML(dress.style(), layout=w.Layout(display="none"))
        row = w.HBox([self.choice, self.said]).add_class("mk-foot")
        super().__init__([style, row])
        self.add_class("mk-panel")

    def _chosen(self, change: Any) -> None:
        """Put it on the bench; pages that are open show it when they are run again."""
        path = Path(change.new)
        try:
            engines.put(None if path == DEMO else path)
        except OSError as error:
            self.said.value = html.escape(f"It could not be noted: {error.strerror}")
            return
        self.said.value = "Run this page again, and open the others: they show it."

    def __repr__(self) -> str:
        """What lies there."""
        return f"Engines({self.choice.label!r})"

    def _repr_mimebundle_(self, **more: Any) -> dict[str, Any]:
        """The list, and a word for where no kernel makes it live."""
        return {**super()._repr_mimebundle_(**more), "text/html": ASLEEP}


def called(path: Path) -> str:
    """An engine by the title of its sheet, or by its file where that cannot be read."""
    try:
        return f"{load(path).data.title} ({path.name})"
    except SheetError:
        return f"{path.name}, not whole yet"


def show() -> Engines:
    """The list of engines."""
    return Engines()
