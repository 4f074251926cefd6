"""Readings of one drive, motor to springs, that cannot all be true."""

import math
from collections.abc import Iterator
from statistics import fmean

from mechkit import tables
from mechkit.drive.sheet.clash import above, clash, least, most, said
from mechkit.drive.sheet.faults import Fault
from mechkit.drive.sheet.keys import dotted
from mechkit.drive.sheet.schema import MotorTable, State
from mechkit.drive.sheet.size_clashes import size_clashes
from mechkit.units import plain

#: Winding warm from the test, leads: common practice, no source.
STALL_AGREES = 0.15
#: Brushes may drop so much of full throttle, which a low stalling voltage feels; common practice.
BRUSH_DROP = 0.04
#: One armature position against another; more is a slip of the pen or a burnt winding.
POSITIONS_AGREE = 3.0
#: Tops are turned a little under or over, and old gears are not to a standard.
TOOTH_TOPS = 0.25e-3

#: In a state: what must be smaller than what.
SMALLER = [
    ("motor.shaft_diameter", "motor.body_diameter", ""),
    ("motor.rotor_diameter", "motor.body_diameter", "the rotor turns inside"),
    ("motor.rotor_length", "motor.body_length", "the rotor turns inside"),
    ("motor.starting_voltage", "motor.no_load.voltage", "it ran there"),
    ("worm.bore", "worm.outside_diameter", ""),
    ("worm.end_play", "worm.length", ""),
    ("flywheel.bore", "flywheel.outside_diameter", ""),
    ("springs.wire_diameter", "springs.mean_diameter", ""),
]  # fmt: skip


def part_clashes(data, state: State, name) -> Iterator[Fault]:
    """Every contradiction within one state of the drive, ``as_is`` or ``planned``."""

    def at(key):
        return (name, *key.split("."))

    for smaller, larger, why in SMALLER:
        yield from above(data, at(smaller), at(larger), why, equal=True)
    yield from motor_clashes(data, state.motor, at("motor"))
    yield from _gears(data, state, at)
    if state.adapter:
        why = "no room is left for a sleeve"
        yield from above(data, at("motor.shaft_diameter"), at("worm.bore"), why, equal=True)
    if state.flywheel:
        why = "the rim would strike"
        yield from above(data, at("flywheel.off_center"), ("envelope", "gap"), why, equal=True)
        slack = 2 * data.instruments.caliper.value
        if most(state.flywheel.bore) + slack < least(state.motor.shaft_diameter):
            why = "it does not go on"
            shaft = at("motor.shaft_diameter")
            yield clash(data, at("flywheel.bore"), "is less than", shaft, why)
        yield from _wheel(data, state, at, slack)
    yield from _springs(data, state.springs, at)
    yield from size_clashes(data, state, at)


def _wheel(data, state: State, at, slack) -> Iterator[Fault]:
    """A flywheel that shakes on its shaft, or turns inside its own bearing."""
    wheel, shaft = state.flywheel, state.motor.shaft_diameter
    assert wheel
    gap = tables.band("joints", "retaining compound", "diametral_gap")[1]
    if least(wheel.bore) > most(shaft) + gap + slack:
        why = (
            f"no compound fills more than {plain(gap, 'm')}: count a bush as part of the wheel and "
            "write the bush's bore"
        )
        shaft_key = at("motor.shaft_diameter")
        yield clash(data, at("flywheel.bore"), "does not go with", shaft_key, why)
    inside = wheel.width.value / 2 - wheel.overhang.value
    if 2 * most(wheel.overhang) < least(wheel.width):
        why = (
            f"the wheel would turn {plain(inside, 'm')} deep inside the bearing; the overhang is "
            "counted to the middle of the disc"
        )
        yield clash(data, at("flywheel.overhang"), "does not go with", at("flywheel.width"), why)


