"""The parts of invented engines, drawn: motors by size, meshes by what they are made of.

The spans are wider than any table of the trade; what cannot be, `drawn` throws out.
"""

from math import pi, radians

import numpy as np

from tests.engines.parts import DENSITY, Adapter, Flywheel, Gear, Mesh, Motor, Springs, Worm

MATERIALS = ("brass", "steel", "hardened steel", "acetal", "bronze", "nickel silver")
#: Shafts and bores as they come, metric and inch [m].
SHAFTS = tuple(1e-3 * d for d in (1.0, 1.2, 1.5, 1.588, 2.0, 2.3, 2.381, 3.0, 3.175, 4.0, 5.0, 6.0))
#: Modules and diametral pitches as they are cut [m].
MODULES = tuple(1e-3 * m for m in (0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 1.0)) + tuple(
    25.4e-3 / pitch for pitch in (120, 100, 80, 72, 64, 48, 32)
)  # fmt: skip


class Chance:
    """Draws by name, from one seed."""

    def __init__(self, *seed: int):
        self.rng = np.random.default_rng(seed)

    def between(self, low, high) -> float:
        """Even."""
        return float(self.rng.uniform(low, high))

    def wide(self, low, high) -> float:
        """Even in the logarithm."""
        return float(np.exp(self.rng.uniform(np.log(low), np.log(high))))

    def normal(self, sigma=1.0) -> float:
        """Round zero."""
        return float(sigma * self.rng.standard_normal())

    def whole(self, low, high) -> int:
        """A whole number, both ends included."""
        return int(self.rng.integers(low, high + 1))

    def one(self, options, odds=None):
        """One of several."""
        odds = None if odds is None else np.array(odds) / sum(odds)
        return options[int(self.rng.choice(len(options), p=odds))]

    def yes(self, odds) -> bool:
        """Yes with a chance."""
        return bool(self.rng.uniform() < odds)


class Faultless(Chance):
    """Chance that decides, but makes no error."""

    def normal(self, sigma=1.0) -> float:
        """None."""
        return 0.0


def rounded(value: float, step: float) -> float:
    """As such parts are made."""
    return round(value / step) * step


#: What a motor's winding can be, for want of room or of patience.
LEAST_OHMS, MOST_OHMS = 0.5, 1500.0


def motor(chance: Chance, name: str, kind: str, largest: float, voltage: float, size: float):
    """A motor that can be wound: thicker wire than a hair, thinner than a nail."""
    for _ in range(20):
        found = _motor(chance, name, kind, largest, voltage, size)
        if LEAST_OHMS < found.resistance < MOST_OHMS:
            break
    return found


def _motor(chance: Chance, name: str, kind: str, largest: float, voltage: float, size: float):
    """A motor of a kind no thicker than ``largest``, for a full throttle and a size of engine.

    ``size`` is 1 at 1:64.  What a volume of magnet and copper can do sets R beside k.
    """
    ironless = kind == "ironless"
    step = 1e-3 if largest > 12e-3 else 0.5e-3
    body = max(rounded(largest * chance.between(0.72, 1.0) - step / 2, step), 5 * step)
    length = rounded(body * chance.between(1.25, 1.9), step)
    rpm = chance.wide(6000, 12500) if ironless else chance.wide(8500, 17500)
    rated = voltage * chance.one((1.0, 1.0, 0.5))
    free = rpm * size**-0.3 * pi / 30
    drop = chance.wide(0.03, 0.03 * voltage) if chance.yes(0.3) else 0.0
    lost = chance.wide(0.006, 0.03) if ironless else chance.wide(0.03, 0.15)
    constant = (voltage - drop) * (1 - lost) / free
    strength = (3.0e-3 if ironless else 1.95e-3) * (body / (16e-3 if ironless else 18e-3)) ** 2.5
    resistance = (constant / (strength * chance.wide(0.7, 1.45))) ** 2
    stalled = constant * (voltage - drop) / resistance
    viscous = chance.between(0.05, 0.5) * lost * stalled
    rotor, wide = body * chance.between(0.6, 0.76), length * chance.between(0.38, 0.6)
    density = chance.wide(1500, 3000) if ironless else chance.wide(4800, 8500)
    shafts = sorted(SHAFTS, key=lambda shaft: abs(shaft - 0.11 * body))[:3]
    return Motor(
        name=name,
        kind=kind,
        resistance=resistance,
        constant=constant,
        brush_drop=drop,
        friction=lost * stalled - viscous,
        damping=viscous / free,
        stiction=chance.between(1.05, 1.5) if ironless else chance.between(1.15, 2.0),
        rotor_inertia=density * wide * pi / 32 * rotor**4,
        inductance=resistance * chance.wide(1.5e-5, 6e-5 if ironless else 5e-4),
        thermal=28 * (16e-3 / body) ** 1.6 * chance.wide(0.65, 1.5),
        magnet=chance.one((0.4e-3, 0.8e-3)),
        rated=rated,
        rotor_diameter=rounded(rotor, 0.1e-3),
        rotor_length=rounded(wide, 0.1e-3),
        body_diameter=body,
        body_length=length,
        shaft=chance.one(shafts),
        insulated=chance.yes(0.6),
    )


