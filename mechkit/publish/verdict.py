"""The verdict: what is wrong, what the rebuild changes, what it gains, one sentence each."""

from collections.abc import Iterable, Iterator
from math import hypot

from mechkit import scale
from mechkit.drive.decisions.decision import Decision, Verdict
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band, doubt
from mechkit.drive.sheet.schema import Measured, State
from mechkit.publish.worklist import TRUED
from mechkit.units import System, show

#: What a broken limit of the bench means, as it is said; {value} is what was found.
WRONG = {
    "fast": "runs too fast ({value})",
    "start": "starts late ({value})",
    "stop": "stops dead (in {value})",
    "hop": "binds once a wheel turn",
    "jam": "binds once in every turn of the gear under its worm",
    "wear": "wears its gears away",
    "alignment": "bends its shaft",
    "end play": "lets its worm jump",
    "contact": "lifts drivers off uneven rail",
    "quartering": "binds its rods twice a wheel turn",
    "back-to-back": "has drivers that do not pass every frog",
    "insulation": "can short its motor to the live frame",
}

#: Runs on more than this part of full throttle tell the top speed.
NEAR = 0.8


def joined(parts: Iterable[str]) -> str:
    """Parts of a sentence.

    >>> joined(["a"]), joined(["a", "b"]), joined(["a", "b", "c"])
    ('a', 'a and b', 'a, b and c')
    """
    parts = list(parts)
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def what_is_wrong(done: Rebuild, system: System) -> str:
    """Every fault that is surely or probably there, the worst first."""
    wrong = [one for one in done.faults if one.verdict == "wrong"]
    if not wrong:
        if done.partial:
            return "Nothing that could be answered came out wrong."
        return (
            "Nothing at the bench came out wrong: the engine needs no rebuild for what was asked."
        )
    said = [
        WRONG.get(one.key, one.question.rstrip("?").lower()).format(value=one.value.plain(system))
        for one in wrong
    ]
    return f"As it is, the engine {joined(said)}."


def what_disagrees(done: Rebuild, system: System) -> str:
    """Readings that do not belong, and a clocked speed that parts from the computed one."""
    found = [
        f"{reading} of the readings taken {one.when} the work does not belong to the others and is left out"
        for one in done.told
        for reading in one.bad
    ]
    for when, measured, drive in _states(done):
        if clocked := _clocked(done, when, measured, drive, system):
            found.append(clocked)
    if not found:
        return ""
    said = "; ".join(found)
    return f"{said[0].upper()}{said[1:]}. Settle this first: nothing below is surer than it."


def _states(done: Rebuild) -> Iterator[tuple[str, Measured, Drive]]:
    """Each state that was run: when, its readings and its drive."""
    yield "as it is", done.sheet.measured_before, done.known.before
    if done.known.after:
        yield "after the work", done.sheet.measured_after, done.known.after


def _clocked(done: Rebuild, when: str, measured: Measured, drive: Drive, system: System) -> str:
    """The run nearest to full throttle beside the speed that is computed for it, if they part."""
    full = done.sheet.supply.voltage.value
    fast = [run for run in measured.runs if not run.pull.value and run.voltage.value > NEAR * full]
    if not fast:
        return ""
    run = max(fast, key=lambda one: one.voltage.value)
    rail = run.distance.value / run.time.value
    clocked = float(scale.prototype_speed(model_speed=rail, ratio=done.sheet.locomotive.scale))
    watch = done.sheet.instruments.stopwatch.value / run.time.value
    off = clocked * hypot(watch, 2 * doubt(run.distance, run.time))
    read = Band(clocked, clocked - off, clocked + off, "speed")
    worked = done.known.spread.band(drive.speed_at(run.voltage.value), "speed")
    if read.meets(worked):
        return ""
    volts = show(run.voltage.value, "voltage", system)
    return f"{when} it was clocked at {read.say(system)} on {volts}, and the sheet's other readings make it {worked.say(system)}"


def pair(state: State) -> str:
    """Worm and the gear under it."""
    return f"{state.gears[0].material} on {state.worm.material}"


