"""One step of the drive in time: fifth order, its error, and the step that ends on an event.

The coefficients are those of Dormand and Prince as scipy holds them.  Plain numbers and not
arrays: for half a dozen of them that is several times quicker.
"""

from scipy.integrate import RK45

from mechkit.drive.motion.machine import CURRENT, Machine, Mode

_, _C1, _C2, _C3, _C4, _ = RK45.C.tolist()
_A = [row[:n].tolist() for n, row in enumerate(RK45.A)]
(_A10,), (_A20, _A21), (_A30, _A31, _A32), (_A40, _A41, _A42, _A43), _A5 = _A[1:]
_A50, _A51, _A52, _A53, _A54 = _A5
_B0, _, _B2, _B3, _B4, _B5 = RK45.B.tolist()  # the second weight is 0
_E0, _, _E2, _E3, _E4, _E5, _E6 = RK45.E.tolist()
#: An event lies where a step that ends on it does, to this share of the step.
_EVENT = 1e-12
#: How often a step that starts on a margin is quartered to see whether it leaves it at all.
_LOOKS = 12


class Step:
    """A step of length ``h`` from a state whose rates are known."""

    __slots__ = ("energy", "force", "h", "rates", "stages", "time", "y")

    def __init__(self, machine: Machine, t: float, y, first, h: float, mode: Mode):
        rates = machine.rates
        r0, _, p0 = first
        moved = [y + h * _A10 * a for y, a in zip(y, r0, strict=True)]
        r1, _, _ = rates(t + _C1 * h, moved, mode)
        moved = [y + h * (_A20 * a + _A21 * b) for y, a, b in zip(y, r0, r1, strict=True)]
        r2, _, p2 = rates(t + _C2 * h, moved, mode)
        moved = [
            y + h * (_A30 * a + _A31 * b + _A32 * c)
            for y, a, b, c in zip(y, r0, r1, r2, strict=True)
        ]
        r3, _, p3 = rates(t + _C3 * h, moved, mode)
        moved = [
            y + h * (_A40 * a + _A41 * b + _A42 * c + _A43 * d)
            for y, a, b, c, d in zip(y, r0, r1, r2, r3, strict=True)
        ]
        r4, _, p4 = rates(t + _C4 * h, moved, mode)
        moved = [
            y + h * (_A50 * a + _A51 * b + _A52 * c + _A53 * d + _A54 * e)
            for y, a, b, c, d, e in zip(y, r0, r1, r2, r3, r4, strict=True)
        ]
        r5, _, p5 = rates(t + h, moved, mode)
        self.h, self.time = h, t + h
        self.y = [
            y + h * (_B0 * a + _B2 * c + _B3 * d + _B4 * e + _B5 * f)
            for y, a, c, d, e, f in zip(y, r0, r2, r3, r4, r5, strict=True)
        ]
        if mode.kind == "tied":
            # the train's speed follows from the motor's; it must not drift from it
            self.y[1] = machine.turn(self.y[2])[0] * self.y[3]
        if not machine.inductance:
            self.y[CURRENT] = machine.current(self.time, self.y)
        self.rates = rates(self.time, self.y, mode)
        self.force = self.rates[1]
        self.energy = [
            h * (_B0 * a + _B2 * c + _B3 * d + _B4 * e + _B5 * f)
            for a, c, d, e, f in zip(p0, p2, p3, p4, p5, strict=True)
        ]
        self.stages = (r0, r2, r3, r4, r5, self.rates[0])

    def error(self, y, scales, tolerance: float, resolved: bool) -> float:
        """Largest error of a state over what is allowed."""
        worst, h = 0.0, self.h
        columns = zip(scales, y, self.y, *self.stages, strict=True)
        for place, (scale, old, new, a, c, d, e, f, g) in enumerate(columns):
            if place == CURRENT and not resolved:
                continue
            off = h * (_E0 * a + _E2 * c + _E3 * d + _E4 * e + _E5 * f + _E6 * g)
            worst = max(worst, abs(off) / (tolerance * (scale + max(abs(old), abs(new)))))
        return worst


def land(take, step: Step, margin, before: float, after: float):
    """The step that ends just past the place where a margin runs through 0.

    ``take(h)`` makes a step, ``margin(step)`` weighs its end; false position, with the end
    that does not move halved (the Illinois rule).
    """
    low, high, past, side = 0.0, step.h, step, 0
    if before <= 0:
        # it starts on the margin: it may have left it and come back within the step
        for _ in range(_LOOKS):
            trial = take(high / 4)
            value = margin(trial)
            if value > 0:
                low, before = trial.h, value
                break
            past, high, after = trial, trial.h, value
        else:
            return past
    # time itself is no finer than its last digits
    width = max(_EVENT * step.h, 1e-15 * step.time)
    for _ in range(60):
        if high - low <= width:
            break
        share = before / (before - after)
        h = low + share * (high - low)
        # never nearer to an end than the width asked for: so the ends soon close in
        h = min(max(h, low + 0.9 * width), high - 0.9 * width)
        if not low < h < high:
            h = (low + high) / 2
        trial = take(h)
        value = margin(trial)
        if value >= 0:
            low, before = h, value
            if side == 1:
                after /= 2
            side = 1
        else:
            past, high, after = trial, h, value
            if side == -1:
                before /= 2
            side = -1
    return past
