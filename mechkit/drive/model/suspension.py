"""The drivers on their springs: which axle carries what, where it rides, what its springs bear."""

from dataclasses import dataclass, fields, replace
from functools import cache, cached_property

import numpy as np

from mechkit import springs, suspension, tables
from mechkit.drive.model.parts import Amount, Material
from mechkit.drive.model.read import as_read, places_of
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import BenchSheet, SpringsTable
from mechkit.names import STANDARD_GRAVITY

#: A frame without springs still gives: axle, frame and rail together, common practice.
RIGID_RATE = 2.0e5  # N/m
#: Coils at both ends that are closed and do no work.
CLOSED = 2.0
#: A tenth to spare over the closed coils.
SOLID_ROOM = 1.1
#: A frame stands on its axles while its weight lies so far inside of the outer ones, of their
#: distance [-].
INSIDE = 0.01
#: A driver's wheel as a disc of steel over its diameter: how wide, and how much of it is metal; its
#: axle is as long as the wheel is high.  Common practice, no source.
WIDE, FILLED = 0.15, 0.55
STEEL = 7850.0  # kg/m^3
#: How far off such a weight can be, from end to end of the band; common practice, no source.
WHEELSET = (0.6, 1 / 0.6)
#: Wheels and axles are no more than this part of what the drivers carry.
MOST_UNSPRUNG = 0.6
#: What he would bet on where nothing is written: coils counted to a quarter turn, and a scale of
#: the kitchen, of what it reads; common practice, no source.
TURN, SCALE = 0.25, 0.01
#: A slot whose upper end nobody has measured is as good as open [m].
OPEN = 0.1
#: No coil is wound closer than this over its wire.
LEAST_INDEX = 1.05


