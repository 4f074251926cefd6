"""Spring stock: tables, and whose."""

from mechkit import springs
from mechkit.derivations import Empirical


def music_wire_strength():
    """A table."""
    return Empirical(
        springs.music_wire_strength,
        whose="least tensile strength by diameter, ASTM A228; drawing thin makes strong.",
        inside={"wire_diameter": (0.00011, 0.0016)},
        scales=False,
    )


def phosphor_bronze_strength():
    """A table."""
    return Empirical(
        springs.phosphor_bronze_strength,
        whose="least tensile strength by diameter, ASTM B159, spring temper.",
        inside={"wire_diameter": (0.0001, 0.003)},
        scales=False,
    )


def allowable_shear_stress():
    """A share of the strength."""
    return Empirical(
        springs.allowable_shear_stress,
        whose="elastic limit in torsion as a share of the tensile strength, from spring tests.",
        inside={"tensile_strength": (0.8e9, 3.2e9), "torsion_share": (0.3, 0.6)},
    )


def nearest_music_wire():
    """A list of sizes."""
    return Empirical(
        springs.nearest_music_wire,
        whose="preferred diameters of ASTM A228: what wire is drawn to.",
        inside={"wire_diameter": (0.00011, 0.0016)},
        scales=False,
    )
