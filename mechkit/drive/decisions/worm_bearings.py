"""The bearings on either side of the worm: what they rub, what they carry, which shims go in."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, combinations

import numpy as np

from mechkit import bearings, tables
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.cures import safely, share
from mechkit.drive.decisions.decision import SAFE, Ask, Cure, Decision, Exact, judge
from mechkit.drive.decisions.plan import COLLAR_SHARE, SLOWEST, at_slip
from mechkit.drive.model.parts import Amount
from mechkit.units import Reading, System, show

#: One on either side of the worm.
PAIR = 2
#: Friction of an oiled bush that turns, and of balls, by the table.
RUBS = {
    "plain": tables.band("bearings", "plain, oiled and slow", "friction"),
    "ball": tables.band("bearings", "rolling, deep groove", "friction"),
}
#: Base oil of the grease that small bearings come with, warm [m^2/s]; common practice, no source.
GREASE = (15e-6, 60e-6)
STIRRED = tables.band("bearings", "rolling, deep groove", "lubrication_factor")
#: Lasting thrust that a ball bearing bears, as part of its static rating: the safe end.
LASTING = tables.band("bearings", "rolling, deep groove", "thrust_share")[0]
#: Outside of a ball bearing over its bore, where nobody said; common practice, no source.
STOUT = 2.0
OTHER = {"plain": "ball", "ball": "plain"}
CALLED = {"plain": "plain bushes", "ball": "ball bearings"}


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the bearings, where the sheet has them."""
    table = known.sheet.planned.bearings
    if table is None:
        return {}
    found: dict[str, Ask] = {"bearings": decide}
    if table.end_play_found and table.shims:
        found["shims"] = shims
    return found


def decide(known: Knowledge) -> list[Decision]:
    """What they rub, and whether balls of that size bear the thrust."""
    rated = _rated(known)
    return [friction(known), *([size(known, rated)] if rated else [])]


# -- friction --------------------------------------------------------------------------------


def rolling_share(known: Knowledge) -> Amount:
    """Of what slips the wheels, the part that keeps the train rolling on the level."""
    drive = known.planned
    return drive.rolling_force / drive.rim_limit


def across(known: Knowledge) -> Amount:
    """Load across the worm's shaft with the wheels slipping [N], both bearings together."""
    drive = known.planned
    _, apart, _ = at_slip(known)
    torque = drive.rim_limit * drive.lever / drive.at_crawl
    return np.hypot(apart, 2 * torque / known.worm_planned.pitch_diameter)


def top_speed(known: Knowledge) -> Amount:
    """Of the worm at full throttle [rad/s]."""
    turns = known.planned.motor_speed_at(known.sheet.supply.voltage.value)
    return np.maximum(turns, SLOWEST)


def rubbing(known: Knowledge, kind: str, load: Amount, speed: Amount = 0.0) -> Amount:
    """Torque that both bearings of a kind take [N*m], balls with their grease stirred."""
    table = known.sheet.planned.bearings
    assert table
    bore = known.size("bore of the worm's bearings", table.bore)
    rubs = known.spread.factor(f"friction of {CALLED[kind]}", *RUBS[kind])
    taken = bearings.friction_torque(friction=rubs, load=load, diameter=bore)
    if kind == "plain":
        return taken
    outside = table.outside.value if table.outside else STOUT * bore
    return taken + PAIR * bearings.viscous_torque(
        viscosity=known.spread.factor("oil in the bearings' grease", *GREASE),
        speed=speed,
        pitch_circle=(bore + outside) / 2,
        lubrication_factor=known.spread.factor("how the bearings stir their grease", *STIRRED),
    )


def friction(known: Knowledge) -> Decision:
    """The bearings' share of the friction in motion, and what the other kind would take."""
    table, load, speed = known.sheet.planned.bearings, across(known), top_speed(known)
    assert table
    light, whole = load * rolling_share(known), known.planned.running_friction
    parts = {kind: rubbing(known, kind, light, speed) / whole for kind in OTHER}
    slipping = {kind: rubbing(known, kind, load) / known.planned.slip_torque() for kind in OTHER}
    other, band = OTHER[table.kind], known.spread.band
    return judge(
        known.spread,
        "bearings",
        case="fast" if parts["ball"][0] > parts["plain"][0] else "save",
        value=parts[table.kind],
        limit=COLLAR_SHARE,
        cure=lambda: _slipperier(known, other, parts[other]),
        kind=CALLED[table.kind].capitalize(),
        other=CALLED[other],
        takes=band(parts[other], "percent"),
        at_slip=band(slipping[table.kind], "percent"),
        other_slip=band(slipping[other], "percent"),
        saves=band(np.maximum(slipping["plain"] - slipping["ball"], 0.0), "percent"),
        across=band(load, "force"),
    )