@dataclass(frozen=True)
class Suspension:
    """Drivers, their weight and their springs; an amount may have one value a draw.

    Axles stand in the last place of ``positions`` and of whatever is told of each axle.  What the
    drivers carry is what a scale under them reads, wheels and axles too; only the rest of it
    presses on springs.
    """

    kind: str
    positions: np.ndarray
    mass: Amount
    wheelset: Amount
    read_center: Amount
    unevenness: Amount
    springs_per_axle: int = 2
    wire_diameter: Amount = None
    mean_diameter: Amount = None
    active_coils: Amount = None
    preload: Amount = 0.0
    travel: Amount = None
    free_length: Amount = None

    @property
    def axles(self) -> int:
        """How many axles are driven."""
        return self.positions.shape[-1]

    @cached_property
    def center_of_gravity(self):
        """Of what the drivers carry, kept where the frame can stand [m]."""
        first, last = self.positions[..., 0], self.positions[..., -1]
        edge = INSIDE * (last - first)
        return np.clip(self.read_center, first + edge, last - edge)

    @property
    def equal(self):
        """An equal share of the weight for each axle [N]."""
        return self.mass * STANDARD_GRAVITY / self.axles

    @cached_property
    def unsprung(self):
        """What an axle and its wheels press on the rail by themselves [N]."""
        return np.minimum(self.wheelset * STANDARD_GRAVITY, MOST_UNSPRUNG * self.equal)

    # -- one spring ---------------------------------------------------------------------

    @cached_property
    def each(self):
        """Rate of one spring [N/m]."""
        return springs.coil_spring_rate(
            wire_diameter=self.wire_diameter,
            mean_diameter=self.mean_diameter,
            active_coils=self.active_coils,
            shear_modulus=Material("steel").shear_modulus,
        )

    @property
    def rate(self):
        """Rate of all springs of an axle together [N/m]."""
        return self.springs_per_axle * self.each if self.kind == "sprung" else RIGID_RATE

    @property
    def force_at_stop(self):
        """What one spring bears with its axle at the upper stop, on whichever axle [N]."""
        return self.each * (self.preload + self.travel)

    @property
    def stress(self):
        """In the wire, there [Pa]."""
        return springs.coil_shear_stress(
            force=self.force_at_stop,
            wire_diameter=self.wire_diameter,
            mean_diameter=self.mean_diameter,
        )

    @property
    def allowed_stress(self):
        """What music wire of that size bears without a set [Pa].

        Wire that is thinner than the thinnest in the table is no weaker.
        """
        tabled = np.clip(self.wire_diameter, *_tabled())
        strength = springs.music_wire_strength(wire_diameter=tabled)
        return springs.allowable_shear_stress(tensile_strength=strength)

    @property
    def solid(self):
        """Length of a spring with its coils closed [m]."""
        return springs.solid_length(
            wire_diameter=self.wire_diameter, total_coils=self.active_coils + CLOSED
        )

    @property
    def pressed(self):
        """Length of a spring with its axle at the upper stop [m]."""
        return self.free_length - self.preload - self.travel

    # -- level rail ---------------------------------------------------------------------

    @cached_property
    def level_loads(self):
        """What each axle brings to level rail while no box is at a stop [N].

        Springs alike under a rigid frame: the weight's moment about the middle of the axles goes
        to each by its arm.
        """
        arms = self.positions - self.positions.mean(-1, keepdims=True)
        off = np.asarray(self.center_of_gravity)[..., None] - self.positions.mean(-1, keepdims=True)
        share = 1 / self.axles + off * arms / (arms**2).sum(-1, keepdims=True)
        return _an_axle(self.equal) * self.axles * share

    @cached_property
    def pressed_in(self):
        """How far each axle's springs are then pressed in from slack [m]; below 0 it would pull."""
        return (self.level_loads - _an_axle(self.unsprung)) / _an_axle(self.rate)

    @property
    def free_ride(self):
        """Height of each axle over its lower stop, were there no stops [m]."""
        return self.pressed_in - _an_axle(self.preload)

    @cached_property
    def ride(self):
        """Height of each axle over its lower stop on level rail, between its stops [m]."""
        rises = np.maximum(self.rises(np.zeros(self.axles)), 0.0)
        return rises if self.travel is None else np.minimum(rises, _an_axle(self.travel))

    @cached_property
    def spares(self):
        """Travel of each axle on its shorter side [m]."""
        if self.travel is None:
            return self.ride
        return np.minimum(self.ride, _an_axle(self.travel) - self.ride)

    @property
    def spare(self):
        """Travel of the worst axle on its shorter side [m]."""
        return self.spares.min(-1)

    @property
    def preloads(self):
        """The least and the most preload that leaves every axle the worst joint both ways [m].

        The least is above the most where no preload does.
        """
        most = self.pressed_in.min(-1) - self.unevenness
        least = self.pressed_in.max(-1) - self.travel + self.unevenness
        return np.maximum(least, 0.0), most

    @property
    def least_travel(self):
        """The slot in which a right preload would leave every axle the worst joint both ways [m]."""
        return np.ptp(self.pressed_in, axis=-1) + 2 * self.unevenness

    @property
    def most_rate(self):
        """Rate of an axle above which even springs without preload ride too low [N/m]."""
        return (self.level_loads.min(-1) - self.unsprung) / self.unevenness

    # -- uneven rail --------------------------------------------------------------------

    def loads(self, heights):
        """Load of each axle on rail of these heights, axles in the last place [N]."""
        if self.kind == "rigid":
            return suspension.axle_loads(rates=RIGID_RATE, rail_heights=heights, **self.frame)
        return suspension.axle_loads_with_stops(**self._slots(heights))

    def rises(self, heights):
        """Height of each axle over its lower stop on such rail [m]."""
        return suspension.axle_rises_with_stops(**self._slots(heights))

    @property
    def frame(self):
        """Axles and weight, as the handbook asks for them."""
        return {
            "positions": self.positions,
            "mass": self.mass,
            "center_of_gravity": self.center_of_gravity,
        }

    def _slots(self, heights):
        """Axles in their slots, counted from the lower stop.

        An axle's own weight rests on the rail until its box hangs at the lower stop: to the frame
        that is so much more preload.
        """
        return {
            "rates": _an_axle(self.rate),
            "preloads": _an_axle(self.rate * self.preload + self.unsprung),
            "travel_up": _an_axle(OPEN if self.travel is None else self.travel),
            "travel_down": 0.0,
            "rail_heights": heights,
            **self.frame,
        }

    @cached_property
    def joint_loads(self):
        """Loads with each axle in turn on a joint and in a dip, cases in the first place [N]."""
        rough = np.asarray(self.unevenness)
        raised = np.eye(self.axles).reshape(-1, *(1,) * rough.ndim, self.axles)
        raised = raised * rough[..., None]
        return self.loads(np.concatenate([raised, -raised]))

    @property
    def share(self):
        """Load of the lightest axle on the worst of them, over an equal load [-]."""
        return self.joint_loads.min((0, -1)) / self.equal

    @property
    def lifted(self) -> int:
        """The most wheels in the air on one of them, as read."""
        loads = self.joint_loads
        loads = loads[:, 0] if loads.ndim > 2 else loads
        return int((loads <= 1e-9).sum(-1).max())

    @cached_property
    def as_read(self) -> "Suspension":
        """The same without draws."""
        told = {each.name: getattr(self, each.name) for each in fields(self)}
        plain = {
            name: float(np.ravel(value)[0]) if isinstance(value, np.ndarray) else value
            for name, value in told.items()
        }
        places = self.positions[0] if self.positions.ndim > 1 else self.positions
        return replace(self, **plain | {"positions": places})


