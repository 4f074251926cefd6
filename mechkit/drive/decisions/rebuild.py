"""The whole job: a bench sheet in, every decision out, each with its margin and its reason."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from mechkit.drive.constants import told
from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.decisions import findings, fittings, plan, proof, workshop
from mechkit.drive.decisions.decision import Decision, Headline
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.layout import Layout
from mechkit.drive.sheet.schema import BenchSheet


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

    @cached_property
    def told(self) -> tuple[told.Told, ...]:
        """What all readings tell together, as it is and after the work."""
        known = self.known
        found = [told.told("before", known.told_before, known.before, known.spread)]
        if known.told_after and known.after:
            found.append(told.told("after", known.told_after, known.after, known.spread))
        return tuple(found)

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
        return next(one for one in (*self.faults, *self.decisions) if one.key == key)

    def headline(self, key: str) -> Headline:
        """One headline number by its key."""
        return next(one for one in self.headlines if one.key == key)


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
    """Before, as planned, and as measured after."""
    for key, (words, kind, ask) in quantities(known).items():
        before, planned = (
            known.spread.band(ask(one), kind) for one in (known.before, known.planned)
        )
        after = None
        if known.after and key not in COMPUTED:
            after = known.spread.band(ask(known.after), kind)
        yield Headline(key, words, before, planned, after)


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
    decided = (*plan.decide(known), *fittings.decide(known))
    progress("sizes for the lathe")
    parts = tuple(part for part in (workshop.adapter(sheet), workshop.flywheel(sheet)) if part)
    progress("planned against measured")
    proved = tuple(proof.checks(known))
    return Rebuild(sheet, known, found, decided, numbers, parts, proved)
