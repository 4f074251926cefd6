"""One throttle, before and after the rebuild."""

from mechkit import units
from mechkit.drawings.rebuild import RebuildPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.rebuild import Case, Throttle, throttle
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel


def show(sheet=None, **more):
    """The throttle panel of the engine in a bench sheet, the demo's without one."""
    case = Case((sheet or sheets.demo()).data)
    return Panel(
        title="One throttle, before and after",
        groups=(
            Group("Throttle", (
                over(case.voltage, "voltage", "voltage at the track", "voltage"),
            )),
            Group("On the drawbar", (
                over(case.pull, "pull", "pull of the train", "force"),
            )),
            Group("When the power is cut", (
                Choice("rails", "rails", ("open", "shorted"), "open"),
            )),
        ),
        compute=lambda values: throttle(
            case, voltage=values.voltage, pull=values.pull, shorted=values.rails == "shorted"
        ),
        sentence=sentence,
        picture=RebuildPicture,
        setting=case,
        **more,
    )  # fmt: skip


def sentence(state: Throttle, system):
    """What both engines do at that throttle."""

    def one(name, answer):
        if answer.slips:
            return f"{name} its drivers slip under that pull"
        if not answer.runs:
            start = answer.start.say(system)
            return f"{name} it stands still (it breaks away at {start}) and draws {answer.current.say(system)}"
        return (
            f"{name} it runs {answer.speed.say(system)} at scale on {answer.current.say(system)} and rolls "
            f"{answer.coast.say(system)} when the power is cut"
        )

    volts = units.show(state.voltage, "voltage", system, 1)
    pull = f", pulling {units.show(state.pull, 'force', system)}" if state.pull else ""
    return f"At {volts}{pull}: {one('before,', state.before)}; {one('rebuilt,', state.planned)}."
