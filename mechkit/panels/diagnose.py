"""Which shaft is at fault?"""

from mechkit import units
from mechkit.drawings.diagnose import DiagnosePicture
from mechkit.drive import sheet as sheets
from mechkit.drive.diagnosis.diagnose import OVER_FLOOR
from mechkit.drive.questions.diagnose import INVENTED, OWN, Case, Heard, listen
from mechkit.drive.questions.reach import Reach
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel


def show(sheet=None, recording=None, **more):
    """The shafts of a bench sheet's drive and a recording: the demo's, invented, or one's own."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data, recording)
    return Panel(
        title="Which shaft is at fault?",
        groups=groups(case),
        compute=lambda values: listen(case, **({"idler": 0.0} | vars(values))),
        sentence=lambda state, system: sentence(case, state, system),
        picture=DiagnosePicture,
        setting=case,
        **more,
    )


def groups(case):
    """The controls: what is wrong in the invented recording, how it was read, which one it is."""
    names = (INVENTED, *case.files)

    def made(reach, name, words, kind, **more):
        return over(reach, name, words, kind, when=("source", INVENTED), **more)

    gear = case.state.gears[-1].name
    faults = [made(case.runout(gear), "axle", "axle gear's total runout", "fine", steps=40)]
    if case.idler:
        words = "idler's total runout"
        faults.append(made(case.runout(case.idler.name), "idler", words, "fine", steps=40))
    rods, noise, drift = Reach(0.0, 0.0, 0.1), Reach(0.02, 0.0, 0.1), Reach(0.15, 0.0, 0.5)
    faults.append(made(rods, "rods", "rods bind, of the friction", "percent", step=0.005))
    return (
        Group("What is wrong", tuple(faults)),
        Group("How it was read", (
            made(noise, "noise", "noise of a reading", "ripple", step=0.0025),
            made(drift, "drift", "speed wanders by", "percent", step=0.01),
        )),
        Group("Recording", (
            Choice("source", "what is listened to", names, OWN if OWN in names else INVENTED),
            made(case.seconds, "seconds", "length", "time", steps=20),
        )),
    )  # fmt: skip


def sentence(case, state: Heard, system):
    """Which shaft, how sure, what runout, and what to do by hand next."""
    if state.said is None:
        return f"Cannot tell: {state.reason}."
    findings = state.said.findings
    if not findings:
        return f"No shaft stands out over {state.said.turns:.0f} turns of the axle. {_least(case, state, system)}"
    first = findings[0]
    others = [one.shaft.name for one in findings[1:]]
    does = "do" if len(others) > 1 or _plural(findings[-1]) else "does"
    more = f" So {does} the {' and the '.join(others)}." if others else ""
    stands = "stand" if _plural(first) else "stands"
    return (
        f"The {first.shaft.name} {stands} out: {_how(state, first, system)}.{more} {_next(first)}"
    )


def _plural(finding):
    """Whether its name is of several: the rods, the motor and worm."""
    return finding.shaft.kind in {"rods", "motor"}


def _how(state, finding, system):
    """Swing, certainty and runout of one finding."""
    where = {"sound": "loudness", "current": "load", "speed": "speed"}[state.kind]
    text = (
        f"the {where} swings {units.show(finding.swing, 'ripple')} either way, "
        f"{finding.over_floor:.0f} times the noise beside it"
    )
    if finding.total_runout is None:
        return f"{text}; a sound has no scale for runout" if state.kind == "sound" else text
    first, second = ("metric", "inch") if system == "metric" else ("inch", "metric")
    size, more = _fine(finding.total_runout, first), _fine(finding.spread, first)
    return (
        f"{text}, as a total runout of {size}\u00a0±\u00a0{more} "
        f"({_fine(finding.total_runout, second)}) would make"
    )


def _fine(size, system):
    """A runout as finely as an indicator reads it."""
    return units.show(size, "fine", system, 1 if system == "inch" else 0)


def _least(case, state, system):
    """What would have had to be there to be seen."""
    if state.kind != "speed":
        return f"What is less than {OVER_FLOOR:g} times the noise beside it stays unheard."
    axle = case.train.shafts[0]
    floor = state.said.lines.at(axle.order)[1]
    least = max(OVER_FLOOR * floor / (case.train.swing_of(axle, 1e-3) / 1e-3), case.train.limit)
    return (
        f"An axle gear with less than {_fine(least, system)} of total runout would not show, nor one "
        "with a little more: the motor gives way to it."
    )


def _next(finding):
    """The next thing to do by hand."""
    tests = finding.shaft.hand_tests
    return f"By hand: {tests[0]}" if tests else ""
