"""How long the drive in time takes: ``python -m tests.bench_motion``.

Ratios to one plain run and seconds a simulated second, and one course with eccentric gears on a
grade against plain ``solve_ivp`` on the same equations; it asserts nothing.
"""

from time import perf_counter

from scipy.integrate import solve_ivp

from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.simulate import before_and_after
from mechkit.drive.motion.supply import Pulses, Supply, cut, ramp, steady
from tests.motions import AFTER, BEFORE, ROUGH, SLACK_AFTER, SLACK_BEFORE, SMOOTH
from tests.test_motion_events import HILLS
from tests.test_motion_independent import MASS, ROTOR, integrate, on_a_grade, simulated


def throttle(volts, share=1.0, pulses=None):
    """Ramp, steady, power off: ten seconds, or a share of them."""
    phases = (ramp(0, volts, 4 * share), steady(volts, 3 * share), cut(3 * share))
    return Supply(phases, pulses)


def pulsed(windows):
    return throttle(12, pulses=Pulses(16.0, 16e3, 0.5e-3, windows))


PLAIN = ((BEFORE, Detail()), (AFTER, Detail()))
EVERYTHING = ((SLACK_BEFORE, ROUGH), (SLACK_AFTER, SMOOTH))
CASES = {
    "plain, 10 s": (throttle(12), None, *PLAIN),
    "plain, 20 s": (throttle(12, 2.0), None, *PLAIN),
    "everything, full throttle": (throttle(12), HILLS, *EVERYTHING),
    "everything, a crawl on 4 V": (throttle(4), HILLS, *EVERYTHING),
    "plain, pulses as their mean": (pulsed(()), None, *PLAIN),
    "plain, 10 ms of pulses": (pulsed(((5.0, 5.01),)), None, *PLAIN),
    "everything, 10 ms of pulses": (pulsed(((5.0, 5.01),)), HILLS, *EVERYTHING),
}


def measure(supply, track, before, after):
    """The best of three, both states [s], their steps and events."""
    best = float("inf")
    for _ in range(3):
        start = perf_counter()
        runs = before_and_after(before, after, supply, track)
        best = min(best, perf_counter() - start)
    return best, sum(run.steps for run in runs), sum(len(run.events) for run in runs)


def fastest(work):
    """The best of five [s], and what came out."""
    best = float("inf")
    for _ in range(5):
        start = perf_counter()
        made = work()
        best = min(best, perf_counter() - start)
    return best, made


def by_hand(force_gain, torque, lever, change, speed, resisting):
    """The two equations of `tied` solved on paper, so that scipy is not slowed by a matrix."""
    own = resisting + MASS * change * speed**2
    below = ROTOR + force_gain * MASS * lever**2
    faster = (torque - force_gain * lever * own) / below
    return faster, own + MASS * lever * faster


def against_scipy(grade=-0.06):
    """The kit's steps and plain solve_ivp's, each with how far it is off at the end."""
    kit = simulated(grade, model_speed=0.05)
    start, rates = [0.0, 0.0, kit.nodes.motor_speed[0]], on_a_grade(grade, by_hand)
    exact = integrate(on_a_grade(grade), (0, 2), start).y[2, -1]
    print(f"\n{'2 s down a grade, eccentric gears':36} {'ms':>7} {'ratio':>7} {'off by':>9}")
    ways = {"the kit": lambda: simulated(grade, model_speed=0.05).nodes.motor_speed[-1]}
    for method in ("RK45", "LSODA"):
        for fine in (1e-4, 1e-6, 1e-8):
            ways[f"solve_ivp, {method}, {fine:.0e}"] = lambda method=method, fine=fine: solve_ivp(
                rates, (0, 2), start, method, rtol=fine, atol=fine * 1e-3
            ).y[2, -1]
    first = None
    for name, work in ways.items():
        took, end = fastest(work)
        first = first or took
        print(f"{name:36} {took * 1e3:7.1f} {took / first:7.1f} {abs(end / exact - 1):9.1e}")


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
    against_scipy()


if __name__ == "__main__":
    main()
