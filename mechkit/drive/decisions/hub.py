"""A gear that turns on a pin: how far it tilts without a hub, and what a hub must be."""

from dataclasses import dataclass

import numpy as np

from mechkit import runout
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import cures
from mechkit.drive.decisions.decision import Ask, Cure, Decision, Exact, judge
from mechkit.drive.decisions.workshop import Part, Size, mate, tolerance
from mechkit.drive.model import read
from mechkit.drive.model.parts import Amount, Gear
from mechkit.drive.sheet.schema import BenchSheet

#: The tilt may use up this part of what the backlash forgives; the gears' runouts have the rest.
PART = 0.5
#: Outside of a hub over its pin, at least; common practice, no source.
STOUT = 1.5
#: What stays under the teeth, in modules, on either side; common practice, no source.
RIM = 1.0
#: A tooth's root lies so many modules below its top on both sides.
ROOT = 4.5
#: A hub longer than so many faces has no room in a gearbox.
LONGEST = 4.0


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the hub, where the sheet has one."""
    return {"hub": decide} if known.sheet.planned.hub else {}


@dataclass(frozen=True)
class Guided:
    """A gear on its pin, with its draws."""

    gear: Gear
    pin: Amount
    clearance: Amount
    backlash: Amount
    pressure_angle: Amount

    def swing(self, length: float) -> Amount:
        """The teeth's whole swing at the end of the face [m]: shift and tilt, by the hub's length."""
        tilt = runout.face_wobble(
            clearance=self.clearance,
            length=self.gear.face_width + length,
            diameter=self.gear.outside_diameter,
        )
        end = runout.wobble_eccentricity(
            face_runout=tilt,
            diameter=self.gear.outside_diameter,
            face_width=self.gear.face_width,
        )
        return self.clearance + 2 * end

    @property
    def limit(self) -> Amount:
        """Swing that the backlash forgives [m]."""
        binds = runout.binding_runout(backlash=self.backlash, pressure_angle=self.pressure_angle)
        return PART * binds


def _index(sheet: BenchSheet) -> int:
    """Which gear it is: by its name, else the one under the worm."""
    table = sheet.planned.hub
    assert table
    names = [gear.name for gear in sheet.planned.gears]
    return names.index(table.gear) if table.gear in names else 0


def guided(known: Knowledge) -> Guided:
    """The gear that the sheet plans a hub for; its tightest mesh decides."""
    sheet, train = known.sheet, known.train_planned
    table, at = sheet.planned.hub, _index(known.sheet)
    assert table
    tools = sheet.instruments
    fine = (tools.micrometer or tools.caliper).value
    plays = [read.worm_play(train, known.spread)] if at == 0 else []
    if at >= len(train.gears) - 2:
        plays.append(train.backlash)
    return Guided(
        gear=train.gears[at],
        pin=known.spread.reading("pin of the gear", table.pin, fine),
        clearance=known.spread.reading("clearance on the pin", table.clearance, fine),
        backlash=np.min(np.broadcast_arrays(*plays or [train.backlash]), axis=0),
        pressure_angle=train.pressure_angle,
    )


def decide(known: Knowledge) -> list[Decision]:
    """Whether it tilts too far, and whether the sleeve is thick and thin enough."""
    table, on = known.sheet.planned.hub, guided(known)
    assert table
    return [tilt(known, on), *([thick(known, on), rim(known, on)] if table.outside else [])]


def tilt(known: Knowledge, on: Guided) -> Decision:
    """Shift and tilt of the gear against what the backlash forgives."""
    table = known.sheet.planned.hub
    assert table
    return judge(
        known.spread,
        "tilt",
        case="hub" if table.length.value else "bare",
        value=on.swing(table.length.value),
        limit=on.limit,
        cure=lambda: _steadier(on, table.length.value),
        gear=on.gear.name,
        clearance=known.spread.band(on.clearance, "fine"),
        length=Exact(table.length.value, "length"),
        bare=known.spread.band(on.swing(0.0), "fine"),
    )


def _steadier(on: Guided, now: float) -> Cure:
    """A longer hub, else a closer bore."""
    most = max(now, LONGEST * float(on.gear.face_width[0]))
    length = cures.edge(lambda to: cures.share(on.swing(to) <= on.limit), now, most)
    if length is not None:
        return "longer", {"needed": Exact(length, "length")}
    # the swing goes with the clearance
    over = cures.safely(on.swing(now) / np.maximum(on.limit, 1e-9))
    return "closer", {"needed": Exact(float(on.clearance[0]) / max(over, 1.0), "fine")}


def thick(known: Knowledge, on: Guided) -> Decision:
    """Wall of the sleeve over its pin."""
    outside = _outside(known)
    least = STOUT * on.pin
    return judge(
        known.spread,
        "hub",
        value=outside,
        limit=least,
        cure=lambda: ("thicker", {"needed": Exact(cures.safely(least), "length")}),
        pin=known.spread.band(on.pin, "length"),
    )


def rim(known: Knowledge, on: Guided) -> Decision:
    """What the bored-out gear keeps under its teeth."""
    most = on.gear.outside_diameter - (ROOT + 2 * RIM) * on.gear.module
    outside = _outside(known)
    return judge(
        known.spread,
        "hub rim",
        value=outside,
        limit=most,
        cure=lambda: ("thinner", {"needed": Exact(cures.safely(most, most=False), "length")}),
        gear=on.gear.name,
    )


def _outside(known: Knowledge) -> Amount:
    table = known.sheet.planned.hub
    assert table
    assert table.outside
    return np.full(known.spread.draws + 1, table.outside.value)


def sleeve(known: Knowledge) -> Part | None:
    """The hub as it is turned: a plain sleeve through the gear."""
    sheet, table = known.sheet, known.sheet.planned.hub
    if table is None or table.outside is None or not table.length.value:
        return None
    gear = sheet.planned.gears[_index(sheet)]
    hold, bore = tolerance(sheet), table.pin.value + table.clearance.value
    if bore >= table.outside.value:
        return None
    along = gear.face_width.value + table.length.value
    return Part(
        f"Hub of the {gear.name}",
        table.material,
        {
            "bore": Size("bore, runs on its pin", bore, hold, "ream it, try it on the pin",
                         matched=table.clearance.value < hold),
            "outside": mate("outside, for the bored-out gear", table.outside.value, False, sheet),
            "length": Size("length", along, 5 * hold, "face both ends"),
        },
        (
            "Bore and outside in one setting; part off last.",
            "Bond it into the gear, then true the teeth's runout on the pin while it is wet.",
        ),
    )  # fmt: skip
