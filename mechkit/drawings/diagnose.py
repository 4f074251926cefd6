"""What repeats with which shaft: the spectrum in orders, and the drive with the guilty shaft."""

from itertools import pairwise

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.picture import Picture
from mechkit.drive.diagnosis.diagnose import OVER_FLOOR
from mechkit.drive.model import read
from mechkit.drive.questions.diagnose import Heard

#: Orders of the slow shafts that the wide field shows.
SLOW = (0.4, 4.6)
#: Steps of the swing that the fields may reach [percent].
REACH = (2, 4, 8, 12, 20, 40, 80)
ROWS = 25  # under the drive, one for a shaft [px]


class DiagnosePicture(Picture):
    """Left the drive from the side, to scale; right what repeats how often in a wheel turn."""

    hall_height = 344

    def build(self):
        """Drive, fields, marks."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 0 if hall else 38
        self.shafts = self.setting.train.shafts  # axle, rods, idlers from the axle up, motor
        self._drive((14, foot + 6, 360, self.height - foot - 14))
        self._fields(420, foot + look.spread(42))
        if not hall:
            words = ["What repeats with which shaft", "drive to scale"]
            layout.title_block(self.figure, look, words)

    # -- the drive ----------------------------------------------------------------------

    def _drive(self, box):
        """Wheel, rod, gears, worm and motor from the side, and the mark on each."""
        look, state, engine = self.look, self.setting.state, self.setting.data.locomotive
        worm, wheel = read.worm_of(state), engine.driver_diameter.value
        module = worm.module
        sizes = [module * gear.teeth for gear in reversed(state.gears)]  # from the axle up
        places = [np.zeros(2)]
        for below, above in pairwise(sizes):
            places.append(places[-1] + (0.0, (below + above) / 2))
        shaft = places[-1][1] + (sizes[-1] + worm.pitch_diameter) / 2
        motor = state.motor
        half, long = motor.body_diameter.value / 2, motor.body_length.value
        edge = 0.09 * wheel  # free paper, and the measure of what the sheet does not size
        start = 0.5 * state.worm.length.value + 2 * edge
        low, high = -wheel / 2 - edge, max(shaft + half, wheel / 2) + edge
        left, right = -wheel / 2 - 2 * edge, start + long + 1.3 * edge
        rows = -(-len(self.shafts) // 2) if self.hall else len(self.shafts)
        names = look.spread(
            ROWS * rows + (6 if self.hall else 20)
        )  # what is written under the drive
        scale = max((high - low) / (box[3] - names), (right - left) / box[2])
        middle = (left + right) / 2, (low + high) / 2 - names / 2 * scale
        axes = self.axes = layout.drawing(self.figure, look, box, center=middle, scale=scale)
        ruling = look.color("ruling")
        shop.Outline(
            axes, look, [(left, -wheel / 2), (right, -wheel / 2)], weight="thin", meaning="quiet"
        )
        rim = shapes.path(shapes.circle((0, 0), wheel), holes=[shapes.circle((0, 0), 0.84 * wheel)])
        shop.Outline(axes, look, rim, weight="thin", meaning="quiet", fill=ruling, zorder=1)
        throw = engine.crank_throw.value
        rod = shapes.bar(left + 0.7 * edge, -throw - edge / 2, right, -throw + edge / 2)
        between = list(zip(places[1:], list(reversed(state.gears))[1:], strict=True))
        parts = [
            [shapes.gear((0, 0), module, state.gears[-1].teeth, angle=np.pi / 2)],
            [rod],
            *([shapes.gear(at, module, gear.teeth, angle=-np.pi / 2 + np.pi / gear.teeth)] for at, gear in between),
            [
                shapes.bar(start, shaft - half, start + long, shaft + half),
                shapes.bar(start - 1.3 * edge, shaft - edge / 2, start, shaft + edge / 2),
                shapes.bar(-state.worm.length.value / 2, shaft - worm.pitch_diameter / 2 - module,
                           state.worm.length.value / 2, shaft + worm.pitch_diameter / 2 + module),
            ],
        ]  # fmt: skip
        bores = [engine.axle_diameter.value, 0.0, *(edge for _ in between), 0.0]
        centers = [np.zeros(2), np.zeros(2), *(at for at, _ in between), np.zeros(2)]
        spots = [
            ((0.5 * wheel + 22 * scale, 0.15 * wheel), (0.35 * sizes[0], 0.1 * wheel)),
            ((right - 20 * scale, 26 * scale - throw), (right - 44 * scale, -throw)),
            *((at - (size / 2 + 30 * scale, 0.0), at - (size / 3, 0.0))
              for (at, _), size in zip(between, sizes[1:], strict=True)),
            ((start + 0.65 * long, shaft), (start + 0.35 * long, shaft)),
        ]  # fmt: skip
        self.parts = []
        for number, (outlines, bore, at) in enumerate(zip(parts, bores, centers, strict=True)):
            path = shapes.path(*outlines, holes=[shapes.circle(at, bore)] if bore else ())
            order = 4 if number == 1 else 3  # rods lie before the gears
            shop.Outline(axes, look, path, fill=ruling, zorder=order)
            red = look.color("danger")
            mark = shop.Outline(axes, look, path, meaning="danger", fill=red, zorder=order)
            self.parts.append(self.moves(mark))
            self.moves(shop.Balloon(axes, look, number + 1)).set(*spots[number])
        self._names(box, scale)

    def _names(self, box, scale):
        """Under the drive: each shaft with how often it turns, and what is said of it."""
        axes, look = self.axes, self.look
        (left, right), bottom = axes.get_xlim(), axes.get_ylim()[0]
        self.told = []
        if self.hall:  # two columns: the drive itself is what must be seen from afar
            self._names_in_hall(left, right, bottom, scale)
            return
        for number, shaft in enumerate(self.shafts):
            row = len(self.shafts) - 1 - number
            level = bottom + look.spread(12 + row * ROWS) * scale
            words = self.moves(shop.Words(axes, look, "note", strong=True))
            words.set(
                (left + 4 * scale, level), f"{number + 1}  {shaft.name}, {shaft.order:.3g}\u00a0×"
            )
            verdict = self.moves(shop.Words(axes, look, "note", "quiet"))
            self.told.append((words, verdict, (right - 4 * scale, level)))

    def _names_in_hall(self, left, right, bottom, scale):
        """Two shafts a row: how often each turns, or what is said of it."""
        rows = -(-len(self.shafts) // 2)
        for number in range(len(self.shafts)):
            row, column = divmod(number, 2)
            level = bottom + self.look.spread(12 + (rows - 1 - row) * ROWS) * scale
            words = self.moves(shop.Words(self.axes, self.look, "note", strong=True))
            at = ((left + right) / 2 + 6 * scale if column else left + 4 * scale, level)
            self.told.append((words, None, at))

    # -- the spectrum -------------------------------------------------------------------

    def _fields(self, left, bottom):
        """A wide field for the slow shafts, a narrow one round the motor's turn."""
        look = self.look
        high = self.height - bottom - look.spread(40)
        motor = self.shafts[-1].order
        gap = look.spread(14)
        narrow = look.spread(82)
        wide = 1040 - left - narrow - gap - 22
        self.fields = []
        for x, at, across, up in (
            (SLOW, (left, wide), "times in a wheel turn", "swing, %"),
            ((motor - 0.9, motor + 0.9), (left + wide + gap, narrow), "", ""),
        ):
            axes = layout.field(
                self.figure, look, (at[0], bottom, at[1], high), x=x, y=(0, 5), across=across, up=up
            )
            curve = self.moves(
                shop.Outline(axes, look, weight="visible", meaning="measured", zorder=4)
            )
            floor = self.moves(
                shop.Outline(axes, look, weight="visible", meaning="limit", zorder=3)
            )
            self.fields.append((axes, curve, floor))
        slow, quick = self.fields[0][0], self.fields[1][0]
        slow.set_xticks([1, 2, 3, 4])
        quick.set_xticks([motor], [f"{motor:.3g}"])
        quick.tick_params(labelleft=False)
        self.lines = []
        for shaft in self.shafts:
            axes = quick if shaft.order > SLOW[1] else slow
            line = self.moves(shop.Outline(axes, look, weight="curve", meaning="danger", zorder=5))
            name = self.moves(shop.Words(axes, look, "note", "ink", ha="center"))
            place = self.moves(shop.Outline(axes, look, weight="thin", meaning="quiet", zorder=2))
            self.lines.append((axes, line, place, name))
        self.nothing = self.moves(shop.Words(slow, look, "value", "danger", ha="center"))
        entries = [("measured", "visible", "the record"), ("limit", "visible", f"{OVER_FLOOR:g} times the noise"),
                   ("danger", "curve", "stands out")]  # fmt: skip
        at, column = (
            ((left + 96, self.height - 24), 94)
            if self.hall
            else ((left + 110, self.height - 20), 132)
        )
        layout.key(
            self.figure, look, at, entries[: 2 if self.hall else 3], columns=3, column=column
        )

    def stand(self, state: Heard):
        """How high the fields must reach, in steps."""
        most = 100 * state.level[state.orders > SLOW[0]].max(initial=0.0)
        if state.said:
            lines = state.said.lines
            least = 100 * OVER_FLOOR * lines.floor  # under the shafts' names, where that can be
            most = max([most, *(100 * lines.amplitude), *least[lines.orders <= SLOW[1]]])
        return next((step for step in REACH if step >= 1.25 * most), REACH[-1])

    def set_limits(self, stands):
        """Let them reach that high."""
        for axes, *_ in self.fields:
            axes.set_ylim(0, stands)
            axes.set_yticks(
                [0, stands / 2, stands], [f"{mark:g}" for mark in (0, stands / 2, stands)]
            )

    # -- what follows the controls ------------------------------------------------------

    def move(self, state: Heard):
        """Curves, lines, and the shafts that are at fault."""
        said = state.said
        for axes, curve, floor in self.fields:
            low, high = axes.get_xlim()
            inside = (state.orders >= low) & (state.orders <= high)
            curve.set(np.column_stack([state.orders[inside], 100 * state.level[inside]]))
            floor.show(said is not None)
            if said:
                floor.set(self._floor(said, low, high))
        found = {} if said is None else {
            (one.kind, one.order): finding
            for finding in said.findings
            for one in (finding.shaft, *finding.shaft.twins)
        }  # fmt: skip
        judged = () if said is None else said.judged
        known = {(one.kind, one.order) for shaft in judged for one in (shaft, *shaft.twins)}
        for number, shaft in enumerate(self.shafts):
            key = shaft.kind, shaft.order
            self._mark(state, number, found.get(key), key in known)
        self.nothing.show(said is None)
        self.nothing.set((np.mean(SLOW), 0.5 * self.fields[0][0].get_ylim()[1]), "cannot tell")

    def _floor(self, said, low, high):
        """The least that stands out, from line to line."""
        lines = said.lines
        inside = np.argsort(lines.orders)
        levels = 100 * OVER_FLOOR * np.interp([low, *lines.orders[inside], high], lines.orders[inside],
                                              lines.floor[inside])  # fmt: skip
        return np.column_stack([[low, *lines.orders[inside], high], levels])

    def _mark(self, state, number, finding, known):
        """One shaft: red where it is at fault."""
        guilty = finding is not None
        shaft = self.shafts[number]
        self.parts[number].show(guilty)
        axes, line, place, name = self.lines[number]
        pixel, top = layout.per_pixel(axes)[1], axes.get_ylim()[1]
        line.show(guilty)
        level = 0.0
        if state.said and known:
            level = 100 * state.said.lines.at(shaft.order)[0]
        line.set([(shaft.order, 0), (shaft.order, min(level, top))])
        name.pixel = layout.per_pixel(axes)  # the limits may have stepped
        name.text.set_color(self.look.color("danger" if guilty else "ink"))
        # An idler may turn nearly as often as the rods: its name stands under theirs.
        down = self.look.spread(11 + 19 * (number - 1 if shaft.kind == "idler" else 0)) * pixel
        name.set((shaft.order, top - down), shaft.kind)
        place.set([(shaft.order, 0), (shaft.order, top - down - self.look.spread(9) * pixel)])
        words, verdict, at = self.told[number]
        words.text.set_color(self.look.color("danger" if guilty else "ink"))
        if self.hall:
            name = "motor" if shaft.kind == "motor" else shaft.name
            said = f"{shaft.order:.3g}\u00a0×"
            if guilty:
                said = self._said(state, finding, known).removesuffix(" runout")
            words.text.set_color(
                self.look.color("danger" if guilty else "ink" if known else "quiet")
            )
            words.set(at, f"{number + 1}  {name}, {said}")
            return
        verdict.text.set_color(self.look.color("danger" if guilty else "quiet"))
        verdict.set(at, self._said(state, finding, known), (0, 0), "right")

    def _said(self, state, finding, known):
        """What the record says of a shaft, in two words or a number."""
        if finding is None:
            return "not judged" if not known else "no fault seen"
        if finding.total_runout is None:
            return f"swings {units.show(finding.swing, 'ripple')}"
        system = self.look.system
        places = 1 if system == "inch" else 0
        return f"{units.show(finding.total_runout, 'fine', system, places)} runout"
