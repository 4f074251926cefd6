"""The gear's seat on a knurled axle: what is left of the knurl must hold, and must not throw."""

from dataclasses import dataclass
from functools import cached_property
from math import pi

import numpy as np

from mechkit import fits
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import cures
from mechkit.drive.decisions.cures import safely
from mechkit.drive.decisions.decision import SAFE, Ask, Cure, Decision, Exact, judge
from mechkit.drive.decisions.fittings import LEAST_WALL, PRESS_FRICTION
from mechkit.drive.model.parts import Amount, Material
from mechkit.drive.model.read import SLIDE
from mechkit.units import Reading

#: Crests of a rolled knurl; common practice, no source.
CREST_ANGLE = pi / 2
#: The wheels slip before the seat does, with this to spare for a shock; common practice, no source.
SPARE = 2.0
#: Beside the crests compound wets so much of the bore; common practice, no source.
WETTED = 0.5
#: A tooth's root lies so many modules below its top on both sides.
ROOT = 4.5
#: From crest to crest of a knurl that nobody counted: 21 to the inch; common practice, no source.
COARSE = 1.2e-3


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the seat, where the sheet has one."""
    return {"seat": decide} if known.sheet.planned.seat else {}


@dataclass(frozen=True)
class Seat:
    """The axle's knurl and the gear that goes back on it, with their draws."""

    known: Knowledge
    hold: str
    axle: Amount
    found: Amount
    swing: Amount
    pitch: Amount
    turned: Reading
    bore: Amount
    strength: Amount

    def over(self, turned: float) -> Amount:
        """Over the crests once turned to a size [m]; a bush wants the plain axle."""
        if self.hold == "bush":
            return self.axle
        finest = self.known.sheet.instruments
        drawn = self.known.spread.reading(
            "over the turned crests",
            Reading(turned, self.turned.spread),
            (finest.micrometer or finest.caliper).value,
        )
        return np.clip(drawn, self.axle, np.maximum(self.found, self.axle))

    @cached_property
    def uneven(self) -> Amount:
        """Highest less lowest crest, per mean height, as found."""
        raised = np.maximum(self.found - self.axle, 1e-6) / 2
        return np.clip(self.swing / raised, 1e-3, 2.0)

    def throw(self, turned: float) -> Amount:
        """The indicator's swing that is left of the knurl's, or what a bush's gap allows [m]."""
        if self.hold == "bush":
            return self.known.spread.reading("gap of the bush", Reading(SLIDE, SLIDE / 3))
        raised = (self.over(turned) - self.axle) / 2
        return 2 * fits.knurl_eccentricity(raised_height=raised, uneven_share=self.uneven)

    @cached_property
    def joint(self) -> dict[str, Amount]:
        """Gear and axle as the knurl's formulas want them."""
        gear = self.known.gears_planned[-1]
        hub, steel = Material(gear.material), Material("steel")
        root = gear.outside_diameter - ROOT * gear.module
        return {
            "knurl_pitch": self.pitch,
            "crest_angle": CREST_ANGLE,
            "hardness": hub.hardness,
            "diameter": self.axle,
            "hub_outer": np.maximum(root, LEAST_WALL * self.axle),
            "hub_modulus": hub.elastic_modulus,
            "hub_poisson": hub.poisson,
            "shaft_modulus": steel.elastic_modulus,
            "shaft_poisson": steel.poisson,
        }

    @cached_property
    def torque(self) -> Amount:
        """What the seat passes on while the wheels slip [N*m]: all of it, rods or not."""
        return self.known.planned.rim_limit * self.known.planned.wheel_diameter / 2

    @cached_property
    def window(self) -> tuple[Amount, Amount]:
        """Over the crests less bore: the least that holds, the most before the gear yields [m]."""
        gear = self.known.gears_planned[-1]
        return fits.knurl_window(
            torque=SPARE * self.torque,
            length=gear.face_width,
            friction=PRESS_FRICTION,
            yield_strength=Material(gear.material).yield_strength,
            **self.joint,
        )

    def pressure(self, turned: float) -> Amount:
        """Between crests and gear [Pa], no more than the gear bears without yielding."""
        press = np.clip(self.over(turned) - self.bore, 0.0, self.window[1])
        return fits.knurl_pressure(diametral_interference=press, **self.joint)

    def bonded(self, share: float) -> Amount:
        """What compound holds on a share of the bore [N*m]."""
        face = self.known.gears_planned[-1].face_width
        return share * fits.bond_torque(
            shear_strength=self.strength, diameter=self.axle, length=face
        )

    def holds(self, turned: float, hold: str = "") -> Amount:
        """Torque that it holds [N*m]; of a knurl by friction alone, which errs safe."""
        hold = hold or self.hold
        if hold == "bush":
            return self.bonded(1.0)
        rubs = fits.slip_torque(
            pressure=self.pressure(turned),
            diameter=self.axle,
            length=self.known.gears_planned[-1].face_width,
            friction=PRESS_FRICTION,
        )
        return rubs + (self.bonded(WETTED) if hold == "compound" else 0.0)