def changes(done: Rebuild, system: System) -> list[str]:
    """What is different between the drive as it is and as planned."""
    sheet, old, new = done.sheet, done.sheet.as_is, done.sheet.planned
    found = []
    if new.motor != old.motor:
        kinds = (old.motor.kind, new.motor.kind)
        words = f"the {kinds[0]} motor gives way to an {kinds[1]} one"
        found.append(words if kinds[0] != kinds[1] else f"another {kinds[1]} motor goes in")
    if new.flywheel and new.flywheel != old.flywheel:
        wheel = new.flywheel
        size = " by ".join(
            show(length.value, "length", system, 1 if system == "metric" else None)
            for length in (wheel.outside_diameter, wheel.width)
        )
        verb = "replaces the old one" if old.flywheel else "goes on its shaft"
        found.append(f"a {wheel.material} flywheel {size} {verb}")
    if pair(new) != pair(old):
        found.append(f"{pair(new)} runs where {pair(old)} ran")
    ratios = [state.gears[-1].teeth / state.worm.starts for state in (old, new)]
    if ratios[0] != ratios[1]:
        found.append(f"the ratio goes from {ratios[0]:g} to {ratios[1]:g} : 1")
    for was, now in zip(old.gears, new.gears, strict=False):
        if now.total_runout.value < TRUED * was.total_runout.value:
            swing = [show(gear.total_runout.value, "fine", system) for gear in (was, now)]
            found.append(f"the {now.name} is trued from {swing[0]} to {swing[1]} of swing")
    if new.mesh.lubrication != old.mesh.lubrication:
        found.append(f"the mesh, {old.mesh.lubrication} until now, is {new.mesh.lubrication}")
    if new.springs.kind != old.springs.kind:
        found.append(f"the drivers, {old.springs.kind} until now, are {new.springs.kind}")
    if new.motor.insulated and not old.motor.insulated and sheet.locomotive.frame_live:
        found.append("the motor is insulated from the live frame")
    return found


def what_changes(done: Rebuild, system: System) -> str:
    """The rebuild in one sentence."""
    found = changes(done, system)
    if not found:
        return "The plan changes nothing that is written in the sheet."
    sentence = joined(found)
    return f"{sentence[0].upper()}{sentence[1:]}."


#: Headline numbers that the third sentence names: key, words before and behind.
GAINS = {
    "start": "starts at {} instead of {}",
    "top": "tops out at {} instead of {}",
    "coast": "rolls on for {} instead of {} when the power is cut",
}


def what_it_gains(done: Rebuild, system: System) -> str:
    """Planned against before in a few numbers, and whether readings bear it out."""
    parts = []
    for line in done.headlines:
        words = GAINS.get(line.key)
        if not words:
            continue
        numbers = [band.plain(system) for band in (line.planned, line.before)]
        if numbers[0] != numbers[1]:
            parts.append(words.format(*numbers))
    ratio = next((one.numbers["ratio"] for one in done.decisions if "ratio" in one.numbers
                  and one.key == "hours"), None)  # fmt: skip
    if ratio is not None:
        parts.append(f"its worm pair lasts about {_times(ratio.value)} as long")
    sentence = f"Rebuilt, it {joined(parts)}" if parts else "Rebuilt, it runs as before"
    return f"{sentence}{_proof(done)}."


def _times(ratio: float) -> str:
    """A ratio that is known to one digit."""
    return f"{ratio:.0f} times" if ratio < 10 else f"{float(f'{ratio:.1g}'):.0f} times"


def _proof(done: Rebuild) -> str:
    if not done.proof:
        return "; all of this is computed and not yet measured"
    good = sum(check.agrees for check in done.proof)
    return (
        f"; of {len(done.proof)} readings taken after the work {good} lie where they were predicted"
    )


def counts(done: Rebuild, decision: Decision) -> bool:
    """False for the way of holding the sleeve that was not chosen."""
    adapter = done.sheet.planned.adapter
    other = {"bond": "press", "press": "bond"}
    return adapter is None or decision.key != other[adapter.hold]


def in_plan(done: Rebuild, found: Verdict) -> list[Decision]:
    """The decisions of the plan with that verdict."""
    return [one for one in done.decisions if one.verdict == found and counts(done, one)]
