"""Weight: what a gram more does for pull and current, how much the motor takes, and where it may lie."""

from dataclasses import replace

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.cures import edge, share
from mechkit.drive.decisions.decision import Ask, Decision, fixed, judge
from mechkit.drive.decisions.plan import MARGIN
from mechkit.drive.model.drive import Drive

#: More than this part of the engine's own weight finds no room in a small boiler; common practice,
#: no source.
MOST = 1.0
#: Less of it than this is not worth a bar of lead-free ballast; common practice, no source.
WORTH = 0.05


def asked(known: Knowledge) -> dict[str, Ask]:
    """Weight is asked of every engine."""
    return {"ballast": ballast}


def heavier(drive: Drive, more: float) -> Drive:
    """The drive with so much more mass over its drivers [kg]."""
    return replace(
        drive,
        engine_mass=drive.engine_mass + more,
        train_mass=drive.train_mass + more,
        mass_on_drivers=drive.mass_on_drivers + more,
        rolling_force=drive.rolling_force * (1 + more / drive.train_mass),
    )


def ballast(known: Knowledge) -> Decision:
    """How much more the drive takes until its wheels no longer slip before the motor stalls."""
    drive, volts = known.planned, known.sheet.supply.voltage.value
    engine = known.sheet.locomotive
    most = MOST * engine.weight.value

    def slips(more: float) -> float:
        return share(heavier(drive, more).stall_margin(volts) >= MARGIN)

    room = edge(slips, most, 0.0) or 0.0
    gram = heavier(drive, 1e-3)
    pull = gram.pull_at_slip - drive.pull_at_slip
    amps = (gram.slip_torque() - drive.slip_torque()) / drive.motor.torque_constant
    middle = float(np.mean([at.value for at in engine.driver_axles]))
    own = engine.weight_on_drivers.value
    at = middle + (middle - engine.center_of_gravity.value) * own / max(room, 1e-3)
    # no farther out than the axles that are to carry it
    at = float(np.clip(at, engine.driver_axles[0].value, engine.driver_axles[-1].value))
    center = (own * engine.center_of_gravity.value + room * at) / (own + room)
    return judge(
        known.spread,
        "ballast",
        cure=lambda: ("motor", {}),
        case="full" if room > 0.999 * most else "some" if room > 0 else "none",
        value=room,
        limit=WORTH * engine.weight.value,
        pull=known.spread.band(1e1 * pull, "force"),
        grams=fixed(1e-2, "mass"),
        amps=known.spread.band(1e1 * amps, "current"),
        at=fixed(at, "length"),
        center=fixed(center, "length"),
        middle=fixed(middle, "length"),
    )
