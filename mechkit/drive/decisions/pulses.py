"""A supply in pulses: whether the current has gaps at a slow pass, and how much more that heats."""

import numpy as np

from mechkit.drive.constants.knowledge import NEW_MOTOR, Knowledge
from mechkit.drive.decisions.decision import Ask, Decision, fixed, judge
from mechkit.drive.decisions.findings import creep_voltage
from mechkit.motor import pulsed

#: How near the back voltage comes to nothing, and to what the pulses give on the mean [-].
LEAST, MOST = 1e-3, 0.999


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of pulses, where their frequency and the winding's inductance are told."""
    told = known.sheet.supply.frequency and known.sheet.planned.motor.inductance
    return {"pulses": pulses} if told and known.sheet.supply.kind != "direct" else {}


def pulses(known: Knowledge) -> Decision:
    """Pulses against the frequency from which on the current never stops at a slow pass."""
    supply, table = known.sheet.supply, known.sheet.planned.motor
    assert supply.frequency and table.inductance
    slow, full = creep_voltage(known.sheet), supply.voltage.value
    drive = known.planned
    running = drive.motor.torque_constant * drive.motor_speed_at(slow)
    circuit = {
        "voltage": full,
        "duty": slow / full,
        "resistance": drive.motor.resistance,
        "inductance": known.spread.reading(f"inductance of the {NEW_MOTOR}", table.inductance),
    }
    emf = np.clip(running, LEAST * slow, MOST * slow)
    beats = known.spread.reading("frequency of the pulses", supply.frequency)
    lowest = pulsed.gapless_back_emf(frequency=beats, **circuit)
    heats = pulsed.gapped_heating(
        frequency=beats, back_emf=np.clip(emf, lowest, MOST * full), **circuit
    )
    return judge(
        known.spread,
        "pulses",
        case="gaps" if float(np.ravel(emf)[0]) > float(np.ravel(lowest)[0]) else "smooth",
        value=beats,
        limit=pulsed.gapless_frequency(back_emf=emf, **circuit),
        cure=lambda: (table.kind, {}),
        slow=fixed(slow, "voltage"),
        heats=known.spread.band(heats, "number"),
    )
