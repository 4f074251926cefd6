"""How hard a magnet holds an iron core, by what the fingers feel."""

from mechkit.drive.model.parts import Motor
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import MotorTable

#: Peak of the cogging as a share of the torque at stall on full throttle; common practice, no
#: source.
FELT = {"none": (0.0, 0.0), "light": (0.005, 0.02), "strong": (0.02, 0.06)}
#: A motor that nobody turned by hand: an iron core cogs somehow, an ironless one cannot.
UNFELT = {"iron core": (0.005, 0.06), "ironless": (0.0, 0.0)}
#: Places in a turn where an iron core of five slots between two poles is held.
HELD = 10


def band_of(table: MotorTable) -> tuple[float, float]:
    """Peak of the cogging over the torque at stall [-]."""
    return FELT[table.cogging] if table.cogging else UNFELT[table.kind]


def peak(table: MotorTable, motor: Motor, voltage: float, spread: Spread, name: str):
    """Peak torque with which the magnet holds the core [N*m], drawn."""
    low, high = band_of(table)
    if not high:
        return 0.0
    return motor.stall_torque(voltage) * spread.factor(f"cogging of the {name}", low, high)


def felt_peak(table: MotorTable, motor: Motor, voltage: float) -> float:
    """The same as felt, without draws; nothing where nobody felt it [N*m]."""
    if not table.cogging:
        return 0.0
    low, high = FELT[table.cogging]
    return float(motor.stall_torque(voltage)) * (low * high) ** 0.5
