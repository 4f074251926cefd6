"""The two drives of a sheet as a panel takes them: as read, and None where nothing is known."""

from dataclasses import fields

import numpy as np

from mechkit.drive.knowledge import Knowledge
from mechkit.drive.parts import Motor
from mechkit.drive.performance import Drive

#: What a panel says where the drive as it is stays unknown.
UNTOLD = "the readings under measured_before are too few to tell"


def nominal(drive: Drive) -> Drive:
    """The drive as read, without its draws."""

    def first(part):
        return {
            field.name: float(np.ravel(getattr(part, field.name))[0])
            for field in fields(part)
            if not isinstance(getattr(part, field.name), Motor)
        }

    return Drive(motor=Motor(**first(drive.motor)), **first(drive))


def before_of(known: Knowledge) -> Drive | None:
    """The drive as it is; None where its readings are too few."""
    try:
        return known.before
    except ValueError:
        return None
