"""How fast a stock is chosen from: ``python -m tests.bench_choose``.

A hundred thousand drives held against the envelope and asked for every aim, all at once, and
the same formulas one drive after the other on a sample.  It prints; it asserts nothing.
"""

from dataclasses import replace
from time import perf_counter, process_time

import numpy as np

from mechkit.drive import sheet
from mechkit.drive.choice import choose, ranking, stock
from mechkit.drive.choice.aims import AIMS, Running
from mechkit.drive.choice.envelope import envelope
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.model import layout, read
from mechkit.drive.model.body import body_of

STEP = 0.46e-3  # some 100 000 drives of the demo's stock
SAMPLE = 300


def timed(words, work):
    """Run once, say how long it took by the clock and on the processor."""
    clock, worked = perf_counter(), process_time()
    answer = work()
    took = perf_counter() - clock
    print(
        f"{words:58} {took * 1e3:8.0f} ms ({(process_time() - worked) * 1e3:.0f} on the processor)"
    )
    return answer, took


def one_by_one(found, places):
    """The same formulas, scalar, for some drives."""
    data = found.sheet
    body = body_of(data)
    known = known_of(data)
    drives = [[choose.stock.nominal([[one]]) for one in row] for row in found.drives]
    for n in places:
        place = choose.Place(*np.unravel_index(n, found.envelope.shape))
        state = found.state(place)
        for axle in range(len(data.locomotive.driver_axles)):
            for forward in (True, False):
                layout.lay(state, body, axle, forward)
        wheel = read.flywheel_of(state)
        drive = replace(
            drives[place.motor][place.gears], flywheel_inertia=wheel.inertia if wheel else 0.0
        )
        life = known.life(state)[0]
        heat = state.motor.thermal_resistance.value
        run = Running(drive, life, found.old_life[0], 0.0, heat, 12.0, 13.4, 13.4, 6.0)
        run.ask(AIMS)


def main():
    data = sheet.demo().data
    choose.choose(data, step=4e-3)  # tables read, pint asked
    found, _ = timed("from the sheet: every motor with every gear set, predicted",
                     lambda: choose.choose(data, step=STEP))  # fmt: skip
    count = found.tried
    base = stock.nominal(found.drives)
    _, room = timed(f"envelope, all {count:,}", lambda: envelope(data, base, found.cuts))
    every = choose.Place(*np.indices(found.envelope.shape).reshape(3, -1))
    _, asked = timed(
        f"all {len(AIMS)} aims, all {count:,}, fitting or not",
        lambda: found.ask(AIMS, every),
    )
    fitting = len(found.fitting.motor)
    timed(f"all {len(AIMS)} aims, the {fitting:,} that fit", lambda: found.ask(AIMS))
    for aims in (("creep", "coast"), ("creep", "coast", "top", "life"), tuple(AIMS)):
        best, _ = timed(
            f"front over {len(aims)} aims, with bands",
            lambda aims=aims: ranking.front_of(found, aims),
        )
        print(f"{'':4}{len(best)} on the front, {best.kept.sum()} told apart")
    sample = np.random.default_rng(1).integers(0, count, SAMPLE)
    _, slow = timed(f"one by one, {SAMPLE} of them", lambda: one_by_one(found, sample))
    ratio = slow / SAMPLE * count / (room + asked)
    print(
        f"all at once: {room + asked:.2f} s; one by one it would be {slow / SAMPLE * count:.0f} s, {ratio:.0f} times"
    )


if __name__ == "__main__":
    main()
