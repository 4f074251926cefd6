"""The bench sheet's keys of what is done inside the gearbox; asked only where a table stands."""

from typing import Literal

from mechkit.drive.sheet.quantities import LengthOrNone, Size, Stress
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
