"""The springs under the drivers, as the sheet has them."""

import numpy as np

from mechkit import springs
from mechkit.drive.model.parts import Material
from mechkit.drive.sheet.schema import SpringsTable

#: A frame without springs still gives: axle, frame and rail together, common practice.
RIGID_RATE = 2.0e5  # N/m


def rates(table: SpringsTable, axles: int) -> np.ndarray:
    """Spring rate of each axle, all its springs together [N/m]."""
    rate = RIGID_RATE
    if table.kind == "sprung":
        assert table.wire_diameter and table.mean_diameter and table.active_coils
        rate = table.springs_per_axle * springs.coil_spring_rate(
            wire_diameter=table.wire_diameter.value,
            mean_diameter=table.mean_diameter.value,
            active_coils=table.active_coils.value,
            shear_modulus=Material("steel").shear_modulus,
        )
    return np.full(axles, rate)
