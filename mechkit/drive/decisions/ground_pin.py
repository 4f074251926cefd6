"""The adapter from a ground pin: its outside as bought, only the bore made; beside the sleeve."""

from dataclasses import dataclass

import numpy as np

from mechkit import fits, runout, tables
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import cures
from mechkit.drive.decisions.decision import Ask, Decision, Exact, judge
from mechkit.drive.decisions.fittings import HOLD, LEAST_WALL, PRESS_FRICTION
from mechkit.drive.decisions.seat import WETTED
from mechkit.drive.model.parts import Amount, Material
from mechkit.drive.model.read import SLIDE, slid_on
from mechkit.units import Reading

#: A wall thinner than this part of the motor's shaft tears as it is drilled; common practice, no
#: source.
WALL = 0.15
#: The pin as it is drilled: soft and ground, for a hard one takes no drill.
METAL = "steel"
#: A worm has half of its throw from the backlash, the gear the other half.
PART = 0.5
#: The grades' table ends here, as far as shafts go [m].
GRADED = 50e-3
#: Compound gives way so far over a warm room; makers' sheets [kelvin].
LETS_GO = 130.0


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the pin, where the sheet has one beside its sleeve."""
    planned = known.sheet.planned
    return {"pin": decide} if planned.ground_pin and planned.adapter else {}


@dataclass(frozen=True)
class Pin:
    """A bored pin on the motor's shaft and in the worm, with its draws."""

    known: Knowledge
    shaft: Amount
    outside: Amount
    worm_bore: Amount
    worm_root: Amount
    length: Amount
    strength: Amount

    @property
    def bore(self) -> float:
        """What it is bored to [m]."""
        return float(slid_on(self.known.sheet.planned.motor.shaft_diameter.value))

    @property
    def wall(self) -> Amount:
        """Wall that the bore leaves [m]."""
        return (self.outside - self.bore) / 2

    @property
    def interference(self) -> Amount:
        """Pin less the worm's bore [m]; negative where it slides."""
        return self.outside - self.worm_bore

    @property
    def stiffness(self) -> Amount:
        """Pressure for each meter of interference, hollow pin in a bored worm [Pa/m]."""
        worm, pin = self.worm_metal, Material(METAL)
        return fits.interference_pressure(
            diameter=self.outside,
            hub_outer=np.maximum(self.worm_root, LEAST_WALL * self.outside),
            diametral_interference=1.0,
            hub_modulus=worm.elastic_modulus,
            hub_poisson=worm.poisson,
            shaft_modulus=pin.elastic_modulus,
            shaft_poisson=pin.poisson,
            shaft_bore=np.minimum(self.bore, self.outside / LEAST_WALL),
        )

    @property
    def worm_metal(self) -> Material:
        """Of the worm."""
        return Material(self.known.sheet.planned.worm.material)

    @property
    def most(self) -> Amount:
        """Interference at which the worm yields, or the pin's bore closes for good [m]."""
        outer = np.maximum(self.worm_root, LEAST_WALL * self.outside)
        stress = fits.hub_von_mises_stress(pressure=1.0, diameter=self.outside, hub_outer=outer)
        hollow = 1 - np.minimum(self.bore / self.outside, 1 / LEAST_WALL) ** 2
        bears = np.minimum(
            self.worm_metal.yield_strength / stress, Material(METAL).yield_strength * hollow / 2
        )
        return bears / self.stiffness

    @property
    def holds(self) -> Amount:
        """Torque of the weaker joint: bonded on the shaft, pressed with compound in the worm."""
        inner = fits.bond_torque(
            shear_strength=self.strength, diameter=self.shaft, length=self.length
        )
        pressed = np.clip(self.interference, 0.0, self.most) * self.stiffness
        outer = fits.slip_torque(
            pressure=pressed, diameter=self.outside, length=self.length, friction=PRESS_FRICTION
        ) + WETTED * fits.bond_torque(
            shear_strength=self.strength, diameter=self.outside, length=self.length
        )
        return np.minimum(inner, outer)


