"""A trip on one throttle: speed against time, one turn of the wheels, and where each engine is."""

import numpy as np
from matplotlib.ticker import MaxNLocator

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.lettering import text_width
from mechkit.drawings.picture import Picture
from mechkit.drive.questions.motion import GOES, OPENS, Trip
from mechkit.drive.questions.reach import round_up

#: Engine lengths that the track reaches at least, behind the place where the power goes.
SHORTEST = 5.0
SLOWEST, SMOOTHEST = 20.0, 2.0  # the least that the fields reach: speed as shown, percent
WAYS = {"before": "visible", "after": "curve"}
#: The engine as it is runs on the track behind, drawn so much higher [px].
BEHIND = 12


class MotionPicture(Picture):
    """Speed and throttle over time, one turn of the wheels beside them, the rail beneath."""

    hall_height = 348

    def build(self):
        """Fields, rail, curves."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 0 if hall else 38
        rail = foot + (94 if hall else 100)
        low = rail + self.look.spread(24)  # under the throttle stand the seconds
        left, wide = (78, 590) if hall else (60, 640)
        throttle = 34 if hall else 48
        bottom = low + throttle + look.spread(13)
        top = self.height - look.spread(34)
        self._fields((left, wide), (low, throttle), (bottom, top - bottom))
        beside = left + wide + (92 if hall else 84)
        self._one_turn((beside, bottom, 1040 - beside - 26, top - bottom))
        self._rail((16, foot + 4, 1008, rail - foot - 8))
        if not hall:
            self._table((beside - 40, rail + 4, 1040 - beside + 20, 60))
            words = [
                "Two drives on one throttle",
                "engines to scale",
                units.label("speed", look.system),
            ]
            layout.title_block(self.figure, look, words)

    def _fields(self, across, throttle, speed):
        """Speed over time, and the throttle under it."""
        look = self.look
        (left, wide), (low, high) = across, throttle
        unit, shown = units.label("speed", look.system), self.setting.shown
        most = self.setting.voltage.high
        self.seconds, self.volts_end = 1.012 * shown, 1.12 * most
        self.field = layout.field(self.figure, look, (left, speed[0], wide, speed[1]), x=(0, self.seconds), y=(0, 100),
                                  across="", up=f"scale {unit}")  # fmt: skip
        self.field.tick_params(labelbottom=False)
        self.volts = layout.field(self.figure, look, (left, low, wide, high), x=(0, self.seconds), y=(0, self.volts_end),
                                  across="", up="")  # fmt: skip
        marks = _marks(most, 1 if self.hall else 2)
        self.volts.set_yticks(marks, [f"{mark:g}\u00a0V" for mark in marks])
        seconds = _marks(shown, 3 if self.hall else 10)
        self.volts.set_xticks(seconds, [f"{second:g}\u00a0s" for second in seconds])
        self.field.set_xticks(self.volts.get_xticks())
        for axes, reach in ((self.field, 1e4), (self.volts, self.volts_end)):
            shop.Outline(axes, look, [(GOES, 0), (GOES, reach)], weight="thin", meaning="quiet")
        words, size = "the power goes", look.type("note")
        at = left + wide * GOES / self.seconds
        clear = left + text_width(f"scale {unit}", size) + look.spread(12)
        at = max(at, clear + text_width(words, size) / 2)
        level = speed[0] + speed[1] + look.spread(9)
        layout.note(self.figure, look, (at, level), words, meaning="quiet", ha="center")
        self.runs = {
            name: self.moves(shop.Outline(self.field, look, weight=weight, meaning=name, zorder=4))
            for name, weight in WAYS.items()
        }
        self.dots = {
            name: self.moves(
                shop.Outline(self.field, look, meaning=name, fill=look.color(name), zorder=5)
            )
            for name in WAYS
        }
        self.throttle = self.moves(shop.Outline(self.volts, look, weight="curve", zorder=4))
        self.now = [
            self.moves(shop.Outline(axes, look, weight="thin", meaning="quiet"))
            for axes in (self.field, self.volts)
        ]

    def _one_turn(self, box):
        """The speed over one turn of the wheels, less its mean."""
        look = self.look
        self.turn = layout.field(self.figure, look, box, x=(0, 1), y=(-5, 5), across="",
                                 up="hop in one wheel turn, %")  # fmt: skip
        self.turn.set_xticks([0, 0.25, 0.5, 0.75, 1], [""] * 5)
        shop.Outline(self.turn, look, [(0, 0), (1, 0)], weight="thin", meaning="quiet")
        self.turns = {
            name: self.moves(shop.Outline(self.turn, look, weight=weight, meaning=name, zorder=4))
            for name, weight in WAYS.items()
        }
        lines = [("before", "visible", "as it is"), ("after", "curve", "as planned")]
        at, columns = (box[0] + 14, box[1] - 12), 2
        if self.hall:
            at, columns = (box[0], box[1] - 32), 1
        layout.key(self.figure, look, at, lines, columns=columns, column=112)

    def _table(self, box):
        """The numbers of both, side by side."""
        look = self.look
        axes = layout.drawing(self.figure, look, box, center=(box[2] / 2, box[3] / 2), scale=1.0)
        self.rows = []
        for row, words in enumerate(("starts at", "creeps at", "takes")):
            level = box[3] - 10 - row * 19
            shop.Words(axes, look, "note", "quiet").set((0, level), words)
            cells = {
                name: self.moves(shop.Words(axes, look, "note", name, strong=True)) for name in WAYS
            }
            self.rows.append((level, cells))
        self.columns = {"before": box[2] * 0.66, "after": box[2] - 4.0}

    def _rail(self, box):
        """The track, the dead rail, and both engines on it."""
        look = self.look
        self.track = layout.drawing(self.figure, look, box, scale=1.0)
        self.lines = {
            name: (
                self.moves(shop.Outline(self.track, look, weight="light", zorder=order)),
                self.moves(
                    shop.Outline(
                        self.track, look, weight="curve", meaning="danger", zorder=order + 0.1
                    )
                ),
            )
            for name, order in (("before", 2), ("after", 4))
        }
        self.marks = self.moves(
            shop.Outline(self.track, look, weight="thin", meaning="quiet", zorder=2)
        )
        self.engine = shapes.path(*shapes.engine((0.0, 0.0), 1.0))
        self.engines = {
            name: self.moves(
                shop.Outline(
                    self.track,
                    look,
                    weight="visible",
                    meaning=name,
                    fill=look.color(fill),
                    zorder=order,
                )
            )
            for name, fill, order in (("before", "ruling", 3), ("after", "sheet", 5))
        }
        self.unit = self.moves(shop.Words(self.track, look, "note", "quiet"))
        self.way = {
            name: self.moves(shop.Words(self.track, look, "note", name, strong=True))
            for name in WAYS
        }

    # -- what follows the controls ------------------------------------------------------

    def stand(self, state: Trip):
        """How far the rail, how high speed and hop must reach."""
        ways = [way for way in (state.before, state.after) if way]
        length = self.setting.engine_length
        far = max([state.dead, *(way.coast or 0.0 for way in ways)]) / length
        fast = max(units.shown(way.speed.max(), "speed", self.look.system) for way in ways)
        swings = [100 * np.abs(way.turn).max() for way in ways if way.turn is not None]
        return (
            round_up(far + 0.05, SHORTEST),
            round_up(1.04 * fast, SLOWEST),
            round_up(1.1 * max(swings, default=0.0), SMOOTHEST),
        )

    def set_limits(self, stands):
        """Let them reach that far."""
        span, fast, hop = stands
        self.field.set_ylim(0, fast)
        ticks = MaxNLocator(3 if self.hall else 5, steps=[1, 2, 5, 10]).tick_values(0, fast)
        self.field.set_yticks([tick for tick in ticks if 0 <= tick <= fast])
        self.turn.set_ylim(-hop, hop)
        marks = [-hop, -hop / 2, 0, hop / 2, hop]
        self.turn.set_yticks(
            marks, [f"{mark:+g}".replace("-", "−").replace("+0", "0") for mark in marks]
        )
        wide = self.track.bbox.width / self.density
        high = self.track.bbox.height / self.density
        below = self.look.spread(17)
        # An engine is some 0.43 of its length high; behind the mark there is room for a whole one.
        pixel = max((span + 1.6) / wide, 0.44 / (high - below - BEHIND))
        self.track.set_xlim(-1.25, wide * pixel - 1.25)
        self.track.set_ylim(-below * pixel, (high - below) * pixel)

    def move(self, state: Trip):
        """Curves, engines, numbers."""
        system = self.look.system
        for name in WAYS:
            way = getattr(state, name)
            inside = way.time <= self.setting.shown
            speed = units.shown(way.speed, "speed", system)
            self.runs[name].set(np.column_stack([way.time[inside], speed[inside]]))
            pixel = layout.per_pixel(self.field)
            now = np.array([state.moment, np.interp(state.moment, way.time, speed)])
            self.dots[name].set(
                shapes.path(shapes.circle((0, 0), self.look.spread(8), 20) * pixel + now)
            )
            self.turns[name].show(way.turn is not None)
            if way.turn is not None:
                self.turns[name].set(
                    np.column_stack([np.linspace(0, 1, len(way.turn)), 100 * way.turn])
                )
        after = state.voltage if state.loss == "dead" else 0.0
        points = [
            (0, 0),
            (OPENS, state.voltage),
            (GOES, state.voltage),
            (GOES, after),
            (self.setting.shown, after),
        ]
        self.throttle.set(points)
        for line, reach in zip(self.now, (self.field.get_ylim()[1], self.volts_end), strict=True):
            line.set([(state.moment, 0), (state.moment, reach)])
        self._move_rail(state)
        if not self.hall:
            self._move_table(state)

    def _move_rail(self, state):
        length, track = self.setting.engine_length, self.track
        (left, right), pixel = track.get_xlim(), layout.per_pixel(track)
        levels = {"before": BEHIND * pixel[1], "after": 0.0}
        for name, (live, dead) in self.lines.items():
            up = levels[name]
            live.set([(left, up), (right, up)])
            dead.show(state.dead > 0)
            dead.set([(0, up), (state.dead / length, up)])
        every = self._every(right)
        ends = [
            (x, y)
            for k in np.arange(0.0, right, every)
            for x, y in ((k, 0), (k, 7 * pixel[1]), (np.nan, np.nan))
        ]
        self.marks.set(ends)
        level = -self.look.spread(10) * pixel[1]
        step = f"{every:.0f} engine lengths" if every > 1 else "engine length"
        words = f"a mark every {step} from where the power goes"
        if state.dead:
            words = f"{_length(state.dead, self.look.system)} of dead rail; a mark every {step}"
        self.unit.pixel = pixel  # the limits may have stepped
        self.unit.set((left + 6 * pixel[0], level), words)
        for name in WAYS:
            way = getattr(state, name)
            self.way[name].pixel = pixel
            place = way.at(state.moment) / length
            # Far down the line it waits at the edge of the sheet.
            self.engines[name].set(shapes.moved(self.engine, (min(place, right + 2), levels[name])))
        self._tell_ways(state, right - 6 * pixel[0], level)

    def _every(self, right):
        """Engine lengths from mark to mark."""
        return max(
            np.diff(MaxNLocator(7, steps=[1, 2, 3, 5, 10], integer=True).tick_values(0, right))[0],
            1,
        )

    def _tell_ways(self, state, right, level):
        """How far each rolled, in its color, from the right."""
        pixel = layout.per_pixel(self.track)[0]
        size = self.look.type("note")
        for name in ("after", "before"):
            text = _rolled(getattr(state, name), self.look.system)
            self.way[name].set((right, level), text, (0, 0), "right")
            right -= (text_width(text, size, True) + self.look.spread(20)) * pixel

    def _move_table(self, state):
        system = self.look.system
        for name, column in self.columns.items():
            way = getattr(state, name)
            start, creep = way.starting_voltage, way.creep
            texts = (
                "no start" if start is None else units.show(start, "voltage", system),
                "–" if creep is None else units.show(creep, "speed", system, 1),
                units.show(way.current, "current", system),
            )
            for (level, cells), text in zip(self.rows, texts, strict=True):
                cells[name].set((column, level), text, (0, 0), "right")


def _marks(end, most):
    """Round marks within a field, nought among them unless there is room for one alone."""
    marks = [
        mark
        for mark in MaxNLocator(most, steps=[1, 2, 3, 4, 5, 10]).tick_values(0, end)
        if mark <= end
    ]
    return marks[-1:] if most == 1 else marks


def _rolled(way, system):
    """How far it rolls, in a few words."""
    if way.running == 0:
        return "stands"
    if way.coast is None:
        return "runs on"
    return f"rolls {_length(way.coast, system)}"


def _length(size, system):
    """A length along the track."""
    return units.show(size, "length", system, 0 if system == "metric" else 2)