def _slipperier(known: Knowledge, other: str, taken: Amount) -> Cure:
    """The other kind, where it takes little enough."""
    if share(taken <= COLLAR_SHARE) >= SAFE:
        return "other", {}
    return "nothing", {}


# -- size ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Rated:
    """A ball bearing of the table: its sizes and what it bears."""

    bore: float
    outer: float
    width: float

    @property
    def name(self) -> str:
        """As the table calls it."""
        return f"{self.bore * 1e3:g}x{self.outer * 1e3:g}x{self.width * 1e3:g}"

    @property
    def thrust(self) -> float:
        """Thrust that it bears for good [N], the safe end."""
        return LASTING * tables.band("bearings", f"ball {self.name}", "static_rating")[0]


def _table() -> Iterator[Rated]:
    """The ball bearings of the table, as it lists them."""
    for name in tables.names("bearings"):
        if name.startswith("ball "):
            yield Rated(
                *(tables.value("bearings", name, one) for one in ("bore", "outer", "width"))
            )


def _rated(known: Knowledge) -> Rated | None:
    """The bearing of the sheet in the table, if it stands there."""
    table = known.sheet.planned.bearings
    assert table
    if table.kind == "plain":
        return None
    same = [one for one in _table() if np.isclose(one.bore, table.bore.value, atol=1e-5)]
    if table.outside:
        same = [one for one in same if np.isclose(one.outer, table.outside.value, atol=1e-5)]
    return same[0] if same else None


def size(known: Knowledge, rated: Rated) -> Decision:
    """The worm's thrust at slip against what a bearing of that size bears."""
    along, _, _ = at_slip(known)
    larger = [one for one in _table() if one.bore >= rated.bore and one.thrust >= safely(along)]

    def cure() -> Cure:
        if not larger:
            return "nothing", {}
        best = min(larger, key=lambda one: (one.bore, one.outer))
        return "larger", {
            "bore": Exact(best.bore, "length"),
            "outside": Exact(best.outer, "length"),
            "width": Exact(best.width, "length"),
        }

    return judge(
        known.spread,
        "bearing size",
        value=along,
        limit=rated.thrust,
        cure=cure,
        bore=Exact(rated.bore, "length"),
        outside=Exact(rated.outer, "length"),
        width=Exact(rated.width, "length"),
    )


# -- shims -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Stack:
    """Shims that go in together [m]."""

    shims: tuple[float, ...]

    def say(self, system: System = "metric") -> str:
        """Each by its thickness."""
        return " and ".join(show(one, "fine", system) for one in self.shims) or "no shim"


def stack(known: Knowledge) -> tuple[Reading, ...]:
    """Of the drawer's shims, those that leave the end play nearest to what is wanted."""
    table, wanted = known.sheet.planned.bearings, known.sheet.planned.worm.end_play.value
    assert table
    assert table.end_play_found
    found = table.end_play_found.value
    counts = range(len(table.shims) + 1)
    every = chain.from_iterable(combinations(table.shims, count) for count in counts)
    return min(
        every, key=lambda some: (abs(found - sum(s.value for s in some) - wanted), len(some))
    )


def left(known: Knowledge, some: tuple[Reading, ...]) -> Amount:
    """End play that stays with some shims in [m]; below nothing it binds."""
    table, tools = known.sheet.planned.bearings, known.sheet.instruments
    assert table
    assert table.end_play_found
    finest = (tools.indicator or tools.caliper).value
    play = known.spread.reading("end play before the shims", table.end_play_found, finest)
    fine = (tools.micrometer or tools.caliper).value
    return play - sum(known.spread.reading(f"shim {n}", one, fine) for n, one in enumerate(some, 1))


def shims(known: Knowledge) -> Decision:
    """Whether the drawer gives the end play that is wanted: not twice of it, and not none."""
    table, wanted = known.sheet.planned.bearings, known.sheet.planned.worm.end_play.value
    assert table
    assert table.end_play_found
    some = stack(known)
    play = left(known, some)
    needed = table.end_play_found.value - wanted
    return judge(
        known.spread,
        "shims",
        value=np.abs(play - wanted),
        limit=wanted,
        cure=lambda: ("buy" if needed > 0 else "none", {"needed": Exact(needed, "fine")}),
        stack=Stack(tuple(one.value for one in some)),
        found=known.spread.band(left(known, ()), "fine"),
        left=known.spread.band(play, "fine"),
        wanted=Exact(wanted, "fine"),
    )
