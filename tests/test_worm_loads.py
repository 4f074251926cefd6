"""Worm loads: forces balance, power adds up, end play jumps."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears, worm
from tests.independent import thread

some = settings(max_examples=50, deadline=None)
MESH = {
    "torque": 0.0004, "pitch_diameter": 0.006, "lead_angle": 0.0666, "friction": 0.08,
    "pressure_angle": 0.349,
}  # fmt: skip
meshes = st.fixed_dictionaries(
    {
        "torque": st.floats(1e-5, 0.01),
        "pitch_diameter": st.floats(0.003, 0.02),
        "lead_angle": st.floats(0.03, 0.5),
        "friction": st.floats(0.001, 0.3),
        "pressure_angle": st.floats(0.2, 0.5),
    }
)


@some
@given(meshes)
def test_forces_agree_with_vectors_on_a_helicoid(mesh):
    assert worm.thrust(**mesh) == pytest.approx(thread.thrust(**mesh), rel=1e-6)
    assert worm.separating_force(**mesh) == pytest.approx(thread.separating_force(**mesh), rel=1e-6)


@some
@given(meshes, st.floats(10, 60), st.floats(1, 1500))
def test_power_in_is_power_out_and_heat(mesh, ratio, speed):
    angles = {name: mesh[name] for name in ("lead_angle", "friction", "pressure_angle")}
    efficiency = worm.efficiency(**angles)
    torque = mesh["torque"]
    out = worm.wheel_torque(torque=torque, gear_ratio=ratio, efficiency=efficiency)
    heat = worm.heat(torque=torque, speed=speed, efficiency=efficiency)
    assert torque * speed == pytest.approx(out * speed / ratio + heat)


@some
@given(meshes, st.floats(10, 60))
def test_thrust_is_the_force_round_the_wheel(mesh, ratio):
    angles = {name: mesh[name] for name in ("lead_angle", "friction", "pressure_angle")}
    out = worm.wheel_torque(
        torque=mesh["torque"], gear_ratio=ratio, efficiency=worm.efficiency(**angles)
    )
    # the wheel's circumference is the lead times the ratio
    diameter = mesh["pitch_diameter"] * np.tan(mesh["lead_angle"]) * ratio
    around = gears.tangential_force(torque=out, pitch_diameter=diameter)
    assert worm.thrust(**mesh) == pytest.approx(around)


@some
@given(meshes, st.floats(1, 1500))
def test_heat_is_friction_times_sliding(mesh, speed):
    angles = {name: mesh[name] for name in ("lead_angle", "friction", "pressure_angle")}
    normal = worm.separating_force(**mesh) / np.sin(mesh["pressure_angle"])
    slides = worm.sliding_speed(
        pitch_diameter=mesh["pitch_diameter"], speed=speed, lead_angle=mesh["lead_angle"]
    )
    heat = worm.heat(torque=mesh["torque"], speed=speed, efficiency=worm.efficiency(**angles))
    assert heat == pytest.approx(mesh["friction"] * normal * slides)


def test_friction_takes_from_the_thrust_of_a_given_torque():
    smooth, rough = (worm.thrust(**{**MESH, "friction": mu}) for mu in (0.05, 0.12))
    assert rough < smooth


@some
@given(meshes)
def test_friction_and_efficiency_undo_each_other(mesh):
    shape = {name: mesh[name] for name in ("lead_angle", "pressure_angle")}
    efficiency = worm.efficiency(friction=mesh["friction"], **shape)
    found = worm.friction_from_efficiency(efficiency=efficiency, **shape)
    assert found == pytest.approx(mesh["friction"], rel=1e-9)


def test_a_mesh_without_loss_has_no_friction_and_one_that_stands_has_most():
    shape = {"lead_angle": 0.0666, "pressure_angle": 0.349}
    none, most = (worm.friction_from_efficiency(efficiency=e, **shape) for e in (1.0, 0.0))
    assert none == 0
    # a thread so rough that the force on the wheel is square to where it should go
    assert worm.efficiency(friction=most, **shape) == pytest.approx(0, abs=1e-12)
    for wrong in (-0.1, 1.1):
        with pytest.raises(
            ValueError, match=r"^efficiency = .*: must be at least 0 and at most 1$"
        ):
            worm.friction_from_efficiency(efficiency=wrong, **shape)


@some
@given(meshes, st.floats(0.001, 0.01))
def test_the_collar_takes_its_friction_of_the_thrust_at_its_mean_radius(mesh, collar):
    free = worm.thrust(**{**mesh, "friction": 0.0})
    loss = worm.collar_loss(
        friction=mesh["friction"], collar_diameter=collar,
        pitch_diameter=mesh["pitch_diameter"], lead_angle=mesh["lead_angle"],
    )  # fmt: skip
    assert loss * mesh["torque"] == pytest.approx(mesh["friction"] * free * collar / 2)


def test_two_tenths_of_end_play_are_degrees_at_a_small_wheel():
    jump = worm.lurch(end_play=0.0002, wheel_diameter=np.array([0.012, 0.024]))
    assert np.degrees(jump[0]) == pytest.approx(1.91, abs=0.005)
    assert jump[1] == pytest.approx(jump[0] / 2)
