"""The kit before its judge: the only file here that knows the kit.

Each engine's sheet is loaded and rebuilt; what comes back is a page, one line, or a traceback,
and the bands of a page are held against the truth.
"""

import importlib
import re
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

import mechkit
from mechkit.drive import sheet as sheets
from mechkit.drive.constants import knowledge
from mechkit.drive.decisions.rebuild import headlines, rebuild
from mechkit.drive.model import spread
from tests.engines import drawn, partial, recorded, sheet, truth
from tests.engines.parts import Engine, Flywheel

PANELS = ("flywheel", "rebuild", "gears", "wear", "springs", "fits", "motion", "choose", "diagnose")
KIT = Path(mechkit.__file__).parent
#: Choices that are held against the truth, of those that fit.
CHOICES = 6


@dataclass(frozen=True)
class Held:
    """One band against its truth."""

    key: str
    when: str
    value: float
    low: float
    high: float
    true: float

    @property
    def covers(self) -> bool:
        """Whether the truth lies in the band, or in the last printed digit of a bare number."""
        slack = 1e-6 * abs(self.true)
        return self.low - slack <= self.true <= self.high + slack


@dataclass(frozen=True)
class Outcome:
    """What a question came to: page, line or traceback; the words, and where it broke."""

    kind: str
    words: str = ""
    place: str = ""


@dataclass(frozen=True)
class Verdict:
    """Everything about one engine."""

    seed: int
    outcome: Outcome
    seconds: float
    facts: dict[str, object]
    held: tuple[Held, ...] = ()
    panels: dict[str, Outcome] = field(default_factory=dict)
    moves: tuple[tuple[str, Outcome], ...] = ()
    choice: Outcome | None = None
    heard: dict[str, str] = field(default_factory=dict)


def tried(ask: Callable[[], object]) -> tuple[Outcome, object]:
    """Ask the kit; a `ValueError` is a line, as its commands print it, all else a traceback."""
    try:
        return Outcome("page"), ask()
    except ValueError as error:  # SheetError too
        words = str(error).strip()
        kind = "line" if "\n" not in words else "traceback"
        return Outcome(kind, words, _place(error)), None
    except Exception as error:
        return Outcome("traceback", f"{type(error).__name__}: {error}", _place(error)), None


def _place(error: BaseException) -> str:
    """The deepest line of the kit itself."""
    frames = traceback.extract_tb(error.__traceback__)
    inside = [f for f in frames if Path(f.filename).is_relative_to(KIT)]
    if not inside:
        return "outside the kit"
    last = inside[-1]
    return f"{Path(last.filename).relative_to(KIT).as_posix()}:{last.lineno} {last.name}"


def judge(
    seed: int,
    more: frozenset[str] = frozenset(),
    engine: Engine | None = None,
    readings: int | None = None,
) -> Verdict:
    """Put the engine of a seed, or one given, before the kit.

    ``more`` may hold panels, choose and diagnose, to ask these too; plain, for the engine
    without what no reading can tell; perfect, for a sheet without errors.  ``readings`` are so many
    of the hour's; nothing is planned then.
    """
    engine = engine or drawn.draw(seed)
    if "plain" in more:
        engine = drawn.plain(engine)
    written = sheet.write(engine, seed, "perfect" in more)
    if readings is not None:
        engine = replace(engine, after=engine.before)
    facts = _facts(engine, written.bench)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"engine_{seed}.toml"
        said = written.text if readings is None else partial.text(written.text, readings)
        path.write_text(said, "utf-8")
        began = time.perf_counter()
        outcome, loaded = tried(lambda: sheets.load(path))
        done = None
        if loaded:
            outcome, done = tried(lambda: rebuild(loaded.data))
        seconds = time.perf_counter() - began
        lines = done.headlines if done else _numbers(loaded)
        held = _headlines(engine, written.bench.warmth, lines, done and done.skid)
        panels, moves, heard, choice = {}, (), {}, None
        if loaded and "panels" in more:
            panels, moves = _panels(loaded)
        if loaded and "choose" in more and engine.drawer.motors:
            choice, picked = _choice(engine, written.bench.warmth, loaded)
            held += picked
        if loaded and "diagnose" in more:
            heard = _heard(engine, seed, loaded, Path(folder))
    return Verdict(seed, outcome, seconds, facts, held, panels, moves, choice, heard)


def _facts(engine: Engine, bench) -> dict[str, object]:
    """By what the engines may be told apart in the report."""
    return {
        "scale": engine.scale,
        "tank": engine.tank,
        "straight": len(engine.before.gears) == 1,
        "nothing": engine.before is engine.after,
        "meter": bench.meter,
        "bench": bench.kind,
        "starts": bench.starts,
        "rejected": engine.rejected,
    }


def _numbers(loaded):
    """The headline numbers where the page fails for another reason; none where they fail too."""
    if not loaded:
        return ()
    known = knowledge.Knowledge(loaded.data, spread.Spread())
    return tried(lambda: tuple(headlines(known)))[1] or ()


