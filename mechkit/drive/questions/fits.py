"""A sleeve between a shaft and a worm: what difference of diameters holds, and what a lathe holds.

One composition of the handbook for one sleeve, pressed or bonded.  The difference is shaft
less bore on the diameter: interference is positive, a gap negative.
"""

from dataclasses import dataclass

import numpy as np

from mechkit import fits, runout, tables
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.fittings import HOLD, PRESS_FRICTION
from mechkit.drive.model.parts import Material
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import AdapterTable, BenchSheet, State

#: The sleeve's material and temper as the sheet writes them, and as the tables do.
STOCK = {
    ("brass", "soft"): "soft brass",
    ("brass", "half hard"): "half-hard brass",
    ("steel", "soft"): "steel",
}
#: The two standard fits that are shown beside the window.
METRIC_FIT, INCH_FIT = ("H7", "p6"), "FN1"
#: Where the sheet plans no sleeve: one in soft brass, bonded, its wall so thick over the
#: shaft's diameter; common practice.
PLAIN_WALL = 0.3
#: Least difference of worm bore and shaft that leaves a sleeve to turn, over the shaft;
#: common practice.
LEAST_SLEEVE = 0.15
#: An interference to begin with and at most, over the shaft; half and ten times what yields brass.
LIGHT, TIGHT = 0.4e-3, 7.5e-3
#: Nothing finer is drawn, so two draws do.
_DRAWS = 2


@dataclass(frozen=True)
class FitCase:
    """A motor's shaft and a worm that is to sit on it; all in SI."""

    shaft: float
    outside: float
    length: float
    material: str
    hold: str
    tolerance: float
    bond_strength: tuple[float, float, float]
    stall_torque: float
    allowed_swing: float
    worm_module: float
    worm_outside: float
    worm_length: float
    worm_material: str

    @property
    def worm_root(self):
        """Diameter over the bottom of the worm's thread [m]."""
        return self.worm_outside - 4.4 * self.worm_module

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def shafts(self) -> Reach:
        """Shafts of the motor [m]."""
        return Reach.times(self.shaft, 0.5, 1.25, most=(self.shaft + self.outside) / 2)

    @property
    def outsides(self) -> Reach:
        """Bores of the worm: from a thin sleeve on every shaft to the bottom of the thread [m]."""
        least = LEAST_SLEEVE * self.shaft
        thin = max(1.4 * self.shaft, self.shafts.high + least)
        return Reach(self.outside, thin, self.worm_root - least)

    @property
    def lengths(self) -> Reach:
        """Lengths of the sleeve [m]."""
        return Reach(self.length, 0.25 * self.worm_length, self.worm_length)

    @property
    def interferences(self) -> Reach:
        """How much larger the shaft may be than the bore [m]."""
        return Reach(LIGHT * self.shaft, 0.0, TIGHT * self.shaft)

    @property
    def gaps(self) -> Reach:
        """How much larger the bore may be than the shaft, past what the compound fills [m]."""
        most = workshop.BOND_GAP[1]
        return Reach(most * 3 / 8, 0.0, most * 9 / 8)

    @property
    def tolerances(self) -> Reach:
        """What a lathe holds, from a fine one to a coarse one [m]."""
        return Reach(self.tolerance, 1e-6, max(50e-6, 2 * self.tolerance))


def case_of(sheet: BenchSheet) -> FitCase:
    """The planned worm of a bench sheet on the planned motor."""
    known = Knowledge(sheet, Spread(draws=_DRAWS))
    planned = sheet.planned
    worm, shaft = planned.worm, planned.motor.shaft_diameter.value
    sleeve = planned.adapter or _plain_sleeve(planned)
    strength = sleeve.bond_strength
    swing = runout.binding_runout(
        backlash=planned.mesh.backlash.value, pressure_angle=planned.mesh.pressure_angle.value
    )
    return FitCase(
        shaft=shaft,
        outside=worm.bore.value if planned.adapter else (1 + 2 * PLAIN_WALL) * shaft,
        length=sleeve.length.value,
        material=STOCK[sleeve.material, "soft" if sleeve.material == "steel" else sleeve.temper],
        hold=sleeve.hold,
        tolerance=workshop.tolerance(sheet),
        bond_strength=(
            max(strength.value - strength.spread, 0.0),
            strength.value,
            strength.value + strength.spread,
        ),
        stall_torque=float(known.motor_planned.stall_torque(sheet.supply.voltage.value)[0]),
        allowed_swing=0.5 * float(swing),
        worm_module=worm.module.value,
        worm_outside=worm.outside_diameter.value,
        worm_length=worm.length.value,
        worm_material=worm.material,
    )


def _plain_sleeve(planned: State) -> AdapterTable:
    """The sleeve to begin with where none is planned."""
    return AdapterTable.model_validate(
        {"material": "brass", "length": planned.worm.length.text, "hold": "bond"}
    )