def _an_axle(amount):
    """An amount beside axles in the last place."""
    return np.asarray(amount)[..., None]


@cache
def _tabled():
    """The thinnest and the thickest music wire whose strength is tabled [m]."""
    named = [name for name in tables.names("wire") if name.startswith("music wire")]
    sizes = [tables.band("wire", name, "diameter")[1] for name in named]
    return min(sizes), max(sizes)


def wheelset_mass(wheel, axle):
    """A driver axle with both wheels, by its diameters: nobody pulls one to weigh it [kg]."""
    disc = FILLED * np.pi / 4 * wheel**2 * WIDE * wheel
    return STEEL * (2 * disc + np.pi / 4 * axle**2 * wheel)


def of(table: SpringsTable, sheet: BenchSheet, spread: Spread | None = None, name="springs"):
    """The drivers of a sheet on some springs; with draws, or as read where there is no spread.

    What has no spread of its own takes that of the instrument it is read with.
    """
    engine, tools = sheet.locomotive, sheet.instruments
    caliper, fine = tools.caliper.value, (tools.micrometer or tools.caliper).value

    ask = spread.reading if spread else as_read

    def spring(key: str, finest: float, missing: float | None = None) -> Amount | None:
        reading = getattr(table, key)
        if table.kind != "sprung" or reading is None:
            return missing
        return ask(f"{key.replace('_', ' ')} of the {name}", reading, finest)

    wire, mean = spring("wire_diameter", fine), spring("mean_diameter", caliper)
    if wire is not None and mean is not None:
        mean = np.maximum(mean, LEAST_INDEX * wire)
    weight = engine.weight_on_drivers
    off = spread.factor("weight of a driver axle", *WHEELSET) if spread else 1.0
    return Suspension(
        kind=table.kind,
        positions=np.stack(np.broadcast_arrays(*places_of(sheet, ask)), axis=-1),
        mass=ask("weight on the drivers", weight, SCALE * weight.value),
        wheelset=wheelset_mass(
            engine.driver_diameter.value,
            ask("diameter of the driver axles", engine.axle_diameter, caliper),
        )
        * off,
        read_center=ask("center of gravity", engine.center_of_gravity, tools.ruler.value),
        unevenness=ask("unevenness of the rail", sheet.track.rail_unevenness, caliper),
        springs_per_axle=table.springs_per_axle,
        wire_diameter=wire,
        mean_diameter=mean,
        active_coils=spring("active_coils", TURN),
        preload=spring("preload", caliper, 0.0),
        travel=spring("travel", caliper),
        free_length=spring("free_length", caliper),
    )
