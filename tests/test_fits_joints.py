"""Joints: inverse pairs, what heat does to unlike metals, glue against grip."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import fits, tables

some = settings(max_examples=50, deadline=None)
METALS = {"hub_modulus": 97e9, "hub_poisson": 0.31, "shaft_modulus": 207e9, "shaft_poisson": 0.292}
SLEEVE = {"diameter": 0.002, "hub_outer": 0.003175, "shaft_bore": 0.0004, **METALS}
walls = st.floats(1.1, 6.0)


@some
@given(st.floats(1e-4, 1.0), walls, st.floats(0.02, 0.3), st.floats(0.0005, 0.02))
def test_the_interference_holds_just_that_torque(torque, wall, friction, length):
    joint = {"diameter": 0.002, "hub_outer": 0.002 * wall, **METALS}
    interference = fits.interference_for_torque(
        torque=torque, length=length, friction=friction, **joint
    )
    pressure = fits.interference_pressure(diametral_interference=interference, **joint)
    held = fits.slip_torque(pressure=pressure, diameter=0.002, length=length, friction=friction)
    assert np.isclose(held, torque, rtol=1e-12)


@some
@given(st.floats(1e7, 2e9), walls, st.floats(0.0, 0.9))
def test_at_the_yield_interference_the_bore_yields(strength, wall, hollow):
    joint = {"diameter": 0.002, "hub_outer": 0.002 * wall, "shaft_bore": 0.002 * hollow, **METALS}
    interference = fits.yield_interference(yield_strength=strength, **joint)
    pressure = fits.interference_pressure(diametral_interference=interference, **joint)
    bore = {"diameter": 0.002, "hub_outer": 0.002 * wall}
    assert np.isclose(fits.hub_von_mises_stress(pressure=pressure, **bore), strength, rtol=1e-12)


@some
@given(st.floats(1e5, 1e9), walls)
def test_von_mises_lies_between_hoop_and_hoop_plus_pressure(pressure, wall):
    bore = {"pressure": pressure, "diameter": 0.002, "hub_outer": 0.002 * wall}
    hoop, mises = fits.hub_hoop_stress(**bore), fits.hub_von_mises_stress(**bore)
    assert hoop < mises < hoop + pressure  # the latter is Tresca


def test_a_thick_hub_yields_at_the_strength_over_root_three():
    mises = fits.hub_von_mises_stress(pressure=1.0, diameter=0.001, hub_outer=1.0)
    assert np.isclose(mises, np.sqrt(3), rtol=1e-5)


def test_soft_and_hard_brass_yield_as_the_trade_expects():
    """Rounded figures worked out with the same formulas before: no outside value."""
    sleeve = {**SLEEVE, "shaft_bore": 0.0}
    soft, hard = (
        fits.yield_interference(yield_strength=strength, **sleeve) for strength in (124e6, 310e6)
    )
    assert round(float(soft) * 1e6, 1) == 2.6
    assert round(float(hard) * 1e6, 1) == 6.4


@some
@given(st.floats(1e-8, 1e-5), st.floats(0.001, 0.01), st.floats(12e-6, 1e-4))
def test_at_the_release_temperature_nothing_is_left(interference, diameter, hub):
    joint = {"diametral_interference": interference, "diameter": diameter}
    metals = {"hub_expansion": hub, "shaft_expansion": 11.5e-6}
    rise = fits.release_temperature(**joint, **metals)
    left = fits.warm_interference(**joint, **metals, temperature_rise=rise)
    assert abs(left) < 1e-9 * interference


@some
@given(st.floats(-50.0, 150.0), st.floats(1e-6, 1e-4))
def test_one_metal_never_loosens(rise, expansion):
    left = fits.warm_interference(
        diametral_interference=1e-6,
        diameter=0.002,
        temperature_rise=rise,
        hub_expansion=expansion,
        shaft_expansion=expansion,
    )
    assert left == 1e-6


def test_a_warm_brass_hub_loosens_and_a_tungsten_one_tightens():
    left = {
        metal: fits.warm_interference(
            diametral_interference=1e-6,
            diameter=0.002,
            temperature_rise=60.0,
            hub_expansion=tables.value("materials", metal, "expansion"),
            shaft_expansion=tables.value("materials", "steel", "expansion"),
        )
        for metal in ("brass", "tungsten alloy", "acetal")
    }
    assert left["acetal"] < left["brass"] < 0.2e-6 < 1e-6 < left["tungsten alloy"]


def test_slipping_on_needs_more_heat_than_letting_go_of_a_cold_shaft():
    parts = {"diametral_interference": 2e-6, "diameter": 0.002, "hub_expansion": 20.5e-6}
    bare = fits.shrink_temperature(**parts, assembly_clearance=0.0)
    assert fits.shrink_temperature(**parts, assembly_clearance=2e-6) == pytest.approx(2 * bare)
    assert bare < fits.release_temperature(**parts, shaft_expansion=11.5e-6)


def test_a_poor_bond_holds_more_than_a_micrometer_of_interference():
    pressure = fits.interference_pressure(
        diametral_interference=1e-6, **{**SLEEVE, "shaft_bore": 0.0}
    )
    grip = fits.slip_torque(pressure=pressure, diameter=0.002, length=0.004, friction=0.12)
    assert fits.bond_torque(shear_strength=5e6, diameter=0.002, length=0.004) > 2 * grip