def _headlines(engine: Engine, warmth: float, lines, skid=None) -> tuple[Held, ...]:
    """Headline numbers against the truth: as it is, as planned, and as measured after."""
    if not lines:
        return ()
    before = truth.truths(engine, engine.before, warmth)
    after = truth.truths(engine, engine.after, warmth)
    found = []
    for when, true in (("before", before), ("planned", after), ("after", after)):
        for line in lines:
            band = getattr(line, when)
            if line.key in true and band is not None:
                found.append(Held(line.key, when, band.value, band.low, band.high, true[line.key]))
    if skid:
        found.append(Held("skid", "before", skid.value, skid.low, skid.high, before["skid"]))
    return tuple(found)


def _panels(loaded) -> tuple[dict[str, Outcome], tuple[tuple[str, Outcome], ...]]:
    """Open every panel, draw it once, and push every slider to both ends."""
    opened, moved = {}, []
    for name in PANELS:
        module = importlib.import_module(f"mechkit.panels.{name}")
        opened[name], panel = tried(lambda module=module: module.show(loaded))
        if panel is None:
            continue
        drawn_once, _ = tried(panel.frame)
        if drawn_once.kind != "page":
            opened[name] = drawn_once
        for control in panel.controls.values():
            for end in _ends(control):
                panel.reset()

                def push(panel=panel, control=control, end=end):
                    panel.set(control.name, end)
                    return panel.words

                moved.append((f"{name}.{control.name}", tried(push)[0]))
    return opened, tuple(moved)


def _ends(control):
    """Both ends of a slider, every option of a choice, both ways of a switch."""
    if hasattr(control, "low"):
        return control.low, control.high
    return getattr(control, "options", (True, False))


def _choice(engine: Engine, warmth: float, loaded) -> tuple[Outcome, tuple[Held, ...]]:
    """Try the drawer, and hold some of what fits against the truth."""
    choose = importlib.import_module("mechkit.drive.choice.choose")
    outcome, found = tried(lambda: choose.choose(loaded.data))
    if found is None:
        return outcome, ()
    fitting = found.fitting
    count = len(fitting.motor)
    if not count:
        return Outcome("page", "nothing fits"), ()
    held: list[Held] = []
    for n in np.unique(np.linspace(0, count - 1, CHOICES).astype(int)):
        place = choose.Place(*(np.array([axis[n]]) for axis in fitting))

        def numbers(place=place):
            run = found.running(place, draws=True)
            return {"start": run.start(), "top": run.top_speed()}

        asked, bands = tried(numbers)
        if bands is None:
            return asked, tuple(held)
        motor, gears, cut = (int(axis[0]) for axis in place)
        wheel = None
        if found.cuts.width[cut]:
            bar = engine.drawer.bars[int(found.cuts.bar[cut])]
            wheel = Flywheel(
                bar.material, float(found.cuts.outer[cut]), float(found.cuts.width[cut]),
                engine.drawer.motors[motor].shaft, 0.0, 1e-2, 1e-2,
            )  # fmt: skip
        true = truth.truths(engine, truth.chosen(engine, motor, gears, wheel), warmth)
        for key, draws in bands.items():
            draws = np.ravel(draws)
            low, high = np.percentile(draws[1:], [2.5, 97.5])
            held.append(Held(key, "chosen", float(draws[0]), float(low), float(high), true[key]))
    return outcome, tuple(held)


def _heard(engine: Engine, seed: int, loaded, folder: Path) -> dict[str, str]:
    """Record the engine's speed and current with one shaft at fault or none, and ask which."""
    diagnosis = importlib.import_module("mechkit.drive.diagnosis.diagnose")
    recording = importlib.import_module("mechkit.drive.diagnosis.recording")
    said = {}
    for kind in ("axle speed", "current"):
        made = recorded.record(engine, seed, kind)
        if made is None:
            continue
        text, bad = made
        path = folder / f"{kind.replace(' ', '_')}.csv"
        path.write_text(text, "utf-8")
        outcome, found = tried(
            lambda path=path: diagnosis.diagnose(recording.read(path), loaded.data)
        )
        if found is None:
            said[kind] = "cannot tell" if outcome.kind == "line" else f"traceback {outcome.place}"
            continue
        shafts = set(found.shafts)
        if bad == "none":
            said[kind] = "false alarm" if shafts else "rightly sound"
        elif bad in shafts:
            said[kind] = "right shaft" if shafts == {bad} else "right shaft and others"
        else:
            said[kind] = "wrong shaft" if shafts else "missed"
    return said


def shape(words: str) -> str:
    """A line without its numbers and paths, so that lines of one kind count as one."""
    words = re.sub(r"\S*engine_\d+\.toml", "SHEET", words)
    words = re.sub(r"line \d+", "line #", words)
    return re.sub(r"[-+]?\d[\d.,]*(?:e[-+]?\d+)?", "#", words)[:160]
