"""Pick-up: what the wheels lose between rail and motor at a crawl, clean and dirty."""

import numpy as np

from mechkit import tables, wheels
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import Ask, Cure, Decision, fixed, judge
from mechkit.drive.decisions.findings import creep_voltage
from mechkit.drive.model.parts import Material
from mechkit.names import STANDARD_GRAVITY

#: What the wheels may take of the volts of a slow pass; common practice, no source.
LOST = 0.05
#: Wheel and rail, the softer of them; most tires and rails of this size.
WHEEL, RAIL = "brass", "nickel silver"
#: As many wheels a side as an engine with its tender can have feed.
MOST_WHEELS = 12


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the wheels that feed, where they are counted."""
    return {"pick-up": pick_up} if len(known.sheet.locomotive.feeding_wheels) == 2 else {}


def contact(known: Knowledge, rail: str = "clean rail"):
    """One wheel on its rail [ohm]: metal crowding into the spot, and the film over it."""
    engine = known.sheet.locomotive
    whole = known.planned.train_mass * STANDARD_GRAVITY
    force = whole / max(sum(engine.feeding_wheels) + 2, 2 * len(engine.driver_axles))
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
        contact_resistance=contact(known, rail), wheels_1=feeding[0], wheels_2=feeding[1]
    )
    volts = creep_voltage(known.sheet)
    return np.minimum(known.planned.current_at(volts) * path / volts, 1.0)


def pick_up(known: Knowledge) -> Decision:
    """The drop at a slow pass on clean rail, and what dirt makes of it."""
    feeding = known.sheet.locomotive.feeding_wheels
    one = 1 / feeding[0] + 1 / feeding[1]
    return judge(
        known.spread,
        "pick-up",
        value=lost(known, feeding),
        limit=LOST,
        cure=lambda: _more(known),
        slow=fixed(creep_voltage(known.sheet), "voltage"),
        dirty=known.spread.band(lost(known, feeding, "dirty rail"), "percent"),
        lifted=known.spread.band(
            lost(known, feeding) * (1 / max(feeding[0] - 1, 1) + 1 / feeding[1]) / one, "percent"
        ),
        first=feeding[0],
        other=feeding[1],
        full=fixed(known.sheet.supply.voltage.value, "voltage"),
    )


def _more(known: Knowledge) -> Cure:
    """So many wheels a side would do."""
    for count in range(1, MOST_WHEELS + 1):
        if known.spread.chance(lost(known, [count, count]) <= LOST) >= 0.9:
            return "wheels", {"needed": count}
    return "nothing", {"needed": MOST_WHEELS}
