"""What the stock of a bench sheet says of one part that cannot all be true."""

from collections.abc import Iterator

from mechkit import worm
from mechkit.drive.sheet.clash import above, clash, least, said
from mechkit.drive.sheet.faults import Fault
from mechkit.drive.sheet.keys import dotted
from mechkit.drive.sheet.part_clashes import motor_clashes
from mechkit.drive.sheet.schema import BenchSheet, GearSet
from mechkit.units import plain

#: A maker's center distance allows for backlash; a measured one for play in the box.
OFF_CENTER = 0.25  # modules


def stock_clashes(data: BenchSheet) -> Iterator[Fault]:
    """Every contradiction within the parts in stock."""
    for kind in ("motors", "gear_sets", "bars"):
        yield from _names(data, kind)
    for n, motor in enumerate(data.stock.motors):
        at = ("stock", "motors", n)
        yield from above(data, (*at, "shaft_diameter"), (*at, "body_diameter"), equal=True)
        yield from above(data, (*at, "bearing_span"), (*at, "body_length"))
        yield from motor_clashes(data, motor, at)
    for n, gears in enumerate(data.stock.gear_sets):
        yield from _gear_set(data, gears, ("stock", "gear_sets", n))


def _names(data, kind) -> Iterator[Fault]:
    """Parts are told apart by their names."""
    seen: dict[str, int] = {}
    for n, part in enumerate(getattr(data.stock, kind)):
        if part.name in seen:
            first = dotted(("stock", kind, seen[part.name], "name"))
            words = f'= "{part.name}" is the name of {first} too; no two may be alike'
            yield Fault(("stock", kind, n, "name"), words)
        seen.setdefault(part.name, n)


def _gear_set(data, gears: GearSet, at) -> Iterator[Fault]:
    if (gears.module is None) == (gears.diametral_pitch is None):
        if gears.module is None:
            words = "is missing, and so is diametral_pitch: a gear set needs one of them"
            yield Fault((*at, "module"), words, missing=True)
        else:
            pitch, other = f"{gears.diametral_pitch:g}", dotted((*at, "module"))
            words = f"= {pitch} is the same thing as {other} = {said(gears.module)}; write one"
            yield Fault((*at, "diametral_pitch"), words)
        return
    module = gears.axial_module
    if least(gears.worm_diameter) - 4.4 * module <= gears.worm_bore.value:
        why = f"under threads of module {plain(module, 'm')} no metal is left"
        bore, over = (*at, "worm_bore"), (*at, "worm_diameter")
        yield clash(data, bore, "does not go with", over, why)
        return
    given = gears.center_distance
    if given is None:
        return
    key = "idler_teeth" if gears.idler_teeth else "wheel_teeth"
    wanted = worm.center_distance(
        pitch_diameter=gears.worm_diameter.value - 2 * module,
        module=module,
        teeth=getattr(gears, key),
    )
    slack = OFF_CENTER * module + given.spread + data.instruments.caliper.value
    if abs(given.value - wanted) > slack:
        why = f"with this worm that makes {plain(round(wanted, 6), 'm')}"
        yield clash(data, (*at, "center_distance"), "does not go with", (*at, key), why)
