"""Creep and relaxation of one plastic: straight-line fit (numpy), Laplace both ways (mpmath)."""

import mpmath as mp
import numpy as np


def creep_exponent(*, modulus_1, modulus_2, time_1, time_2):
    """Slope of a straight line on log-log paper, fitted [-]."""
    slope, _ = np.polyfit(np.log10([time_1, time_2]), np.log10([modulus_1, modulus_2]), 1)
    return -slope


def creep_modulus(*, modulus_1, time_1, time, creep_exponent):
    """Read off a line drawn through the first value on log-log paper, decade by decade [Pa]."""
    decades = np.linspace(np.log10(time_1), np.log10(time), 1001)
    drawn = np.log10(modulus_1) + np.cumsum(np.append(0, -creep_exponent * np.diff(decades)))
    return 10 ** drawn[-1]


def relaxation_modulus(*, modulus_1, time_1, time, creep_exponent):
    """Stress under a lasting strain of one: both images by number, brought back to time [Pa].

    Times in units of the wanted one, stress in units of the creep modulus there.
    """
    there = creep_modulus(
        modulus_1=modulus_1, time_1=time_1, time=time, creep_exponent=creep_exponent
    )

    def stress(s):
        strain = mp.quad(lambda t: t**creep_exponent * mp.exp(-s * t), [0, 1, 10 / s, mp.inf])
        return 1 / (s**2 * strain)

    with mp.workdps(20):
        return there * float(mp.invertlaplace(stress, 1, method="stehfest", degree=12))


def grip_left(*, time_1, time, creep_exponent):
    """Stress by then over stress at the first time [-]."""
    plastic = {"modulus_1": 1.0, "time_1": time_1, "creep_exponent": creep_exponent}
    return relaxation_modulus(time=time, **plastic) / relaxation_modulus(time=time_1, **plastic)


def holding_time(*, holding_torque, torque, time_1, creep_exponent):
    """Walks along the line on log-log paper until the torque is no more than wanted [s]."""
    decades = np.linspace(0, 12, 1_200_001)
    left = np.log10(holding_torque) - creep_exponent * decades
    return time_1 * 10 ** decades[np.argmax(left <= np.log10(torque))]