def pin_of(known: Knowledge) -> Pin:
    """The pin that the sheet plans."""
    planned, tools = known.sheet.planned, known.sheet.instruments
    table, sleeve = planned.ground_pin, planned.adapter
    assert table
    assert sleeve
    fine = (tools.micrometer or tools.caliper).value
    called = table.outside.value
    low, high = fits.limits(diameter=min(called, GRADED), tolerance_class=table.grade)
    ground = low + (high - low) * known.spread.share("grinding of the pin")
    return Pin(
        known=known,
        shaft=known.spread.reading("shaft of the motor", planned.motor.shaft_diameter, fine),
        outside=called + ground,
        worm_bore=known.spread.reading("bore of the worm", planned.worm.bore, fine),
        worm_root=known.worm_planned.root_diameter,
        length=known.size("length of the sleeve", sleeve.length),
        strength=known.spread.reading("bond strength", sleeve.bond_strength),
    )


def decide(known: Knowledge) -> list[Decision]:
    """Whether it can be bored, goes in, holds and runs true."""
    pin = pin_of(known)
    return [wall(known, pin), fit(known, pin), hold(known, pin), true(known, pin)]


def _called(known: Knowledge) -> float:
    """Size that the pin is called by [m]."""
    table = known.sheet.planned.ground_pin
    assert table
    return table.outside.value


def wall(known: Knowledge, pin: Pin) -> Decision:
    """What the bore leaves of the pin."""
    least = WALL * pin.shaft
    return judge(
        known.spread,
        "pin wall",
        value=pin.wall,
        limit=least,
        cure=lambda: (
            "thicker",
            {"needed": Exact(_called(known) + 2 * cures.safely(least - pin.wall), "center")},
        ),
        bore=Exact(pin.bore, "length"),
    )


def fit(known: Knowledge, pin: Pin) -> Decision:
    """A ground pin in the worm as it is bored: light press or slide."""
    over = pin.interference
    force = fits.press_force(
        pressure=np.clip(over, 0.0, pin.most) * pin.stiffness,
        diameter=pin.outside,
        length=pin.length,
        friction=PRESS_FRICTION,
    )
    return judge(
        known.spread,
        "pin fit",
        case="press" if over[0] > 0 else "slides",
        value=over,
        limit=pin.most,
        cure=lambda: (
            "ream",
            {"needed": Exact(float(pin.worm_bore[0]) + cures.safely(over - pin.most), "center")},
        ),
        force=known.spread.band(force, "force"),
        gap=known.spread.band(-over, "micron"),
    )


def hold(known: Knowledge, pin: Pin) -> Decision:
    """The weaker of its two joints against the stalled motor."""
    stall = known.planned.motor.stall_torque(known.sheet.supply.voltage.value)
    return judge(
        known.spread,
        "pin",
        case=_expands(pin),
        value=pin.holds,
        limit=HOLD * stall,
        cure=lambda: (
            "longer",
            {
                "needed": Exact(
                    float(pin.length[0]) * cures.safely(HOLD * stall / pin.holds), "length"
                )
            },
        ),
        stall=known.spread.band(stall, "torque"),
        release=known.spread.band(_release(pin), "rise"),
    )


def _expansion(metal: Material) -> float:
    return float(tables.value("materials", metal.name, "expansion"))


def _expands(pin: Pin) -> str:
    """Whether heat opens the worm more than it swells the pin."""
    return "opens" if _expansion(pin.worm_metal) > 1.1 * _expansion(Material(METAL)) else "alike"


def _release(pin: Pin) -> Amount:
    """Rise at which the worm lets go of the pin [kelvin]: compound's, or more for a tight press."""
    if _expands(pin) == "alike":
        return np.full_like(pin.outside, LETS_GO)
    press = fits.release_temperature(
        diametral_interference=np.maximum(pin.interference, 0.0),
        diameter=pin.outside,
        hub_expansion=_expansion(pin.worm_metal),
        shaft_expansion=_expansion(Material(METAL)),
    )
    return np.maximum(press, LETS_GO)


def true(known: Knowledge, pin: Pin) -> Decision:
    """The throw that is left: one gap, and the bore's own."""
    table, mesh = known.sheet.planned.ground_pin, known.sheet.planned.mesh
    assert table
    lathe = known.sheet.instruments.lathe.value
    swing = known.spread.reading("bore of the pin", table.bore_swing or Reading(lathe, lathe))
    return judge(
        known.spread,
        "pin true",
        value=SLIDE + swing + np.maximum(-pin.interference, 0.0),
        limit=PART
        * runout.binding_runout(
            backlash=known.backlash_planned, pressure_angle=mesh.pressure_angle.value
        ),
        cure=lambda: ("turn", {}),
        swing=known.spread.band(swing, "fine"),
        turned=Exact(2 * SLIDE, "fine"),
    )
