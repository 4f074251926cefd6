"""The whole job: a bench sheet in, every decision out, each with its margin and its reason."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.constants.told import Told
from mechkit.drive.constants.told import told as tell
from mechkit.drive.decisions import (
    ballast,
    bed,
    bowed_shim,
    findings,
    fittings,
    gains,
    ground_pin,
    hub,
    pick_up,
    plan,
    proof,
    pulses,
    seat,
    workshop,
    worm_bearings,
    worth,
)
from mechkit.drive.decisions.decision import Ask, Decision, Headline, answered
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.layout import Layout
from mechkit.drive.model.spread import Band
from mechkit.drive.sheet import hour
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.units import System


@dataclass(frozen=True)
class Rebuild:
    """Everything that the build sheet says."""

    sheet: BenchSheet
    known: Knowledge
    faults: tuple[Decision, ...]
    decisions: tuple[Decision, ...]
    headlines: tuple[Headline, ...]
    parts: tuple[workshop.Part, ...]
    proof: tuple[proof.Check, ...]

    @property
    def partial(self) -> bool:
        """Whether something that the page computes with was not measured."""
        return bool(self.sheet.assumed)

    @property
    def plans(self) -> bool:
        """Whether the plan is asked about: an engine of which little is known plans nothing yet."""
        return not self.partial or self.sheet.planned != self.sheet.as_is

    @cached_property
    def openings(self) -> list[hour.Opening]:
        """What is missing, by the questions that it would open."""
        asked = [("answer", "skid"), *(("headline", key) for key in quantities(self.known))]
        asked += [("wrong", key) for key in findings.asked(self.known)]
        if self.plans:
            asked += [("change", key) for key in changes_asked(self.known)]
        return hour.openings(self.sheet, asked)

    @cached_property
    def skid(self) -> Band | None:
        """How far it skids on locked drivers from full throttle, where that can be said [m]."""
        if not hour.answers(self.sheet, "answer", "skid"):
            return None
        drive = self.known.before
        rail = drive.rail_speed(drive.motor_speed_at(self.sheet.supply.voltage.value))
        return self.known.spread.band(drive.skid(rail), "length")

    @cached_property
    def worth(self) -> list[worth.Worth]:
        """What readings that were not taken would do for the numbers that are answered."""
        answered = {line.key for line in self.headlines}
        asks = {
            key: (kind, ask)
            for key, (_, kind, ask) in quantities(self.known).items()
            if key in answered
        }
        return worth.worth(self.known, asks)

    @cached_property
    def gains(self) -> gains.Gains:
        """What each change of the plan gains, alone and in the order of the work."""
        return gains.gains(self.known)

    @cached_property
    def told(self) -> tuple[Told, ...]:
        """What all readings tell together, as it is and after the work."""
        known = self.known
        found = [tell("before", known.told_before, known.before, known.spread)]
        if known.told_after and known.after:
            found.append(tell("after", known.told_after, known.after, known.spread))
        return tuple(self._measured(one) for one in found)

    def _measured(self, one: Told) -> Told:
        """Without the constants that hang on what nobody measured."""
        kept = tuple(line for line in one.lines if hour.answers(self.sheet, "constant", line.key))
        return replace(one, lines=kept)

    @property
    def layouts(self) -> list[Layout]:
        """Every way to lay the drive, the chosen one first."""
        return self.known.layouts

    @property
    def groups(self) -> dict[str, list[Decision]]:
        """The decisions by group, in the order of the work."""
        found: dict[str, list[Decision]] = {}
        for decision in self.decisions:
            found.setdefault(decision.group, []).append(decision)
        return found

    def decision(self, key: str) -> Decision:
        """One decision or fault by its key."""
        return self._one((*self.faults, *self.decisions), key)

    def said(self, key: str, system: System = "metric", todo: bool = False) -> str:
        """What was found of one question and, if asked, what to do; or what it waits for."""
        try:
            one = self.decision(key)
        except LookupError as error:
            asked = (one.words for (_, name), one in hour.questions().items() if name == key)
            words = next(asked, key)
            return f"{words[:1].upper()}{words[1:]}: {error.args[0].partition(': ')[2]}."
        if not todo:
            return one.words(system)
        return f"{one.question} {one.words(system)} {one.todo(system)}"

    def headline(self, key: str) -> Headline:
        """One headline number by its key."""
        return self._one(self.headlines, key)

    def _one(self, answers, key: str):
        """An answer by its key, or the readings that it waits for."""
        found = next((one for one in answers if one.key == key), None)
        if found is None:
            lacks = {
                step.name: step.words
                for opening in self.openings
                if any(question.key == key for question in opening.questions)
                for step in opening.steps
            }
            asked = "; ".join(lacks.values())
            waits = f"waits for {asked}" if asked else "this engine does not ask it"
            raise LookupError(f"{key!r} is open: {waits}")
        return found


def quantities(known: Knowledge) -> dict[str, tuple[str, str, Callable[[Drive], object]]]:
    """The headline numbers: key -> words, kind, and how a drive answers."""
    sheet = known.sheet
    volts, slow = sheet.supply.voltage.value, findings.creep_voltage(sheet)
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    return {
        "start": ("Starts at", "voltage", lambda drive: drive.starting_voltage),
        "creep": (
            "Speed at a quarter of full throttle",
            "speed",
            lambda drive: drive.speed_at(slow),
        ),
        "top": ("Speed at full throttle", "speed", lambda drive: drive.speed_at(volts)),
        "current": ("Current at full throttle", "current", lambda drive: drive.current_at(volts)),
        "friction": (
            "Running friction at the motor",
            "torque",
            lambda drive: drive.running_friction,
        ),
        "efficiency": ("Mesh efficiency", "percent", lambda drive: drive.efficiency),
        "coast": (
            "Rolls on from scale top speed, rails open",
            "length",
            lambda drive: drive.coast(rail),
        ),
        "coast shorted": (
            "The same, rails shorted",
            "length",
            lambda drive: drive.coast(rail, True),
        ),
        "felt mass": ("Rotor and flywheel feel like", "heavy", lambda drive: drive.felt_mass),
        "pull": ("Drawbar pull at slip", "force", lambda drive: drive.pull_at_slip),
        "stall margin": (
            "Stall torque over slip",
            "number",
            lambda drive: drive.stall_margin(volts),
        ),
    }


#: What no reading shows by itself: it stays computed after the work too.
COMPUTED = {"felt mass", "stall margin"}


def headlines(known: Knowledge) -> Iterator[Headline]:
    """Before, as planned, and as measured after, of what can be answered."""
    for key, (words, kind, ask) in quantities(known).items():
        if not hour.answers(known.sheet, "headline", key):
            continue
        before, planned = (
            known.spread.band(ask(one), kind) for one in (known.before, known.planned)
        )
        after = None
        if known.after and key not in COMPUTED:
            after = known.spread.band(ask(known.after), kind)
        yield Headline(key, words, before, planned, after)


def _fits_known(sheet: BenchSheet) -> bool:
    """Whether what a turned part must go on or into was measured."""
    return not {"planned.motor.shaft_diameter", "planned.worm.bore"} & sheet.assumed.keys()


def _turned(known: Knowledge) -> Iterator[workshop.Part | None]:
    """What is turned for the plan, as far as its partners were measured."""
    if _fits_known(known.sheet):
        yield workshop.adapter(known.sheet)
        yield workshop.flywheel(known.sheet)
    yield hub.sleeve(known)


def changes_asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the drive as planned."""
    asks: dict[str, Ask] = {}
    for topic in (
        *(plan, fittings, seat, ground_pin, worm_bearings, bowed_shim, hub),
        *(bed, ballast, pick_up, pulses),
    ):
        asks |= topic.asked(known)
    return asks


def rebuild(sheet: BenchSheet, progress: Callable[[str], None] = lambda step: None) -> Rebuild:
    """Work the whole job from one bench sheet.

    ``progress`` is told each step in words as it begins.
    """
    known = known_of(sheet)
    progress("constants from the readings")
    numbers = tuple(headlines(known))
    progress("what is wrong")
    found = tuple(findings.find(known))
    progress("what to change")
    plans = not sheet.assumed or sheet.planned != sheet.as_is
    decided = tuple(answered(known, "change", changes_asked(known))) if plans else ()
    progress("sizes for the lathe")
    parts = tuple(part for part in _turned(known) if part)
    progress("planned against measured")
    proved = tuple(proof.checks(known))
    return Rebuild(sheet, known, found, decided, numbers, parts, proved)
