"""Press it or bond it? The sleeve from a metric shaft to an inch worm."""

from mechkit import units
from mechkit.drawings.fits import FitsPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.decisions import fittings
from mechkit.drive.decisions.workshop import BOND_GAP
from mechkit.drive.questions.fits import STOCK, case_of, window
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel

#: The keys of the sheet that the sliders stand for.
KEYS = {
    "shaft": "planned.motor.shaft_diameter",
    "outside": "planned.worm.bore",
    "length": "planned.adapter.length",
}


def show(sheet=None, **more):
    """The panel of the sleeve in a bench sheet, of the demo's without one."""
    sheet = sheet or sheets.demo()
    case = case_of(sheet.data)
    write = None
    if sheet.data.planned.adapter:

        def write(values):
            return into_copy(sheet, case, values)

    return Panel(
        title="Press it or bond it?",
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=lambda state, system: sentence(case, state, system),
        picture=FitsPicture,
        setting=case,
        write=write,
        **more,
    )


def groups(case):
    """The controls: what is given, the sleeve, the fit."""
    return (
        Group("Shaft and worm", (
            over(case.shafts, "shaft", "shaft of the motor", "length"),
            over(case.outsides, "outside", "bore of the worm", "length"),
            over(case.lengths, "length", "length of the sleeve", "length"),
        )),
        Group("Sleeve", (
            Choice("material", "made of", tuple(STOCK.values()), case.material),
            Choice("hold", "hold it by", ("press", "bond"), case.hold),
        )),
        Group("On the diameter", (
            over(case.interferences, "interference", "shaft larger than bore", "micron", steps=150,
                 when=("hold", "press")),
            over(case.gaps, "gap", "bore larger than shaft", "fine", when=("hold", "bond")),
            over(case.tolerances, "tolerance", "your lathe and instruments hold ±", "fine", steps=40),
        )),
    )  # fmt: skip


def compute(case, values):
    """The state that the controls ask for."""
    return window(
        case,
        shaft=values.shaft,
        outside=values.outside,
        length=values.length,
        material=values.material,
        hold=values.hold,
        difference=values.interference if values.hold == "press" else -values.gap,
        tolerance=values.tolerance,
    )


def into_copy(sheet, case, values):
    """What was decided, into a copy of the sheet; what was left alone keeps its text."""
    changes = {
        key: f"{values[name] * 1e3:.6g} mm"
        for name, key in KEYS.items()
        if abs(values[name] - getattr(case, name)) > 1e-9
    }
    if values["material"] != case.material:
        metal, temper = next(key for key, name in STOCK.items() if name == values["material"])
        changes |= {"planned.adapter.material": metal, "planned.adapter.temper": temper}
    if values["hold"] != case.hold:
        changes["planned.adapter.hold"] = values["hold"]
    return sheet.with_values(changes).save_copy()


def sentence(case, state, system):
    """What it means at the bench."""
    if state.pressed:
        return _pressed(state, system)
    return _bonded(case, state, system)


def micro(value, system):
    """A length of a micrometer or less, fine enough to tell."""
    return units.show(value, "micron", system, 1 if system == "metric" else 3)


def _torque(value, system):
    return units.show(value, "torque", system, 0 if system == "metric" else 1)


def _yields(state, system):
    """Where the sleeve yields: one number, or a range where bars of one name differ."""
    first = micro(state.yields, system)
    if state.yields_late < 1.3 * state.yields:
        return first
    return f"{first} to {micro(state.yields_late, system)}, bar by bar"


def _whole(value, kind, system):
    return units.show(value, kind, system, 0 if system == "metric" else 1)


def _times(state):
    """So many times the stalled motor."""
    places = 0 if state.times >= 10 else 1
    enough = (
        "" if state.times >= fittings.HOLD else f", less than the {fittings.HOLD:.0f} to ask for"
    )
    return f"{state.times:.{places}f} times the stalled motor{enough}"


def _pressed(state, system):
    if state.difference <= 0:
        first = "Size to size: nothing is pressed, nothing holds."
    elif state.yielded:
        first = (
            f"{micro(state.difference, system)} of interference: the {state.material} yields at "
            f"{micro(state.yields, system)}; its bore is stretched for good, and more than "
            f"{_torque(state.torque, system)} must not be counted on."
        )
    else:
        hoop = _whole(state.hoop, "stress", system)
        warm = ""
        if state.release < 1000:
            rise = units.show(state.release, "rise", system)
            warm = f"; warmed by {rise} it is loose"
        first = (
            f"{micro(state.difference, system)} of interference: holds {_torque(state.torque, system)}, "
            f"{_times(state)}, at {hoop} hoop{warm}. It yields at {_yields(state, system)}."
        )
    force = ""
    if state.press_force:
        force = (
            f" Pressing takes up to {units.show(state.press_force, 'force', system, 0)}: "
            "never through the motor's bearings."
        )
    return f"{first} {_lathe(state, system)}{force}"


def _lathe(state, system):
    holds = f"±{units.show(state.tolerance, 'fine', system)}"
    if state.reached:
        return f"Your lathe holds {holds}: it can be turned to size."
    if state.window <= 0:
        return "Before it holds enough it yields: bond it."
    return f"Your lathe holds {holds}: bond it, or match it to the shaft."


def _bonded(case, state, system):
    low, high = -state.spread[1], -state.spread[0]
    least, most = BOND_GAP
    fills = _span(BOND_GAP, system)
    swing = units.show(state.swing, "fine", system)
    first = (
        f"Bonded over {units.show(state.length, 'length', system)} it holds {_torque(state.torque, system)} "
        f"({_plain(state.torque_low, system)} to {_plain(state.torque_high, system)}), {_times(state)}; "
        f"hot, at worst, {_torque(state.torque_hot, system)}."
    )
    if not least <= -state.difference <= most:
        gap = units.show(-state.difference + 0.0, "fine", system)
        first = f"A gap of {gap} is none for the compound, which fills {fills}: its sheet's strength is not to be had."
    made = f"a gap of {_span((low, high), system)}"
    if low < 0:
        tight = units.show(-low, "fine", system)
        made = f"anything from {tight} too tight to a gap of {units.show(high, 'fine', system)}"
    lathe = f"Your lathe makes it {made}: creep up on it, or match it to the shaft."
    if state.reached:
        lathe = f"Your lathe makes it {made}, and the compound fills {fills}."
    if state.swing > case.allowed_swing:
        return f"{first} {lathe} The worm may swing {swing}, more than the mesh forgives: close the gap."
    true = f" The worm may swing {swing}: true it while wet." if state.swing else ""
    return f"{first} {lathe}{true}"


def _plain(value, system):
    """A torque without its unit."""
    return _torque(value, system).split("\u00a0")[0]


def _span(span, system):
    """From a small length to another."""
    low, high = (units.show(end, "fine", system) for end in span)
    return f"{low.split(chr(0xA0))[0]} to {high}"
