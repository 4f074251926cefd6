"""One drive picked from the front over two aims, for whoever moves a slider: filtered, not recomputed."""

from dataclasses import dataclass, field

import numpy as np

from mechkit import units
from mechkit.drive.choice.aims import AIMS, points
from mechkit.drive.choice.choose import Place, Stock, choose
from mechkit.drive.choice.front import front
from mechkit.drive.choice.ranking import Front, front_of
from mechkit.drive.model import read
from mechkit.drive.model.layout import Layout
from mechkit.drive.model.parts import Flywheel
from mechkit.drive.sheet import Sheet
from mechkit.drive.sheet.quantities import pitch_of
from mechkit.drive.sheet.schema import BenchSheet, State

#: Steps of a wheel that a slider needs; the command takes finer ones.
COARSE = 1.0e-3  # m
#: A field that reaches so many times as far as the front shows what the front is better than.
WIDE = 2.5


@dataclass(frozen=True)
class Pick:
    """The drives that fit and do what is asked, the front among them, and the one picked.

    ``across`` and ``up`` are aims, ``points`` their numbers for all that fit and are asked;
    ``row`` is the picked one's row on the front, None where nothing is left.  ``most`` says how
    far the best of all that fit goes in coast and in length left [m], ``ends`` how far a field of
    both aims must reach.
    """

    across: str
    up: str
    points: np.ndarray
    front: Front
    row: int | None
    speed: float
    voltage: float
    from_speed: bool
    least_coast: float
    kept_free: float
    along: float
    ends: tuple[float, ...]
    most: tuple[float, float]
    count: int
    place: Place | None = None
    state: State | None = None
    layout: Layout | None = None
    start: float = 0.0
    top: float = 0.0
    left: float = 0.0
    mass: float = 0.0

    @property
    def coast(self) -> str:
        """The aim that the asked coast belongs to."""
        return "coast" if self.from_speed else "coast_on"

    def alike(self) -> list[int]:
        """Rows of the front in which no difference from the picked one could be measured."""
        if self.row is None:
            return []
        both = len(self.front.aims)
        rows = range(len(self.front))
        return [n for n in rows if n != self.row and len(self.front.alike(self.row, n)) == both]


@dataclass(frozen=True)
class Case:
    """A stock worked once; `pick` filters it."""

    sheet: BenchSheet
    found: Stock
    _last: dict = field(default_factory=dict, repr=False, compare=False)

    def asked(self, aims, speed, voltage):
        """Numbers of all that fit by aim; kept while nothing moves that they hang on."""
        found = {}
        for aim in aims:
            hangs_on = {"coast": speed, "coast_on": voltage}.get(aim)
            kept = self._last.get(aim)
            if not kept or kept[0] != hangs_on:
                numbers = self.found.ask([aim], speed=speed, voltage=voltage)
                kept = self._last[aim] = hangs_on, numbers[aim]
            found[aim] = kept[1]
        return found

    def front(self, key, make):
        """The front that was asked for last, or a new one."""
        if self._last.get("front", (None,))[0] != key:
            self._last["front"] = key, make()
        return self._last["front"][1]


def case_of(sheet: BenchSheet) -> Case:
    """Work the stock of a sheet."""
    return Case(sheet, choose(sheet, step=COARSE))


def pick(
    case: Case, *, across, up, speed, voltage, from_speed, least_coast, kept_free, along
) -> Pick:
    """Pick from the front over two aims.

    Parameters
    ----------
    case : Case
        The stock
    across, up : str
        Two aims
    speed, voltage : float
        From which it coasts, of the full-size engine [m/s] and at the motor [V]
    from_speed : bool
        Whether the coast asked is that from the speed
    least_coast, kept_free : float
        Coast that it must reach, and length to keep free beside the gap [m]
    along : float
        Where on the front, from 0, best in ``across``, to 1, best in ``up``
    """
    coast = "coast" if from_speed else "coast_on"
    numbers = case.asked({across, up, coast, "room"}, speed, voltage)
    wanted = (numbers[coast] >= least_coast) & (numbers["room"] >= kept_free - 1e-9)

    def make():
        place = Place(*(part[wanted] for part in case.found.fitting))
        place = _once(place, numbers, wanted, (across, up), coast)
        made = front_of(case.found, (across, up), place, speed=speed, voltage=voltage)
        return _along(made, across)

    best = case.front((across, up, coast, speed, voltage, least_coast, kept_free), make)
    cloud = np.column_stack([numbers[across], numbers[up]])
    most = (float(numbers[coast].max(initial=0.0)), float(numbers["room"].max(initial=0.0)))
    row = round(along * (len(best) - 1)) if len(best) else None
    more = {} if row is None else _picked(case, best.at(row))
    return Pick(
        across=across, up=up, points=cloud[wanted], front=best, row=row, speed=speed,
        voltage=voltage, from_speed=from_speed, least_coast=least_coast, kept_free=kept_free, along=along,
        ends=tuple(_end(cloud[:, n], best.values[aim]) for n, aim in enumerate(best.aims)),
        most=most,
        count=int(wanted.sum()), **more,
    )  # fmt: skip