def seat_of(known: Knowledge) -> Seat:
    """The seat that the sheet plans."""
    table, tools = known.sheet.planned.seat, known.sheet.instruments
    assert table
    finest = (tools.micrometer or tools.caliper).value

    def fine(name: str, reading: Reading) -> Amount:
        return known.spread.reading(name, reading, finest)

    axle = fine("axle under the gear", known.sheet.locomotive.axle_diameter)
    swing = table.crest_swing or known.sheet.as_is.gears[-1].total_runout
    return Seat(
        known=known,
        hold=table.hold,
        axle=axle,
        found=fine("over the knurl's crests", table.over_crests),
        swing=known.spread.reading("swing of the crests", swing, known.finest_runout),
        pitch=pi * axle / table.crests if table.crests else COARSE,
        turned=table.turned_to or table.over_crests,
        bore=fine("bore of the axle gear", table.bore),
        strength=known.spread.reading("bond strength of the seat", table.bond_strength),
    )


def decide(known: Knowledge) -> list[Decision]:
    """Whether the gear runs true on its axle, stays there, and is not burst by it."""
    seat = seat_of(known)
    found = [throw(known, seat), hold(known, seat)]
    return found if seat.hold == "bush" else [*found, burst(known, seat)]


def throw(known: Knowledge, seat: Seat) -> Decision:
    """What the seat throws against the runout that the plan counts on."""
    wanted = known.sheet.planned.gears[-1].total_runout.value
    return judge(
        known.spread,
        "seat throw",
        case="bush" if seat.hold == "bush" else "knurl",
        value=seat.throw(seat.turned.value),
        limit=wanted,
        cure=lambda: _truer(seat, wanted),
        turned=Exact(seat.turned.value, "center"),
        found=known.spread.band(seat.swing, "fine"),
        gear=known.sheet.planned.gears[-1].name,
    )


def _truer(seat: Seat, wanted: float) -> Cure:
    """How far to turn the crests down, where what is left then holds."""
    if seat.hold == "bush":
        return "indicate", {}
    over, axle = seat.turned.value, float(seat.axle[0])
    size = cures.edge(lambda to: cures.share(seat.throw(to) <= wanted), over, axle)
    if size is None:
        return "bush", {}
    numbers = {"needed": Exact(size, "center"), "bore": Exact(float(seat.bore[0]), "center")}
    stays = cures.share(seat.holds(size) >= SPARE * seat.torque) >= SAFE
    return ("turn" if stays else "compound"), numbers


def hold(known: Knowledge, seat: Seat) -> Decision:
    """What is left of the knurl against the torque at slip."""
    face = known.gears_planned[-1].face_width
    pressed = seat.hold != "bush"
    force = fits.press_force(
        pressure=seat.pressure(seat.turned.value) if pressed else 0.0,
        diameter=seat.axle,
        length=face,
        friction=PRESS_FRICTION,
    )
    return judge(
        known.spread,
        "seat",
        case=seat.hold,
        value=seat.holds(seat.turned.value),
        limit=SPARE * seat.torque,
        cure=lambda: _firmer(known, seat),
        slip=known.spread.band(seat.torque, "torque"),
        face=known.spread.band(face, "length"),
        force=known.spread.band(force, "force"),
        least=known.spread.band(seat.window[0], "micron"),
    )


def _firmer(known: Knowledge, seat: Seat) -> Cure:
    """More left of the knurl where it still runs true, else compound."""
    need, wanted = SPARE * seat.torque, known.sheet.planned.gears[-1].total_runout.value
    if seat.hold == "knurl":
        now, most = seat.turned.value, float(seat.found[0])
        size = cures.edge(lambda to: cures.share(seat.holds(to) >= need), now, max(now, most))
        if size is not None and cures.share(seat.throw(size) <= wanted) >= SAFE:
            return "larger", {"needed": Exact(size, "center")}
        if cures.share(seat.holds(now, "compound") >= need) >= SAFE:
            return "compound", {}
    face, short = known.gears_planned[-1].face_width, safely(need / seat.holds(seat.turned.value))
    return "wider", {"needed": Exact(float(face[0]) * short, "length")}


def burst(known: Knowledge, seat: Seat) -> Decision:
    """Interference over the crests against what the gear bears."""
    least, most = seat.window
    press = seat.over(seat.turned.value) - seat.bore
    return judge(
        known.spread,
        "seat press",
        value=press,
        limit=most,
        cure=lambda: (
            "bore",
            {"needed": Exact(float(seat.bore[0]) + safely(press - most), "center")},
        ),
        least=known.spread.band(least, "micron"),
        now=Exact(float(seat.bore[0]), "center"),
    )
