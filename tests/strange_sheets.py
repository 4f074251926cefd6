"""Bench sheets far from the demo's: the demo made larger and smaller, and its parts exchanged.

`similar` makes an engine of another size and voltage that hangs together as the demo does; `ENGINES`
are legal sheets that differ in one way or in several.
"""

import re
from functools import cache

from mechkit import units
from mechkit.drive import sheet
from mechkit.drive.sheet import Sheet

#: Powers of size and of voltage by which a quantity grows with an engine of one shape.
GROWS = {
    "m": (1, 0), "kg": (3, 0), "N": (3, 0), "V": (0, 1), "A": (4, -1), "ohm": (-4, 2),
    "kg*m^2": (5, 0), "H": (-4, 2), "s": (0, 0), "rad/s": (0, 0),
}  # fmt: skip
#: Where a power is another: a coast is as long as the square of the speed.
COASTS = "measured_(before|after).coasts.distance"
UNITS = {"m": "mm", "kg": "g", "kg*m^2": "g*cm^2", "rad/s": "rpm"}


def similar(bench: Sheet, size: float, volts: float) -> Sheet:
    """The engine of a sheet built so many times as large, for so many times the voltage."""
    tables = _grown(bench.document.unwrap(), "", size, volts)
    tables["locomotive"]["scale"] = bench.data.locomotive.scale / size
    return bench.with_values(tables)


def _grown(value, place, size, volts):
    """A value of the sheet, or all in a table or list, at another size."""
    if isinstance(value, dict):
        return {
            key: _grown(v, f"{place}.{key}".lstrip("."), size, volts) for key, v in value.items()
        }
    if isinstance(value, list):
        return [_grown(one, place, size, volts) for one in value]
    if not isinstance(value, str) or re.search(r"name|kind|top_speed|instruments|title", place):
        return value
    for unit, (length, volt) in GROWS.items():
        try:
            reading = units.read(value, unit)
        except units.QuantityError:
            continue
        if re.fullmatch(COASTS, place):
            length = 2
        if place.startswith("measured") and place.endswith("runs.distance"):
            length = 1
        factor = size**length * volts**volt
        return _written(reading.value * factor, reading.spread * factor, unit)
    return value


def _written(value, spread, unit):
    """A quantity as he would write it."""
    there = UNITS.get(unit, unit)
    one = units.to_si(1.0, there)
    band = f" +/- {spread / one:.4g}" if spread else ""
    return f"{value / one:.5g}{band} {there}"


def _gears(*gears):
    """Gears of the demo's module with so many teeth, from the worm down."""
    return [
        {
            "name": f"gear {n}", "teeth": teeth, "material": material,
            "outside_diameter": f"{0.4 * (teeth + 2):.2f} mm", "face_width": f"{face} mm",
            "total_runout": runout,
        }
        for n, (teeth, material, face, runout) in enumerate(gears, 1)
    ]  # fmt: skip


STRAIGHT = _gears((38, "bronze", 3, "0.001 in"))
FOUR = _gears(
    (12, "acetal", 2, "0 mm"), (20, "brass", 3, "0.001 in"), (16, "nickel silver", 2, "0.02 mm"),
    (36, "steel", 4, "0.001 in"),
)  # fmt: skip
NO_WHEEL = {"planned.flywheel": None}
#: Size over the demo's, volts over the demo's, and what is changed besides; one engine a row.
ENGINES: dict[str, tuple[float, float, dict]] = {
    "no flywheel, boxes only": (1.0, 1.0, NO_WHEEL | {
        "envelope.rooms": [
            {"name": "side tanks", "from": "-10 mm", "to": "60 mm", "shape": "box",
             "bottom": "16 mm", "top": "34 mm", "width": "30 mm"},
        ],
    }),
    "24 V and 75 mph": (1.0, 1.0, {
        "supply.voltage": "24 V", "locomotive.top_speed": "75 mph",
        "planned.adapter.hold": "press", "planned.adapter.temper": "half hard",
        "track.rolling_resistance": "0.2",  # more than its drivers can pull
    }),
    "a wheel 24 by 30 on a shaft of 5": (1.0, 1.0, {
        "planned.flywheel.outside_diameter": "24 mm", "planned.flywheel.width": "30 mm",
        "planned.flywheel.bore": "5.03 mm", "planned.flywheel.off_center": "0.09 mm",
        "planned.flywheel.overhang": "18 mm", "planned.motor.shaft_diameter": "5 mm",
        "planned.worm.bore": "8 mm", "planned.worm.outside_diameter": "14 mm",
        "planned.alignment.offset": "0.001 mm",  # so stiff a shaft bears no more
        "planned.flywheel.material": "tungsten alloy", "supply.voltage": "18 V",
    }),
    "bronze worm, steel gears": (1.0, 1.0, {
        "as_is.worm.material": "bronze", "as_is.gears[1].material": "steel",
        "planned.worm.material": "acetal", "planned.gears[1].material": "hardened steel",
        "planned.mesh.lubrication": "dry", "planned.gears[1].face_width": "1 mm",
    }),
    "wobbly, and starts easily": (1.0, 1.0, {
        "as_is.gears[2].total_runout": "0.015 in", "as_is.mesh.backlash": "0 mm",
        "measured_before.starting_voltage": ["0.8 V"], "track.rail_unevenness": "0 mm",
        "planned.mesh.backlash": "0.6 mm",
    }),
    "thin wire, two axles": (1.0, 1.0, {
        "planned.springs.wire_diameter": "0.1 mm", "planned.springs.active_coils": 14,
        "planned.springs.travel": None, "planned.springs.free_length": None,
        "locomotive.driver_axles": ["0 mm", "30 mm"],
        "locomotive.center_of_gravity": "-0.5 +/- 2 mm",
    }),
    "six axles, thick wire": (1.0, 1.0, {
        "locomotive.driver_axles": ["0 mm", "17 mm", "34 mm", "51 mm", "68 mm", "85 mm"],
        "locomotive.center_of_gravity": "40 mm", "planned.springs.wire_diameter": "0.9 mm",
        "planned.springs.mean_diameter": "1.1 mm", "planned.springs.active_coils": 2,
        "planned.springs.free_length": None, "planned.springs.preload": "4 mm",
    }),
    "worm straight on the axle gear, nothing measured": (1.0, 1.0, {
        "as_is.gears": STRAIGHT, "planned.gears": STRAIGHT, "measured_before": {},
        "measured_after": None, "stock": None,
    }),
    "four gears, three starts": (1.0, 1.0, {
        "planned.gears": FOUR, "planned.worm.starts": 3, "planned.mesh.pressure_angle": "14.5 deg",
        "planned.adapter": None, "measured_after": None,
    }),
    "tank engine": (1.0, 1.0, {
        "locomotive.weight_on_drivers": "408 g", "locomotive.trailing_weight": "1 g",
        "locomotive.length": "95 mm", "track.rolling_resistance": "0.004",
    }),
    "1:22.5 on 24 V": (64 / 22.5, 2.0, {}),
    "1:32 without a flywheel": (2.0, 1.4, NO_WHEEL),
    "1:160 on 6 V": (0.4, 0.5, {}),
    "1:160 without springs": (0.4, 1.0, NO_WHEEL | {"planned.springs.kind": "rigid"}),
}  # fmt: skip
SHEETS = tuple(ENGINES)


@cache
def strange(name: str) -> Sheet:
    """One of the engines."""
    size, volts, changes = ENGINES[name]
    bench = sheet.demo()
    made = bench if size == volts == 1.0 else similar(bench, size, volts)
    return made.with_values(changes) if changes else made
