"""Readings that cannot both be true."""

from mechkit.drive.faults import Fault
from mechkit.drive.schema import BenchSheet


def contradictions(data: BenchSheet) -> list[Fault]:
    """Every pair of readings that cannot both be true."""
    return []
