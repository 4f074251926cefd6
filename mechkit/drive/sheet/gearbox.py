"""The bench sheet's keys of what is done inside the gearbox; asked only where a table stands."""

from typing import Literal

from mechkit.drive.sheet.quantities import LengthOrNone, Mass, Size, Stress
from mechkit.drive.sheet.table import Table, key


class SeatTable(Table):
    """How the axle gear sits on a knurl of its axle."""

    over_crests: Size = key("over the knurl as found, micrometer")
    crest_swing: LengthOrNone | None = key(
        "indicator's whole swing over the crests, the axle in its own bearings; else the gear's",
        default=None,
    )
    crests: int | None = key(
        "counted around the axle; else as for a coarse wheel", default=None, ge=12, le=400
    )
    turned_to: Size | None = key("over the crests once turned down", default=None)
    bore: Size = key("of the gear as it will go back")
    hold: Literal["knurl", "compound", "bush"] = key(
        "pressed on what is left of the knurl, the same with compound, or on a bonded bush",
        default="knurl",
    )
    bond_strength: Stress = key(
        "of the compound, shear, cured and cold", default="10 MPa", validate_default=True
    )


class BearingsTable(Table):
    """What the worm's shaft runs in, on either side of the worm, and the shims beside it."""

    kind: Literal["plain", "ball"] = key("oiled plain bushes, or flanged ball bearings")
    bore: Size = key("where the shaft runs")
    outside: Size | None = key(
        "of a ball bearing under its flange; else twice the bore", default=None
    )
    end_play_found: LengthOrNone | None = key(
        "push and pull on the worm's shaft before any shim goes in", default=None
    )
    shims: list[Size] = key("in the drawer, each by its thickness", default=[], max_length=10)


class BowedShimTable(Table):
    """A shim bowed over a rod, as the spring that takes the worm's end play."""

    material: Literal["bronze", "brass", "steel"] = key("of the sheet", default="bronze")
    thickness: Size = key("of the sheet")
    bore: Size = key("of the shim")
    outside: Size = key("of the shim")
    free_height: Size = key("over its bow, lying free, the sheet counted in")
    gap: Size = key("room endwise that plain shims leave it")
    yield_strength: Stress | None = key(
        "of the sheet, by its temper; else as if annealed", default=None
    )


class HubTable(Table):
    """A hub for a gear that turns on a pin: a sleeve through it, so that it does not tilt."""

    gear: str | None = key(
        "its name; else the one under the worm", default=None, min_length=1, max_length=30
    )
    pin: Size = key("that it turns on")
    clearance: LengthOrNone = key("bore less pin")
    length: LengthOrNone = key(
        "beside the teeth, both sides together", default="0 mm", validate_default=True
    )
    outside: Size | None = key("of the sleeve, where it has one", default=None)
    material: Literal["brass", "bronze", "steel"] = key("of the sleeve", default="brass")


class GroundPinTable(Table):
    """A ground pin in place of the turned sleeve: its outside stays as bought, only the bore is made."""

    outside: Size = key("as it is called")
    grade: Literal["h5", "h6", "h7", "h8"] = key("that it is ground to", default="h6")
    bore_swing: LengthOrNone | None = key(
        "indicator's whole swing of its bore against its outside; else as the lathe holds",
        default=None,
    )


class BedTable(Table):
    """A soft bed under the motor: rubber or compound, cured around a relaxed shaft."""

    weight: Mass = key("laid on the motor to try the bed")
    sinks: Size = key("how far the motor gives under that weight, by indicator")
    carries: Mass = key("motor with its flywheel, on the scale")
