"""Hubs pressed over a knurl: which heights hold, and which spoil."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from mechkit import fits
from mechkit.fits import knurl_joints

few = settings(max_examples=25, deadline=None)
HUB = {
    "diameter": 2e-3, "hub_outer": 6e-3, "hub_modulus": 97e9, "hub_poisson": 0.31,
    "shaft_modulus": 207e9, "shaft_poisson": 0.292,
}  # fmt: skip
KNURL = {"knurl_pitch": 3e-4, "crest_angle": np.pi / 2}
BRASS = {**KNURL, "hardness": 1.3e9}
INTERFERENCE, TIMES = st.floats(1e-6, 1e-4), st.floats(1.1, 10.0)


@few
@given(INTERFERENCE)
def test_either_way_round(interference):
    pressure = fits.knurl_pressure(diametral_interference=interference, **BRASS, **HUB)
    back = fits.knurl_interference(pressure=pressure, **BRASS, **HUB)
    assert np.isclose(back, interference, rtol=1e-12)


@few
@given(INTERFERENCE, st.floats(1e-4, 1e-3))
def test_bite_and_stretch_take_up_the_interference(interference, pitch):
    knurl = {**BRASS, "knurl_pitch": pitch}
    pressure = fits.knurl_pressure(diametral_interference=interference, **knurl, **HUB)
    bite = fits.knurl_bite(pressure=pressure, **knurl)
    stretch = interference - 2 * bite
    plain = fits.interference_pressure(diametral_interference=stretch, **HUB)
    assert np.isclose(plain, pressure, rtol=1e-6)


@few
@given(INTERFERENCE, TIMES)
def test_softer_than_a_plain_fit_and_as_stiff_where_the_hub_cannot_be_bitten(interference, times):
    known = {"diametral_interference": interference}
    plain = fits.interference_pressure(**known, **HUB)
    soft = fits.knurl_pressure(**known, **BRASS, **HUB)
    hard = fits.knurl_pressure(**known, **{**BRASS, "hardness": times * 1.3e9}, **HUB)
    assert soft < hard < plain
    rigid = fits.knurl_pressure(**known, **{**BRASS, "hardness": 1e18}, **HUB)
    assert np.isclose(rigid, plain, rtol=1e-6)


@few
@given(st.floats(1e6, 1e8), TIMES)
def test_a_bite_bears_as_much_as_the_hardness_needs(pressure, times):
    bite = fits.knurl_bite(pressure=pressure, **BRASS)
    assert np.isclose(1.3e9 * fits.bearing_share(bite=bite, **KNURL), pressure, rtol=1e-12)
    coarse = fits.knurl_bite(pressure=pressure, **{**BRASS, "knurl_pitch": times * 3e-4})
    assert np.isclose(coarse, times * bite, rtol=1e-12)


def slip_line_wedge(degrees):
    """Load over that of the plain share times the hardness, of a smooth wedge with its lip.

    R. Hill, The Mathematical Theory of Plasticity, wedge indentation (from memory): a fan of
    slip lines of angle psi beside a lip that starts where the flank leaves the metal; the
    hardness is the pressure under a flat punch.
    """
    half = np.radians(degrees) / 2
    fan = brentq(lambda psi: np.cos(2 * half - psi) - np.cos(psi) / (1 + np.sin(psi)), 0.01, half)
    pressure = (1 + fan) / (1 + np.pi / 2)
    wider = np.cos(half) / (np.cos(half) - np.sin(half - fan))
    return pressure * wider


@pytest.mark.parametrize(("degrees", "percent"), [(60, 47), (90, 15), (109, 0), (140, -18)])
def test_how_much_deeper_a_sharp_crest_bites_than_a_blunt_tool(degrees, percent):
    """The numbers of the docstring of `knurl_bite`: as deep as the load is less."""
    assert round(100 * (1 / slip_line_wedge(degrees) - 1)) == percent


@few
@given(st.floats(1e-6, 7e-5), TIMES)
def test_shear_of_crests_that_bear_everywhere_is_a_bond(bite, times):
    joint = {"shear_strength": 1e8, "diameter": 2e-3, "length": 3e-3}
    torque = fits.crest_shear_torque(bite=bite, **KNURL, **joint)
    whole = fits.bond_torque(**joint)
    assert np.isclose(torque / whole, fits.bearing_share(bite=bite, **KNURL), rtol=1e-12)
    wide = {**joint, "diameter": times * 2e-3}
    more = fits.crest_shear_torque(bite=bite, **KNURL, **wide)
    assert np.isclose(more, times**2 * torque, rtol=1e-12)


def test_nothing_pressed_holds_nothing():
    assert fits.knurl_pressure(diametral_interference=0.0, **BRASS, **HUB) == 0
    assert fits.knurl_interference(pressure=0.0, **BRASS, **HUB) == 0
    assert fits.knurl_bite(pressure=0.0, **BRASS) == 0
    joint = {"shear_strength": 0.0, "diameter": 2e-3, "length": 3e-3}
    assert fits.crest_shear_torque(bite=1e-5, **KNURL, **joint) == 0


HELD = {"torque": 0.020, "length": 3e-3, "friction": 0.12, "yield_strength": 310e6}


def window(**changed):
    """Interference that holds by friction alone, and that at which the hub yields."""
    return fits.knurl_window(**{**HELD, **BRASS, **HUB, **changed})


@few
@given(st.just(0.0) | st.floats(1e-12, 0.1), st.floats(1e7, 1e9), TIMES)
def test_at_the_ends_of_the_window_it_just_holds_and_just_yields(torque, strength, times):
    least, most = window(torque=torque, yield_strength=strength)
    low, high = (
        fits.knurl_pressure(diametral_interference=end, **BRASS, **HUB) for end in (least, most)
    )
    slips = fits.slip_torque(pressure=low, diameter=2e-3, length=3e-3, friction=0.12)
    assert np.isclose(slips, torque, rtol=1e-9)
    stress = fits.hub_von_mises_stress(pressure=high, diameter=2e-3, hub_outer=6e-3)
    assert np.isclose(stress, strength, rtol=1e-9)
    longer = window(torque=torque, yield_strength=strength, length=times * 3e-3)
    np.testing.assert_allclose(longer, [least / times, most], rtol=1e-9)


@pytest.mark.parametrize("diameter", [1.5e-3, 2e-3, 3e-3])
def test_a_knurl_of_a_few_thousandths_holds(diameter):
    """Common practice, no source.

    From half a thousandth on friction alone holds several times what an axle of a small drive
    sees; some thousandths on the diameter are where a half-hard gear begins to yield.
    """
    least, most = window(diameter=diameter)
    assert least < 0.5 * 25.4e-6
    assert 1.0 * 25.4e-6 < most < 6.0 * 25.4e-6


def test_a_knurl_forgives_ten_times_what_a_plain_fit_does():
    _, most = window()
    plain = fits.yield_interference(yield_strength=310e6, **HUB)
    assert 5 < most / plain < 20


def test_the_height_that_holds_does_not_spoil_and_a_coarse_wheel_does():
    """Crests uneven by half of their height, a mesh that allows 20 µm off center."""
    least, _ = window()
    spoils = fits.spoiling_height(eccentricity=20e-6, uneven_share=0.5)
    assert least / 2 < spoils / 10
    assert fits.sharp_height(knurl_pitch=0.0254 / 40, crest_angle=np.pi / 2) > spoils


SHEAR = {"bite": 1e-5, **KNURL, "shear_strength": 1e8, "diameter": 2e-3, "length": 3e-3}


@pytest.mark.parametrize(
    ("function", "known", "bad", "words"),
    [
        ("crest_shear_torque", SHEAR, {"bite": 1e-3}, "bite"),
    ],
)  # fmt: skip
def test_refusals_name_the_argument(function, known, bad, words):
    with pytest.raises(ValueError, match=words):
        getattr(knurl_joints, function)(**{**known, **bad})
