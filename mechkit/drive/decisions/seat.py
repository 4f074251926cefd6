"""The axle gear's seat: a knurl that holds and does not throw it off center, or compound."""

import numpy as np

from mechkit import fits, runout
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import Ask, Cure, Decision, Exact, judge
from mechkit.drive.decisions.fittings import HOLD, PRESS_FRICTION
from mechkit.drive.model.parts import Amount, Material
from mechkit.drive.sheet.schema import SeatTable
from mechkit.units import Reading

#: Crests of a knurl rolled or raised at the bench.
CREST_ANGLE = np.pi / 2
#: Highest less lowest crest in a turn, over their mean height; common practice, no source.
UNEVEN = (0.25, 0.7)
#: Of what binds the mesh, the seat may take so much: the teeth have their own.
SHARE = 0.5
#: Retaining compound on an axle, where its sheet is not at hand [Pa]; common practice, no source.
BONDED = Reading(10e6, 5e6)


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the axle gear's seat, where it is told."""
    return {"seat": seat} if known.sheet.planned.seat else {}


def seat(known: Knowledge) -> list[Decision]:
    """Whether the gear will run true on its seat, and hold."""
    table = known.sheet.planned.seat
    assert table
    return [true(known, table), holds(known, table)]


def _plain(known: Knowledge) -> Amount:
    """The axle beside its knurl [m]."""
    return known.size("diameter of the driver axles", known.sheet.locomotive.axle_diameter)


def allowed(known: Knowledge) -> Amount:
    """Height of the crests over the plain axle that the mesh forgives [m]."""
    binds = runout.binding_runout(
        backlash=known.backlash_planned,
        pressure_angle=known.sheet.planned.mesh.pressure_angle.value,
    )
    return fits.spoiling_height(
        eccentricity=SHARE * binds / 2,
        uneven_share=known.spread.factor("how uneven a knurl is", *UNEVEN),
    )


def true(known: Knowledge, table: SeatTable) -> Decision:
    """Crests against what they may stand proud."""
    over, plain, limit = (
        known.size("over the knurl", table.over_knurl),
        _plain(known),
        allowed(known),
    )
    proud = np.maximum((over - plain) / 2, 0.0)
    axle = known.sheet.locomotive.axle_diameter.value
    return judge(
        known.spread,
        "seat true",
        value=proud,
        limit=limit,
        cure=lambda: ("turn", {"needed": Exact(_under(axle, limit), "length")}),
        gear=known.gears_planned[-1].name,
        swing=known.spread.band(
            2 * fits.knurl_eccentricity(
                raised_height=proud,
                uneven_share=known.spread.factor("how uneven a knurl is", *UNEVEN),
            ),
            "fine",
        ),
    )  # fmt: skip


def _under(axle: float, limit: Amount) -> float:
    """Over the crests once they are turned down far enough for nine draws of ten [m]."""
    safe = float(np.quantile(np.asarray(limit), 0.1))
    return np.floor((axle + 2 * safe) * 1e5 + 1e-6) / 1e5


def torque(known: Knowledge) -> Amount:
    """What the axle gear drives its axle with when the wheels slip [N*m]."""
    drive = known.planned
    return drive.rim_limit * drive.wheel_diameter / 2


def _pair(known: Knowledge, table: SeatTable) -> dict[str, Amount]:
    gear = known.gears_planned[-1]
    hub, steel = Material(gear.material), Material("steel")
    diameter = known.size("bore of the gear", table.bore)
    root = gear.outside_diameter - 4.5 * gear.module
    return {
        "diameter": diameter,
        "hub_outer": np.maximum(root, 1.02 * diameter),
        "hub_modulus": hub.elastic_modulus,
        "hub_poisson": hub.poisson,
        "shaft_modulus": steel.elastic_modulus,
        "shaft_poisson": steel.poisson,
    }


def holds(known: Knowledge, table: SeatTable) -> Decision:
    """The seat against what it must pass on, with the margin of every joint."""
    needed = HOLD * torque(known)
    length = known.size("length of the seat", table.length)
    pair = _pair(known, table)
    if table.hold == "bond":
        strength = known.spread.reading("bond of the seat", BONDED)
        value = fits.bond_torque(shear_strength=strength, diameter=pair["diameter"], length=length)
        long = float(np.quantile(needed / value * length, 0.9))
        return judge(
            known.spread, "seat holds", case="bond", value=value, limit=needed,
            cure=lambda: ("longer", {"needed": Exact(long, "length")}),
        )  # fmt: skip
    metal = Material(known.gears_planned[-1].material)
    least, most = fits.knurl_window(
        torque=needed, length=length, friction=PRESS_FRICTION, yield_strength=metal.yield_strength,
        knurl_pitch=table.knurl_pitch.value, crest_angle=CREST_ANGLE, hardness=metal.hardness, **pair,
    )  # fmt: skip
    over = known.size("over the knurl", table.over_knurl)
    tight = np.maximum(over - pair["diameter"], 0.0)
    return judge(
        known.spread,
        "seat holds",
        case="press",
        value=tight / np.maximum(least, 1e-9) * needed,
        limit=needed,
        cure=lambda: _bored(known, table, least, most),
        tight=known.spread.band(tight, "micron"),
        least=known.spread.band(least, "micron"),
        most=known.spread.band(most, "micron"),
    )


def _bored(known: Knowledge, table: SeatTable, least: Amount, most: Amount) -> Cure:
    """The bore that the knurl grips, or compound where no lathe holds it."""
    low = table.over_knurl.value - float(np.median(most))
    high = table.over_knurl.value - float(np.quantile(least, 0.9))
    if high - low < 2 * known.sheet.instruments.lathe.value:
        return "bond", {}
    return "bore", {"low": Exact(low, "length"), "high": Exact(high, "length")}
