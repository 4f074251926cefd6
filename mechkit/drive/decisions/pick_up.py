"""Pick-up: what the wheels lose between rail and motor at a crawl, clean and dirty."""

import re

import numpy as np

from mechkit import tables, wheels
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import SAFE, Ask, Cure, Decision, fixed, judge
from mechkit.drive.decisions.findings import creep_voltage
from mechkit.drive.model.parts import Material
from mechkit.names import STANDARD_GRAVITY

#: What the wheels may take of the volts of a slow pass; common practice, no source.
LOST = 0.05
#: Wheel and rail, the softer of them; most tires and rails of this size.
WHEEL, RAIL = "brass", "nickel silver"
#: What a rail is between two evenings.
DIRTY = "dirty rail"


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the wheels that feed, where they are counted."""
    return {"pick-up": pick_up} if len(known.sheet.locomotive.feeding_wheels) == 2 else {}


def carrying(known: Knowledge, feeding: list[int]) -> int:
    """Wheels that the weight stands on: those of the arrangement, or as many as feed."""
    engine = known.sheet.locomotive
    counted = sum(int(group) for group in re.findall(r"[0-9]+", engine.wheel_arrangement))
    return max(counted, sum(feeding), 2 * len(engine.driver_axles))


def contact(known: Knowledge, feeding: list[int], rail: str = "clean rail"):
    """One wheel on its rail [ohm]: metal crowding into the spot, and the film over it."""
    force = known.planned.train_mass * STANDARD_GRAVITY / carrying(known, feeding)
    metal = {"force": force, "hardness": Material(WHEEL).hardness}
    resistivity = [
        float(np.mean(tables.band("contacts", name, "resistivity"))) for name in (WHEEL, RAIL)
    ]
    clean = wheels.constriction_resistance(
        resistivity_1=resistivity[0], resistivity_2=resistivity[1], **metal
    )
    film = known.spread.factor(
        f"film on a {rail}", *tables.band("contacts", rail, "film_resistance")
    )
    return clean + wheels.tarnish_resistance(film_resistance=film, **metal)


def lost(known: Knowledge, feeding: list[int], rail: str = "clean rail"):
    """Share of the volts of a slow pass that does not reach the motor [-]."""
    path = wheels.path_resistance(
        contact_resistance=contact(known, feeding, rail), wheels_1=feeding[0], wheels_2=feeding[1]
    )
    volts = creep_voltage(known.sheet)
    return np.minimum(known.planned.current_at(volts) * path / volts, 1.0)


def lifted(known: Knowledge, feeding: list[int], rail: str):
    """The same with one wheel off the rail that misses it most; all of it where it was the only one."""
    left = [[count - (n == off) for n, count in enumerate(feeding)] for off in (0, 1)]
    nothing = np.ones(known.spread.draws + 1)
    return np.max([lost(known, some, rail) if min(some) else nothing for some in left], axis=0)


def pick_up(known: Knowledge) -> Decision:
    """The drop at a slow pass on a rail that was not wiped for a while, and what a wheel less does."""
    feeding = known.sheet.locomotive.feeding_wheels
    return judge(
        known.spread,
        "pick-up",
        case="alone" if min(feeding) == 1 else "several",
        value=lost(known, feeding, DIRTY),
        limit=LOST,
        cure=lambda: _wiped(known, feeding),
        slow=fixed(creep_voltage(known.sheet), "voltage"),
        clean=known.spread.band(lost(known, feeding), "percent"),
        lifted=known.spread.band(lifted(known, feeding, DIRTY), "percent"),
        first=feeding[0],
        other=feeding[1],
        full=fixed(known.sheet.supply.voltage.value, "voltage"),
    )


def _wiped(known: Knowledge, feeding: list[int]) -> Cure:
    """A wiped rail, where that is enough; and what it would be with every wheel feeding."""
    clean = known.spread.chance(lost(known, feeding) <= LOST) >= SAFE
    half = carrying(known, feeding) // 2
    every = known.spread.band(lost(known, [half, half], DIRTY), "percent")
    return ("wipe" if clean else "nothing"), {"wheels": 2 * half, "every": every}