def _end(every, best) -> float:
    """How far a field must reach: over all that fits, but not where the front is lost in it."""
    return float(min(every.max(), WIDE * best.max(initial=0.0)) if len(best) else every.max())


def _once(place: Place, numbers, wanted, aims, coast) -> Place:
    """The front without its twins: of drives that are one point, the one that coasts farthest."""
    rows = points({aim: numbers[aim][wanted] for aim in aims})
    on = np.flatnonzero(front(rows))
    more = [-numbers[name][wanted][on] for name in ("room", coast)]
    rows = rows[on]
    order = np.lexsort((*more, *rows.T))
    first = np.append(True, (np.diff(rows[order], axis=0) != 0).any(axis=1))[: len(order)]
    return Place(*(part[on[order[first]]] for part in place))


def _along(best: Front, aim) -> Front:
    """The front in the order of one aim, the best first."""
    order = np.argsort(best.values[aim] * (-1 if AIMS[aim].more else 1), kind="stable")

    def sort(each):
        return {name: values[order] for name, values in each.items()}

    return Front(
        best.aims, Place(*(part[order] for part in best.place)),
        sort(best.values), sort(best.low), sort(best.high), best.kept[order],
    )  # fmt: skip


def _picked(case: Case, place: Place) -> dict:
    """What the sentence and the drawing say of one drive."""
    one = Place(*(np.array([part]) for part in place))
    run = case.found.running(one)
    cut, cuts = int(place.cut), case.found.cuts
    bore = read.slid_on(case.sheet.stock.motors[int(place.motor)].shaft_diameter.value)
    wheel = Flywheel(cuts.outer[cut], cuts.width[cut], bore, cuts.density[cut])
    return {
        "place": place,
        "state": case.found.state(place),
        "layout": case.found.layout(place),
        "start": float(run.start()[0]),
        "top": float(run.top_speed()[0]),
        "left": float(run.room()[0]),
        "mass": float(wheel.mass) if cuts.width[cut] else 0.0,
    }


def into(sheet: Sheet, found: Stock, place: Place) -> Sheet:
    """The sheet with a drive from stock as its plan, and nothing measured on it yet."""
    state = found.state(place)
    motor = sheet.document["stock"]["motors"][int(place.motor)].unwrap()
    thread = state.worm
    values: dict = {
        "planned.motor": {k: v for k, v in motor.items() if k not in {"name", "bearing_span"}},
        "planned.worm": {
            "material": thread.material, "starts": thread.starts,
            "module": pitch_of(thread.module) or units.plain(thread.module.value, "m"),
            "outside_diameter": _text(thread.outside_diameter), "length": _text(thread.length),
            "bore": _text(thread.bore), "end_play": _text(thread.end_play),
            "thrust_bearing": thread.thrust_bearing,
        },
        "planned.gears": [
            {"name": gear.name, "teeth": gear.teeth, "material": gear.material,
             "outside_diameter": _text(gear.outside_diameter),
             "face_width": _text(gear.face_width), "total_runout": _text(gear.total_runout)}
            for gear in state.gears
        ],
    }  # fmt: skip
    planned = sheet.data.planned
    if planned.adapter and not state.adapter:
        values["planned.adapter"] = None
    if state.flywheel:
        wheel = state.flywheel
        off = _text(planned.flywheel.off_center) if planned.flywheel else "0.01 mm"
        values["planned.flywheel"] = {
            "material": wheel.material, "outside_diameter": _text(wheel.outside_diameter),
            "width": _text(wheel.width), "bore": _text(wheel.bore), "off_center": off,
            "bearing_span": _text(wheel.bearing_span), "overhang": _text(wheel.overhang),
        }  # fmt: skip
    elif planned.flywheel:
        values["planned.flywheel"] = None
    if "measured_after" in sheet.document:  # that was another drive
        values["measured_after"] = None
    return sheet.with_values(values)


def _text(reading) -> str:
    """As it stood in the sheet, or a length computed to the hundredth of a millimeter."""
    return reading.text or units.plain(round(reading.value, 6), "m")
