"""A bowed shim as the spring behind the worm: its preload, what it costs, and its stress."""

from dataclasses import dataclass

import numpy as np

from mechkit import bearings, springs
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import cures
from mechkit.drive.decisions.cures import safely
from mechkit.drive.decisions.decision import SAFE, Ask, Cure, Decision, Exact, judge
from mechkit.drive.decisions.plan import COLLAR_SHARE, at_slip
from mechkit.drive.decisions.worm_bearings import CALLED, RUBS, rolling_share
from mechkit.drive.model.parts import Amount, Material

#: A plain bow: two crests and two troughs around.
WAVES = 2
#: How far the rate of one bowed by hand lies from the formula; common practice, no source.
BOWED = (0.7, 1.4)
#: Nearly flat it stiffens: this much of its own thickness stays free; common practice, no source.
FREE = 1.2
#: A sheet so many times as thick no longer bows in such a gap.
WORTHWHILE = 3.0


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the bowed shim, where the sheet has one."""
    return {"bow": decide} if known.sheet.planned.bowed_shim else {}


@dataclass(frozen=True)
class Bow:
    """The bowed shim of the plan with its draws."""

    known: Knowledge
    thickness: Amount
    bore: Amount
    outside: Amount
    free: Amount
    metal: Material
    holds: Amount

    @property
    def rate(self) -> Amount:
        """Rate of the bow [N/m]."""
        width = np.maximum(self.outside - self.bore, 1e-6) / 2
        soft = springs.waved_washer_factor(waves=WAVES, poisson=self.metal.poisson)
        return self.known.spread.factor("rate of a shim bowed by hand", *BOWED) * (
            springs.waved_washer_rate(
                elastic_modulus=self.metal.elastic_modulus,
                width=width,
                thickness=self.thickness,
                mean_diameter=np.maximum(self.outside - width, 1.001 * width),
                waves=WAVES,
                deflection_factor=soft,
            )
        )

    def preload(self, gap: float) -> Amount:
        """Force that it keeps on the worm's shaft in a gap [N]."""
        off = self.known.size("gap of the bowed shim", self._table.gap) - self._table.gap.value
        pressed = self.free - np.maximum(gap + off, self.thickness)
        return self.rate * np.maximum(pressed, 0.0)

    @property
    def _table(self):
        table = self.known.sheet.planned.bowed_shim
        assert table
        return table

    def rubs(self, gap: float, kind: str = "") -> Amount:
        """Torque that the preload costs [N*m]: at its own face, or in balls that bear it."""
        kind, force = kind or self.kind, self.preload(gap)
        friction = self.known.spread.factor(f"friction of {CALLED[kind]}", *RUBS[kind])
        if kind == "ball":
            return bearings.friction_torque(friction=friction, load=force, diameter=self.bore)
        return bearings.thrust_torque(
            friction=friction,
            load=force,
            outer=self.outside,
            bore=np.minimum(self.bore, 0.999 * self.outside),
        )

    @property
    def kind(self) -> str:
        """What it presses on: the rings of ball bearings, or a face that turns."""
        held = self.known.sheet.planned.bearings
        return held.kind if held else "plain"

    @property
    def lightest(self) -> Amount:
        """Thrust of the worm with the train rolling on the level [N]."""
        along, _, _ = at_slip(self.known)
        return along * rolling_share(self.known)


def bow_of(known: Knowledge) -> Bow:
    """The bowed shim that the sheet plans."""
    table, tools = known.sheet.planned.bowed_shim, known.sheet.instruments
    assert table
    fine = (tools.micrometer or tools.caliper).value
    metal = Material(table.material)
    held = table.yield_strength
    return Bow(
        known=known,
        thickness=known.spread.reading("thickness of the bowed shim", table.thickness, fine),
        bore=known.size("bore of the bowed shim", table.bore),
        outside=known.size("outside of the bowed shim", table.outside),
        free=known.size("free height of the bowed shim", table.free_height),
        metal=metal,
        holds=known.spread.reading("yield of the bowed shim", held)
        if held
        else metal.yield_strength,
    )


def decide(known: Knowledge) -> list[Decision]:
    """Whether it holds the worm, what it costs, and whether it keeps its bow."""
    bow, gap = bow_of(known), _gap(known)
    return [preload(known, bow, gap), cost(known, bow, gap), stress(known, bow)]


def _gap(known: Knowledge) -> float:
    table = known.sheet.planned.bowed_shim
    assert table
    return table.gap.value


def preload(known: Knowledge, bow: Bow, gap: float) -> Decision:
    """Preload against the worm's thrust on a level run."""
    along, _, _ = at_slip(known)
    return judge(
        known.spread,
        "bow",
        value=bow.preload(gap),
        limit=bow.lightest,
        cure=lambda: _firmer(bow, gap),
        rate=known.spread.band(bow.rate, "rate"),
        slip=known.spread.band(along, "force"),
        gap=Exact(gap, "fine"),
    )


def _firmer(bow: Bow, gap: float) -> Cure:
    """A smaller gap, else thicker sheet: the rate goes with its cube."""
    least = min(gap, FREE * float(bow.thickness[0]))
    size = cures.edge(lambda to: cures.share(bow.preload(to) >= bow.lightest), gap, least)
    if size is not None:
        return "gap", {"needed": Exact(size, "fine")}
    pushed = np.maximum(bow.preload(least), 1e-9)
    short = safely(bow.lightest / pushed) ** (1 / 3)
    if short > WORTHWHILE:
        return "bow", {}
    return "thicker", {
        "needed": Exact(float(bow.thickness[0]) * short, "fine"),
        "gap": Exact(least, "fine"),
    }


def cost(known: Knowledge, bow: Bow, gap: float) -> Decision:
    """The preload's share of the friction in motion."""
    whole = known.planned.running_friction
    return judge(
        known.spread,
        "bow friction",
        value=bow.rubs(gap) / whole,
        limit=COLLAR_SHARE,
        cure=lambda: _lighter(bow, gap, whole),
        face={"plain": "its own face", "ball": "the balls"}[bow.kind],
    )


def _lighter(bow: Bow, gap: float, whole: Amount) -> Cure:
    """A wider gap that still holds the worm, else balls to press on."""
    most = float(bow.free[0])
    size = cures.edge(
        lambda to: cures.share(bow.rubs(to) / whole <= COLLAR_SHARE), gap, max(most, gap)
    )
    if size is not None and cures.share(bow.preload(size) >= bow.lightest) >= SAFE:
        return "gap", {"needed": Exact(size, "fine")}
    if bow.kind == "plain" and cures.share(bow.rubs(gap, "ball") / whole <= COLLAR_SHARE) >= SAFE:
        return "ball", {}
    return "softer", {}


def stress(known: Knowledge, bow: Bow) -> Decision:
    """Bending stress pressed flat, as a hop presses it."""
    flat = np.maximum(bow.free - bow.thickness, 0.0)
    stressed = springs.bowed_washer_stress(
        elastic_modulus=bow.metal.elastic_modulus,
        deflection=flat,
        thickness=bow.thickness,
        outer=bow.outside,
    )
    safe = safely(bow.holds / np.maximum(stressed, 1.0), most=False) * float(flat[0])
    return judge(
        known.spread,
        "bow stress",
        value=stressed,
        limit=bow.holds,
        cure=lambda: ("lower", {"needed": Exact(float(bow.thickness[0]) + safe, "fine")}),
        metal=bow.metal.name,
    )