@dataclass(frozen=True)
class FitWindow:
    """What one sleeve holds and stands, and how near lathe and instruments come; all in SI."""

    shaft: float
    outside: float
    length: float
    material: str
    hold: str
    difference: float
    tolerance: float
    needed: float
    yields: float
    yields_late: float
    pressure: float
    hoop: float
    stress: float
    strength: float
    torque: float
    torque_low: float
    torque_high: float
    torque_hot: float
    times: float
    press_force: float
    release: float
    swing: float
    metric_fit: tuple[float, float]
    inch_fit: tuple[float, float]

    @property
    def window(self):
        """Room between what holds and what yields, on the diameter; negative where none is."""
        return self.yields - self.needed

    @property
    def pressed(self):
        """True where it is held by pressing."""
        return self.hold == "press"

    @property
    def yielded(self):
        """True where the bore of the sleeve is stretched for good."""
        return self.pressed and self.difference > self.yields

    @property
    def spread(self):
        """Least and most difference that a lathe of this tolerance gives."""
        return self.difference - self.tolerance, self.difference + self.tolerance

    @property
    def reached(self):
        """True where everything that the lathe may give is good."""
        low, high = self.spread
        least, most = self.needed, self.yields
        if not self.pressed:
            least, most = -workshop.BOND_GAP[1], -workshop.BOND_GAP[0]
        return bool(least <= low + 1e-12 and high <= most + 1e-12)

    @property
    def bore(self):
        """Bore of the sleeve [m]."""
        return self.shaft - self.difference


def window(case, *, shaft, outside, length, material, hold, difference, tolerance):
    """Judge one sleeve.

    Parameters
    ----------
    case : FitCase
        The motor, the worm and the compound.
    shaft, outside : float
        Motor shaft, and sleeve outside = bore of the worm [m]
    length : float
        Length in contact [m]
    material : str
        One of `STOCK`'s values.
    hold : str
        ``"press"`` or ``"bond"``.
    difference : float
        Shaft less bore on the diameter, negative for a gap [m]
    tolerance : float
        What lathe and instruments hold, to either side [m]
    """
    metal, steel = Material(material), Material("steel")
    pair = {
        "diameter": shaft, "hub_outer": outside,
        "hub_modulus": metal.elastic_modulus, "hub_poisson": metal.poisson,
        "shaft_modulus": steel.elastic_modulus, "shaft_poisson": steel.poisson,
    }  # fmt: skip
    strength, strength_late = tables.band("materials", material, "yield_strength")
    needed = fits.interference_for_torque(
        torque=HOLD * case.stall_torque, length=length, friction=PRESS_FRICTION, **pair
    )
    yields, late = (
        float(fits.yield_interference(yield_strength=limit, **pair))
        for limit in (strength, strength_late)
    )
    pressure = fits.interference_pressure(diametral_interference=max(difference, 0.0), **pair)
    # beyond first yield the joint is counted as if it held no more than there
    counted = pressure * min(1.0, yields / difference) if difference > 0 else 0.0
    if hold == "press":
        frictions = np.array(tables.band("joints", "press fit, degreased", "friction"))
        torques = fits.slip_torque(
            pressure=counted, diameter=shaft, length=length, friction=frictions[[0, 0, 1]]
        )
        hot = torques[0]
        force = fits.press_force(
            pressure=counted, diameter=shaft, length=length, friction=frictions[1]
        )
    else:
        torques = fits.bond_torque(
            shear_strength=np.array(case.bond_strength), diameter=shaft, length=length
        )
        hot = torques[0] * _worst_share(material)
        force = 0.0
    stress = fits.hub_von_mises_stress(pressure=pressure, diameter=shaft, hub_outer=outside)
    return FitWindow(
        shaft=shaft, outside=outside, length=length, material=material, hold=hold,
        difference=difference, tolerance=tolerance, needed=float(needed),
        yields=yields, yields_late=late, pressure=float(pressure),
        hoop=float(fits.hub_hoop_stress(pressure=pressure, diameter=shaft, hub_outer=outside)),
        stress=float(stress), strength=strength,
        torque=float(torques[1]), torque_low=float(torques[0]), torque_high=float(torques[2]),
        torque_hot=float(hot), times=float(torques[1]) / case.stall_torque,
        press_force=float(force), release=_release(material, shaft, difference),
        swing=max(-2 * difference, 0.0),
        metric_fit=_ends(fits.fit_interference(
            diameter=shaft, hole_class=METRIC_FIT[0], shaft_class=METRIC_FIT[1])),
        inch_fit=_ends(fits.inch_fit_interference(diameter=shaft, fit_class=INCH_FIT)),
    )  # fmt: skip


def _ends(ends):
    """Least and most as plain numbers."""
    return float(ends[0]), float(ends[1])


def _worst_share(material):
    """What is left of a compound's sheet strength when hot, and on brass; both at their worst."""
    share = tables.band("joints", "retaining compound", "hot_share")[0]
    if material != "steel":
        share *= tables.band("joints", "retaining compound", "metal_share")[0]
    return share


def _release(material, shaft, difference):
    """Rise in temperature that lets a press go [kelvin]; infinite where none does."""
    hub, core = (tables.value("materials", name, "expansion") for name in (material, "steel"))
    if difference <= 0 or hub <= core:
        return np.inf
    return float(
        fits.release_temperature(
            diametral_interference=difference,
            diameter=shaft,
            hub_expansion=hub,
            shaft_expansion=core,
        )
    )