#: Worm friction at speed by lubrication, acetal on anything and metal on metal.
RUBS = {"greased": (0.03, 0.16), "starved": (0.08, 0.25), "dry": (0.13, 0.25)}
DRAGS = {"greased": 1.0, "starved": 0.35, "dry": 0.08}


def mesh(chance: Chance, lubrication: str, module: float, size: float) -> Mesh:
    """What rubs: friction 0.03 to 0.25, drag a decade either side of 0.17 µN*m*s at 1:64."""
    low, high = RUBS[lubrication]
    fades = chance.yes(0.3)
    return Mesh(
        friction=chance.wide(low, high),
        rise=chance.between(0.2, 0.9) if fades else 0.0,
        fade=chance.wide(0.05, 0.6),
        spur=chance.between(0.90, 0.99),
        drag=DRAGS[lubrication] * 0.17e-6 * size**3 * chance.wide(0.1, 10),
        backlash=module * chance.between(0.08, 0.28),
        worm_backlash=module * chance.between(0.03, 0.2),
        angle=radians(chance.one((20.0, 14.5), (9, 1))),
        lubrication=lubrication,
    )


def collar(chance: Chance, thrust: str, bore: float) -> float:
    """Friction times radius of what takes the worm's thrust [m]."""
    if thrust == "ball":
        return chance.wide(0.001, 0.005) * bore
    return chance.wide(0.04, 0.2) * bore * chance.between(0.6, 0.9)


def worm(chance: Chance, material, starts, module, bore, thrust, size) -> Worm:
    """A worm whose root leaves a wall over its bore."""
    wall = bore / 2 * chance.between(0.35, 0.8)
    pitch = max(module * chance.between(10, 17), bore + 2 * wall + 2.5 * module)
    return Worm(
        material=material,
        starts=starts,
        module=module,
        outside=rounded(pitch, 0.1e-3) + 2 * module,
        length=rounded(max(module * chance.between(14, 24), 2.2 * bore), 0.5e-3),
        bore=bore,
        end_play=chance.wide(0.02e-3, 0.5e-3) * min(size, 1.2) ** 0.5,
        thrust=thrust,
        collar=collar(chance, thrust, bore),
    )


def gear(chance: Chance, name, teeth, material, module, true: bool, throated=False) -> Gear:
    """A gear, true or badly bored."""
    low, high = (0.02, 0.10) if true else (0.06, 0.55)
    return Gear(
        name=name,
        teeth=teeth,
        material=material,
        face=rounded(max(module * chance.between(6, 10), 1e-3), 0.1e-3),
        runout=module * chance.wide(low, high),
        throat=module * chance.between(0.1, 0.9) if throated else 0.0,
    )


def flywheel(chance: Chance, motor: Motor, largest: float, size: float) -> Flywheel:
    """A wheel that goes on the shaft and turns free in the body."""
    outside = rounded(largest * chance.between(0.8, 1.0) - 0.05e-3, 0.1e-3)
    width = rounded(min(outside * chance.between(0.35, 1.0), 18e-3 * size), 0.1e-3)
    gap = chance.between(0.6e-3, 3.2e-3) * min(1.0, size**0.5)
    return Flywheel(
        material=chance.one(tuple(DENSITY), (5, 2, 1)),
        outside=outside,
        width=width,
        bore=motor.shaft,
        off_center=chance.wide(2e-6, 25e-6),
        bearing_span=rounded(motor.body_length * chance.between(0.72, 0.92), 0.1e-3),
        overhang=rounded(gap + width / 2, 0.1e-3),
    )


def adapter(chance: Chance, worm: Worm) -> Adapter:
    """The sleeve that a worm needs whose bore is larger than the shaft."""
    material = chance.one(("brass", "steel"), (3, 1))
    return Adapter(
        material=material,
        temper=chance.one(("soft", "half hard")),
        length=rounded(worm.length * chance.between(0.75, 1.0), 0.5e-3),
        hold=chance.one(("bond", "press"), (3, 1)),
        strength=chance.between(8e6, 22e6),
    )


def springs(chance: Chance, kind: str, load: float, size: float) -> Springs:
    """Coil springs that bend by some tenths under their share ``load`` [N] of an axle's weight."""
    if kind == "rigid":
        return Springs(kind)
    bent = chance.between(0.5e-3, 1.2e-3) * min(max(size, 0.5), 2.0)
    index, coils = chance.between(7, 11), rounded(chance.between(4, 8), 0.5)
    wire = 8 * index**3 * coils * load / bent / 79e9
    wire = min(max(rounded(wire, 0.01e-3), 0.08e-3), 1.5e-3)
    bent = load * 8 * index**3 * coils / (79e9 * wire)  # of the wire that there is
    free = coils * wire + bent * chance.between(2.0, 3.0) + 2 * wire
    solid = coils * wire
    return Springs(
        kind=kind,
        wire=wire,
        mean=rounded(index * wire, 0.05e-3),
        coils=coils,
        preload=bent * chance.between(0.2, 0.8),
        free=free,
        travel=min(bent * chance.between(0.7, 1.4), 0.85 * (free - solid)),
    )
