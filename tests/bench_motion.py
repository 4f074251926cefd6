"""How long the drive in time takes: ``python -m tests.bench_motion``.

Ratios to one plain run and seconds a simulated second; it asserts nothing.
"""

from time import perf_counter

from mechkit.drive.detail import Detail
from mechkit.drive.motion import before_and_after
from mechkit.drive.supply import Pulses, Supply, cut, ramp, steady
from tests.motions import AFTER, BEFORE, ROUGH, SMOOTH
from tests.test_motion_events import HILLS


def throttle(volts, share=1.0, pulses=None):
    """Ramp, steady, power off: ten seconds, or a share of them."""
    phases = (ramp(0, volts, 4 * share), steady(volts, 3 * share), cut(3 * share))
    return Supply(phases, pulses)


def pulsed(windows):
    return throttle(12, pulses=Pulses(16.0, 16e3, 0.5e-3, windows))


CASES = {
    "plain, 10 s": (throttle(12), None, Detail(), Detail()),
    "plain, 20 s": (throttle(12, 2.0), None, Detail(), Detail()),
    "everything, full throttle": (throttle(12), HILLS, ROUGH, SMOOTH),
    "everything, a crawl on 4 V": (throttle(4), HILLS, ROUGH, SMOOTH),
    "plain, pulses as their mean": (pulsed(()), None, Detail(), Detail()),
    "plain, 10 ms of pulses": (pulsed(((5.0, 5.01),)), None, Detail(), Detail()),
    "everything, 10 ms of pulses": (pulsed(((5.0, 5.01),)), HILLS, ROUGH, SMOOTH),
}


def measure(supply, track, before, after):
    """The best of three, both states [s], their steps and events."""
    best = float("inf")
    for _ in range(3):
        start = perf_counter()
        runs = before_and_after((BEFORE, before), (AFTER, after), supply, track)
        best = min(best, perf_counter() - start)
    return best, sum(run.steps for run in runs), sum(len(run.events) for run in runs)


def main():
    plain = None
    print(f"{'both states':30} {'ms':>7} {'ratio':>7} {'ms/s':>7} {'steps':>7} {'events':>7}")
    for name, case in CASES.items():
        took, steps, events = measure(*case)
        plain = plain or took
        print(
            f"{name:30} {took * 1e3:7.0f} {took / plain:7.1f} {took * 1e3 / case[0].time:7.1f} "
            f"{steps:7d} {events:7d}"
        )


if __name__ == "__main__":
    main()
