"""What the readings of one state tell: every constant from all of them at once, and what is left."""

from dataclasses import dataclass

from mechkit.drive.constants.identify import CONSTANTS, Advice, Identified
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band, Spread
from mechkit.units import show

#: How each constant is shown, and where a drive keeps it.
SHOWN = {
    "resistance": ("resistance", lambda drive: drive.motor.resistance),
    "torque_constant": ("constant", lambda drive: drive.motor.torque_constant),
    "motor_friction": ("torque", lambda drive: drive.motor.friction_torque),
    "starting_voltage": ("voltage", lambda drive: drive.starting_voltage),
    "running_friction": ("torque", lambda drive: drive.running_friction),
    "damping": ("drag", lambda drive: drive.damping),
    "efficiency": ("percent", lambda drive: drive.efficiency),
    "inertia": ("inertia", lambda drive: drive.turning_inertia),
}


@dataclass(frozen=True)
class Line:
    """One constant with its band."""

    key: str
    band: Band

    @property
    def words(self) -> str:
        """What it is."""
        return CONSTANTS[self.key]


@dataclass(frozen=True)
class Told:
    """What the readings of one state tell, what they leave open, and what to read next."""

    when: str
    lines: tuple[Line, ...]
    bad: tuple[str, ...]
    loose: tuple[str, ...]
    advice: Advice | None

    def remarks(self) -> list[str]:
        """Everything but the numbers, a sentence each."""
        found = [
            f"{reading} does not belong to the others: read it again; the page counts without it."
            for reading in self.bad
        ]
        found += [f"{words}." for words in self.loose]
        if self.advice:
            found.append(f"one reading more would help most: {_advised(self.advice)}.")
        return [f"{words[:1].upper()}{words[1:]}" for words in found]


def _percent(share: float) -> str:
    """Two digits of a share."""
    return show(share, "percent", decimals=1 if share < 0.0995 else 0)


def _advised(advice: Advice) -> str:
    """The reading and what it gives, errors as 95 % bands."""
    before, after = (_percent(1.96 * each) for each in (advice.error, advice.error_after))
    return f"{advice.reading}. It would bring {advice.constant} from ±{before} to ±{after} or so"


def told(when: str, found: Identified, drive: Drive, spread: Spread) -> Told:
    """The answer of one state."""
    lines = tuple(Line(key, spread.band(of(drive), kind)) for key, (kind, of) in SHOWN.items())
    bad = tuple(found.fit.bench.called(place) for place in found.bad)
    return Told(when, lines, bad, found.loose, found.advice)
