"""Why does a wheel leave the rail?"""

from mechkit import units
from mechkit.drawings.springs import SpringsPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.springs import KINDS, Case, Stand, stand
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel

#: The sliders that are keys under planned.springs, with the unit that the sheet wants.
KEYS = {"wire_diameter": "m", "mean_diameter": "m", "active_coils": "-", "preload": "m"}


def show(sheet=None, **more):
    """The panel of the drivers' springs in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    return Panel(
        title="Why does a wheel leave the rail?",
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=lambda state, system: sentence(case, state, system),
        picture=SpringsPicture,
        setting=case,
        write=lambda values: into_copy(sheet, case, values),
        **more,
    )


def groups(case):
    """The controls: how the axles are held, the springs, the rail."""
    axles = tuple(str(n + 1) for n in range(len(case.positions)))
    sprung = ("kind", "sprung")
    return (
        Group("Drivers", (
            Choice("kind", "axles are", KINDS, case.sheet.planned.springs.kind),
        )),
        Group("Rail", (
            over(case.joints, "joint", "height of the joint", "length", steps=100),
            Choice("axle", "under axle", axles, axles[len(axles) // 2]),
            over(case.unevennesses, "unevenness", "worst of ten places", "length", steps=100),
        )),
        Group("Springs", (
            over(case.wires, "wire_diameter", "wire", "length", steps=25, when=sprung),
            over(case.means, "mean_diameter", "mean diameter of the coil", "length", steps=18, when=sprung),
            over(case.coils, "active_coils", "active coils", "number", step=0.5, when=sprung),
            over(case.preloads, "preload", "pressed in at the lower stop", "length", steps=20, when=sprung),
        )),
    )  # fmt: skip


def compute(case, values):
    """The state that the controls ask for."""
    return stand(
        case,
        kind=values.kind,
        axle=int(values.axle),
        joint=values.joint,
        wire_diameter=values.wire_diameter,
        mean_diameter=values.mean_diameter,
        active_coils=values.active_coils,
        preload=values.preload,
        unevenness=values.unevenness,
    )


def into_copy(sheet, case, values):
    """What was decided, into a copy of the sheet; what was left alone keeps its text."""
    table, kind = case.sheet.planned.springs, values["kind"]
    if kind == "equalized":
        raise ValueError("a bench sheet knows rigid and sprung drivers; beams stay on the drawing")
    changes = {} if kind == table.kind else {"planned.springs.kind": kind}
    if kind == "sprung":
        for name, unit in KEYS.items():
            given, value = getattr(table, name), values[name]
            if given is None or abs(value - given.value) > 1e-9:
                text = value if unit == "-" else units.plain(value, unit)
                changes[f"planned.springs.{name}"] = text
        for name in ("travel", "free_length"):
            if getattr(table, name) is None:
                changes[f"planned.springs.{name}"] = units.plain(case.given(name), "m")
    return sheet.with_values(changes).save_copy()


def sentence(case, state: Stand, system):
    """What it means at the bench: this joint, the springs, then rail in general."""
    return " ".join(
        [*_balance(case, system), _joint(state, system), _held(case, state, system), _rail(state)]
    )


def _size(value, system, kind="length"):
    return units.show(value, kind, system)


def _share(value):
    return units.show(value, "percent")


def _balance(case, system):
    """A weight that was read beyond the axles that carry it, where it was."""
    if not case.outside:
        return
    where = "behind the last" if case.outside > 0 else "ahead of the first"
    way = "forward" if case.outside > 0 else "back"
    far = _size(abs(case.outside), system)
    yield (
        f"With its weight {where} driver nothing stands: the center of gravity is taken {far} "
        f"farther {way}."
    )


def _joint(state, system):
    """What the joint does now, and what it would do to a rigid frame."""
    place = "On level rail"
    if state.joint:
        what = "a joint" if state.joint > 0 else "a dip"
        place = f"On {what} of {_size(abs(state.joint), system)} under axle {state.axle}"
    text = f"{place}, the lightest driver keeps {_share(state.share)} of an equal share"
    if state.lifted:
        text = f"{place}, {_hangs(state.lifted, state.gaps, system)}"
    rigid = [n + 1 for n, gap in enumerate(state.rigid_gaps) if gap > 0]
    if state.kind != "rigid" and rigid and not state.lifted:
        text += f"; held rigid, {_hangs(rigid, state.rigid_gaps, system, 'would hang')}"
    return text + "."


def _hangs(numbers, gaps, system, verb=""):
    """Which wheels are in the air, and how high the highest."""
    names = " and ".join(str(n) for n in numbers)
    axles, hang = ("axle", "hangs") if len(numbers) == 1 else ("axles", "hang")
    return f"{axles} {names} {verb or hang} {_size(max(gaps), system)} in the air"


def _held(case, state, system):
    """The springs: rate, stress at the stop, ride."""
    if state.kind == "rigid":
        return "No spring pushes a wheel down, so two axles and the height of the rail decide."
    if state.kind == "equalized":
        if state.rises.min() < 0 or state.rises.max() > state.travel:
            return "But an axlebox has come to the end of its slot, and there the beams end their work."
        return "Beams share the weight by their arms, whatever the rail, as long as no box meets a stop."
    wire = units.show(state.wire_diameter, "length", system, 2 if system == "metric" else 4)
    stress, allowed = (units.show(s, "stress", system, 0) for s in (state.stress, state.allowed))
    rate = _size(state.rate, system, "rate")
    text = f"Wire {wire}: {rate} an axle, {stress} at the upper stop of {allowed} allowed"
    if not state.exists:
        coils, free = (_size(length, system) for length in (state.solid, state.free_length))
        return f"{text}; but there is no such spring: its coils alone are {coils} high, and it is {free} long."
    if state.stress > state.allowed:
        text += ", so it takes a set"
    if state.touches:
        text += ", and the coils touch before it"
    if state.held_down:
        held, what = _all_or(state.held_down, state), "rides as if rigid"
        return f"{text}; level, the springs push {held} onto the lower stop, and there it {what}."
    if state.sunk:
        sunk = _all_or(state.sunk, state)
        return f"{text}; level, the springs are too weak and the frame sits on the upper stop of {sunk}."
    return f"{text}."


def _all_or(numbers, state):
    """Axles by their numbers, or all of them."""
    if len(numbers) == len(state.sits):
        return "all axles"
    return f"{'axle' if len(numbers) == 1 else 'axles'} {' and '.join(str(n) for n in numbers)}"


def _rail(state):
    """Random rail, as one number for each way to hold the axles."""
    rigid, sprung, beams = (
        _share(state.contact[kind]) for kind in ("rigid", "sprung", "equalized")
    )
    if state.kind == "sprung":
        return f"On random rail all drivers keep contact at {sprung} of the places sprung so, at {rigid} held rigid."
    if state.kind == "rigid":
        return f"On random rail all drivers keep contact at {rigid} of the places, on springs at {sprung}."
    return (
        f"On random rail all drivers keep contact at {beams} of the places, at {rigid} held rigid."
    )
