"""The bench page: boxes for an evening's readings, each answered at once, all in one file."""

import logging
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
    #: What takes longer than an answer, made while the hands rest.
    later = t.Dict().tag(sync=True)

    def __init__(self, path: str | Path = FILE):
        self.filling = Filling.of(path)
        self.system: System = "metric"
        super().__init__(style_sheet=dress.style(), page=self._page())
        self.on_msg(self._heard)

    def __repr__(self) -> str:
        """Of which file it is the page."""
        return f"Bench({self.filling.sheet.path.name!r})"

    def _repr_mimebundle_(self, **more):
        """The page, and a word for where no kernel makes it live."""
        data, *rest = super()._repr_mimebundle_(**more)
        return {**data, "text/html": ASLEEP}, *rest

    # -- what a hand does ---------------------------------------------------------------

    def enter(self, typed: dict[str, str]) -> None:
        """Texts into boxes, by the keys of the sheet."""
        self.filling.enter(typed, self.system)
        self.page = self._page()

    def undo(self) -> None:
        """Take the last entry back."""
        self.filling.undo()
        self.page = self._page()

    def take_out(self, place: str) -> None:
        """Take a run, a coast or a room out."""
        self.filling.take_out(place)
        self.page = self._page()

    def turn(self, system: System) -> None:
        """Say all sizes in the other system, and take bare numbers in it."""
        self.system = system
        self.page = self._page()

    def again(self) -> None:
        """Read the file again, after other hands have been at it."""
        self.filling.again()
        self.page = self._page()

    def put(self) -> None:
        """Open every page on this engine."""
        engines.put(self.filling.sheet.path)
        self.page = self._page()

    def rest(self) -> None:
        """Make what takes longer."""
        sheet = self.filling.sheet
        self.later = {} if sheet.lacks else self._later()

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
            "answers": asdict(bench.answered(sheet, system)),
            "engine": asdict(bench.engine(sheet)),
            "faults": dict(filling.faults),
            "waits": dict(filling.waits),
            "unsaved": filling.unsaved,
            "undo": len(filling.before),
            "on_bench": engines.path() == sheet.path,
        }

    def _later(self) -> dict[str, Any]:
        sheet, system = self.filling.sheet, self.system
        return {
            "curves": [
                asdict(curve)
                | {"unit": label(curve.kind, system), "per": shown(1.0, curve.kind, system)}
                for curve in on_track.curves(sheet.data)
            ],
            "worth": bench.worth(sheet, system),
        }


def show(path: str | Path | None = None) -> Bench:
    """The bench page on a file, begun if it is not there yet: the engine on the bench, or a new one."""
    path = path or engines.path() or engines.NOTE.with_name(FILE)
    return Bench(path)