def motor_clashes(data, motor: MotorTable, at) -> Iterator[Fault]:
    """Readings of one motor that cannot all be true."""
    meter = data.instruments.meter.value
    ohms = [reading.value for reading in motor.resistance]
    mean = fmean(ohms)
    if max(ohms) > POSITIONS_AGREE * min(ohms):
        high, low = ohms.index(max(ohms)), ohms.index(min(ohms))
        why = "one winding cannot be both; measure again"
        yield clash(data, (*at, "resistance", high), "against", (*at, "resistance", low), why)
    free = motor.no_load
    if free.current.value * mean >= free.voltage.value:
        why = f"that current alone takes {free.current.value * mean:.2f} V in {mean:.1f} ohm"
        volts, ohm = (*at, "no_load", "voltage"), (*at, "resistance")
        yield clash(data, (*at, "no_load", "current"), "does not go with", volts, why, (ohm,))
    if motor.stall:
        stall = motor.stall.voltage.value / motor.stall.current.value
        agrees = 1 + STALL_AGREES + 2 * meter
        drop = BRUSH_DROP * data.supply.voltage.value / motor.stall.current.value
        if not min(ohms) / agrees <= stall <= max(ohms) * agrees + drop:
            here = f"{said(motor.stall.voltage)} and {said(motor.stall.current)}"
            there = f"{dotted((*at, 'resistance'))} = {said(motor.resistance[0])}"
            words = f"= {here} make {stall:.1f} ohm, which does not go with {there}"
            yield Fault((*at, "stall"), words, rests_on=((*at, "resistance"),))


def _gears(data, state: State, at) -> Iterator[Fault]:
    module = state.worm.module
    root = least(state.worm.outside_diameter) - 4.4 * most(module)
    if root <= least(state.worm.bore) < most(state.worm.outside_diameter):
        why = f"under threads of module {said(module)} no metal is left"
        over = at("worm.outside_diameter")
        yield clash(data, at("worm.bore"), "does not go with", over, why, (at("worm.module"),))
    caliper = data.instruments.caliper.value
    for n, gear in enumerate(state.gears):
        place = (*at("gears"), n)
        tops, outside = (gear.teeth + 2) * module.value, gear.outside_diameter
        slack = TOOTH_TOPS + caliper + outside.spread + (gear.teeth + 2) * module.spread
        # A single wheel under a worm may be throated, its tips up to a module larger.
        throat = module.value if len(state.gears) == 1 else 0.0
        if not -slack <= outside.value - tops <= slack + throat:
            why = f"at worm.module {said(module)} that is {plain(tops, 'm')} over the tops"
            tooth, over = (*place, "teeth"), (*place, "outside_diameter")
            yield clash(data, tooth, "does not go with", over, why, (at("worm.module"),))
        if least(gear.total_runout) >= 2 * module.value:
            why = "it would leave the mesh once a turn"
            runout = (*place, "total_runout")
            yield clash(data, runout, "is twice or more", at("worm.module"), why)
    if least(state.mesh.backlash) >= math.pi * module.value / 2:
        why = "that is more than a tooth space"
        yield clash(data, at("mesh.backlash"), "does not go with", at("worm.module"), why)


def _springs(data, springs, at) -> Iterator[Fault]:
    kind = at("springs.kind")
    if springs.kind != "sprung":
        return
    for key in ("wire_diameter", "mean_diameter", "active_coils"):
        if getattr(springs, key) is None:
            words = f'is missing, but {dotted(kind)} = "sprung"; measure it or write "rigid"'
            yield Fault(at(f"springs.{key}"), words, missing=True)
            return
    solid = springs.active_coils.value * springs.wire_diameter.value
    free = springs.free_length
    if not solid:
        yield Fault(at("springs.active_coils"), f'= 0, but {dotted(kind)} = "sprung"')
    elif free and most(free) <= solid:
        why = f"its coils alone are {plain(solid, 'm')} high"
        coils = at("springs.active_coils")
        yield clash(data, at("springs.free_length"), "does not go with", coils, why)
    elif free and springs.travel and least(springs.travel) > most(free) - solid:
        why = "the spring goes solid first"
        length = at("springs.free_length")
        yield clash(data, at("springs.travel"), "does not go with", length, why)
