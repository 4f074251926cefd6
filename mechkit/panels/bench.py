"""The bench page: boxes for an evening's readings, each answered at once, all in one file."""

import logging
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import anywidget
import traitlets as t

from mechkit.drive.questions import bench, on_track
from mechkit.drive.sheet import SheetError, engines
from mechkit.drive.sheet.filling import Filling
from mechkit.panels import dress
from mechkit.units import System, label, shown

LOG = logging.getLogger(__name__)
#: Where an engine begins that has no file yet.
FILE = "my_engine.toml"


#: What stands where the page is not live.
ASLEEP = "<p>The boxes open here once the page is run: <i>Run</i>, <i>Run All Cells</i>.</p>"


class Bench(anywidget.AnyWidget):
    """The page in the browser: what it shows is `page`, what is typed comes as messages."""

    _esm = Path(__file__).with_suffix(".js")
    _css = Path(__file__).with_suffix(".css")
    style_sheet = t.Unicode().tag(sync=True)
    page = t.Dict().tag(sync=True)
    #: The answers beside the first boxes, at once.
    beside = t.Dict().tag(sync=True)
    #: All answers with their bands; runs beside the model; what each reading would be worth:
    #: made one after the other while the hands rest.
    answers = t.Dict().tag(sync=True)
    curves: t.List[Any] = t.List().tag(sync=True)
    worth = t.Dict().tag(sync=True)

    def __init__(self, path: str | Path = FILE):
        self.filling = Filling.of(path)
        self.system: System = "metric"
        super().__init__(style_sheet=dress.style(), page=self._page())
        self.rest()
        self.on_msg(self._heard)

    def __repr__(self) -> str:
        """Of which file it is the page."""
        return f"Bench({self.filling.sheet.path.name!r})"

    def _repr_mimebundle_(self, **more: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """The page, and a word for where no kernel makes it live."""
        data, about = super()._repr_mimebundle_(**more) or ({}, {})
        return {**data, "text/html": ASLEEP}, about

    # -- what a hand does ---------------------------------------------------------------

    def enter(self, typed: dict[str, str]) -> None:
        """Texts into boxes, by the keys of the sheet."""
        self.filling.enter(typed, self.system)
        self._show()

    def undo(self) -> None:
        """Take the last entry back."""
        self.filling.undo()
        self._show()

    def take_out(self, place: str) -> None:
        """Take a run, a coast or a room out."""
        self.filling.take_out(place)
        self._show()

    def turn(self, system: System) -> None:
        """Say all sizes in the other system, and take bare numbers in it."""
        self.system = system
        self._show()

    def again(self) -> None:
        """Read the file again, after other hands have been at it."""
        self.filling.again()
        self._show()

    def put(self) -> None:
        """Open every page on this engine."""
        engines.put(self.filling.sheet.path)
        self._show()

    def rest(self) -> None:
        """Make all answers with their bands; then what takes longer."""
        sheet = self.filling.sheet
        found = asdict(bench.answered(sheet, self.system))
        self.beside = found.pop("beside")
        self.answers = found

    def look(self) -> None:
        """Draw the runs beside the model."""
        sheet = self.filling.sheet
        self.curves = [] if sheet.lacks else list(self._curves())

    def weigh(self) -> None:
        """Say what each reading that was not taken would do."""
        sheet = self.filling.sheet
        self.worth = {} if sheet.lacks else bench.worth(sheet, self.system)

    def _show(self) -> None:
        """Answer the hand, then show what stands in the boxes now."""
        self.beside = bench.beside(self.filling.sheet, self.system)
        self.page = self._page()

    def _heard(self, _, message: dict[str, Any], buffers) -> None:
        """Do what the page asks; what goes wrong is one line on the page."""
        acts = {
            "enter": lambda: self.enter(
                {str(key): str(text) for key, text in message["typed"].items()}
            ),
            "undo": self.undo,
            "out": lambda: self.take_out(str(message["place"])),
            "system": lambda: self.turn("inch" if message["system"] == "inch" else "metric"),
            "again": self.again,
            "rest": self.rest,
            "look": self.look,
            "weigh": self.weigh,
            "put": self.put,
        }
        try:
            acts[message["do"]]()
        except SheetError as error:
            self.page = {**self.page, "unsaved": str(error)}
        except Exception:
            LOG.exception("the bench page")
            self.page = {**self.page, "unsaved": "Something broke here; the file is as it was."}

    # -- what stands on the page --------------------------------------------------------

    def _page(self) -> dict[str, Any]:
        filling, system = self.filling, self.system
        sheet = filling.sheet
        return {
            "title": sheet.data.title if not sheet.lacks else "",
            "file": sheet.path.name,
            "system": system,
            "length": [label("length", system), shown(1.0, "length", system)],
            "lacks": list(sheet.lacks),
            "first": [asdict(box) for box in bench.first(sheet, system)],
            "cards": [asdict(card) | {"taken": card.taken} for card in bench.cards(sheet, system)],
            "engine": asdict(bench.engine(sheet)),
            "faults": dict(filling.faults),
            "waits": dict(filling.waits),
            "unsaved": filling.unsaved,
            "undo": len(filling.before),
            "on_bench": engines.path() == sheet.path,
        }

    def _curves(self) -> Iterator[dict[str, Any]]:
        for curve in on_track.curves(self.filling.sheet.data):
            unit, per = label(curve.kind, self.system), shown(1.0, curve.kind, self.system)
            yield asdict(curve) | {"unit": unit, "per": per}


def show(path: str | Path | None = None) -> Bench:
    """The bench page on a file, begun if it is not there yet: the engine on the bench, or a new one."""
    path = path or engines.path() or engines.NOTE.with_name(FILE)
    return Bench(path)
