"""What the worm's shaft runs in: what plain bearings cost, what balls save, shims for its end play."""

from dataclasses import dataclass

import numpy as np

from mechkit import bearings, springs
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.constants.plan import BEARING_FRICTION
from mechkit.drive.decisions.decision import Ask, Cure, Decision, Exact, fixed, judge
from mechkit.drive.decisions.plan import at_slip
from mechkit.drive.model.parts import Material
from mechkit.drive.model.train import COLLAR
from mechkit.drive.sheet.schema import BearingsTable
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import System, show

#: Rolling friction of a small ball bearing, over its load; makers' catalogs, common practice.
BALL_FRICTION = 0.0015
#: More of the torque at slip than this in the bearings is worth balls; common practice, no source.
WORTH = 0.05
#: A bowed shim is a plain bow.
WAVES = 2
#: Flat shims that a drawer holds [m]; common practice, no source.
FLAT = (0.03e-3, 0.05e-3, 0.1e-3, 0.2e-3, 0.3e-3, 0.5e-3)


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the worm's bearings, where they are told."""
    return {"shafting": shafting} if known.sheet.planned.bearings else {}


def shafting(known: Knowledge) -> list[Decision]:
    """What the bearings take, and how the end play is taken up."""
    table = known.sheet.planned.bearings
    assert table
    found = [rubbing(known, table)]
    if table.shim_thickness and table.shim_outside and table.shim_bore:
        found.append(bowed(known, table))
    return found


def rubbing(known: Knowledge, table: BearingsTable) -> Decision:
    """Friction in both bearings with the wheels slipping, as a share of the torque there."""
    _, apart, _ = at_slip(known)
    bore = known.size("bore of the worm's bearings", table.bore)
    plain = known.spread.factor("bearing friction", *BEARING_FRICTION)

    def share(friction):
        # both bearings together carry what pushes the worm off its gear
        torque = bearings.friction_torque(friction=friction, load=apart, diameter=bore)
        return torque / known.planned.slip_torque()

    own = share(plain if table.kind == "plain" else BALL_FRICTION)
    return judge(
        known.spread,
        "worm bearings",
        case=table.kind,
        value=own,
        limit=WORTH,
        cure=lambda: ("ball", {"ball": known.spread.band(share(BALL_FRICTION), "percent")}),
        apart=known.spread.band(apart, "force"),
        plain=known.spread.band(share(plain), "percent"),
        shims=shims(known.sheet.as_is.worm.end_play.value, known.sheet.planned.worm.end_play.value),
    )


@dataclass(frozen=True)
class Shims:
    """Flat shims, one on the other [m]."""

    thick: tuple[float, ...]

    def say(self, system: System = "metric") -> str:
        """Each by its thickness."""
        return " + ".join(show(one, "length", system) for one in self.thick) or "none"


def shims(now: float, wanted: float) -> Shims:
    """Shims from the drawer that bring an end play down to what is wanted, and no farther.

    >>> shims(0.50e-3, 0.08e-3).thick
    (0.0003, 0.0001)
    """
    left, used = now - wanted, list[float]()
    for one in sorted(FLAT, reverse=True):
        while left >= one - 1e-9:
            used.append(one)
            left -= one
    return Shims(tuple(used))


def bowed(known: Knowledge, table: BearingsTable) -> Decision:
    """A bowed shim against what pushes the worm back when the train drives it down the grade."""
    assert table.shim_thickness and table.shim_outside and table.shim_bore
    thick = known.size("thickness of the bowed shim", table.shim_thickness)
    steel, outer, inner = Material("steel"), table.shim_outside.value, table.shim_bore.value
    rate = springs.waved_washer_rate(
        elastic_modulus=steel.elastic_modulus,
        width=(outer - inner) / 2,
        thickness=thick,
        mean_diameter=(outer + inner) / 2,
        waves=WAVES,
        deflection_factor=springs.waved_washer_factor(waves=WAVES, poisson=steel.poisson),
    )
    push = rate * known.spread.reading(
        "planned end play", known.sheet.planned.worm.end_play, known.sheet.instruments.caliper.value
    )
    back = pushed_back(known)
    rubs = bearings.friction_torque(
        friction=COLLAR[known.sheet.planned.worm.thrust_bearing], load=push, diameter=(outer + inner) / 2
    )  # fmt: skip
    return judge(
        known.spread,
        "bowed shim",
        value=push,
        limit=back,
        cure=lambda: _thicker(table, push, back),
        rate=known.spread.band(rate, "rate"),
        grade=fixed(known.sheet.track.grade.value, "percent"),
        cost=known.spread.band(rubs / known.planned.slip_torque(), "percent"),
    )


def pushed_back(known: Knowledge):
    """Force along the worm when the train pushes its engine down the steepest grade [N]."""
    drive, gear = known.planned, known.gears_planned[-1]
    train = drive.train_mass * STANDARD_GRAVITY * known.sheet.track.grade.value
    left = np.maximum(train - drive.rolling_force, 0.0)
    return left * drive.wheel_diameter / gear.pitch_diameter


def _thicker(table: BearingsTable, push, needed) -> Cure:
    """The rate goes with the thickness cubed."""
    assert table.shim_thickness
    lacks = float(np.quantile(np.asarray(needed) / np.maximum(np.asarray(push), 1e-9), 0.9))
    up = np.ceil(table.shim_thickness.value * lacks ** (1 / 3) * 1e5 - 1e-6) / 1e5
    return "thicker", {"needed": Exact(float(up), "length")}
