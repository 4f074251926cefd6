"""Power laws: double one argument, and the answer grows as the handbook says.

For formulas that are plain products, where a property of their own would only say this.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import derivations
from tests.formulas import draw, twin

#: Formula -> argument: the power with which the answer follows it.
POWERS = {
    "gears.tooth_force": {"torque": 1, "base_diameter": -1},
    "worm.lurch": {"end_play": 1, "wheel_diameter": -1},
    "runout.backlash_swing": {"eccentricity": 1},
    "runout.face_wobble": {"clearance": 1, "diameter": 1, "length": -1},
    "runout.wobble_eccentricity": {"face_runout": 1, "face_width": 1, "diameter": -1},
    "wear.pressure_speed": {"pressure": 1, "sliding_speed": 1},
    "wear.wheel_swept_area": {"teeth": 1, "face_width": 1, "working_depth": 1},
    "motor.speed_from_back_emf": {"back_emf": 1, "torque_constant": -1},
    "flywheel.unbalance_force": {"mass": 1, "eccentricity": 1, "speed": 2},
    "flywheel.stored_energy": {"inertia": 1, "speed": 2},
    "fits.press_force": {"pressure": 1, "diameter": 1, "length": 1, "friction": 1},
    "fits.shrink_temperature": {"diameter": -1, "hub_expansion": -1},
    "fits.bond_torque": {"shear_strength": 1, "diameter": 2, "length": 1},
    "bearings.life_time": {"life": 1, "speed": -1},
    "bearings.pressure_velocity": {"load": 1, "speed": 1, "length": -1},
    "bearings.end_play_change": {"length": 1},
    "alignment.bed_resonance": {"mass": -0.5, "bed_rate": 0.5},
    "springs.spring_index": {"mean_diameter": 1},
    "springs.solid_length": {"wire_diameter": 1, "total_coils": 1},
    "springs.allowable_shear_stress": {"tensile_strength": 1},
    "springs.bowed_washer_stress": {
        "elastic_modulus": 1, "deflection": 1, "thickness": 1, "outer": -2,
    },
}  # fmt: skip
EVERY = [(formula, name, power) for formula, law in POWERS.items() for name, power in law.items()]


@pytest.mark.parametrize(("formula", "name", "power"), EVERY, ids=lambda x: str(x))
@settings(max_examples=20, deadline=None)
@given(factor=st.floats(1.0, 8.0), seed=st.integers(0, 2**31))
def test_the_answer_follows_the_power(formula, name, power, factor, seed):
    topic, _, function = formula.partition(".")
    function = derivations.public_functions(topic)[function]
    bench = draw(twin(topic, function.__name__).inside, 5, seed)
    grown = function(**{**bench, name: bench[name] * factor})
    np.testing.assert_allclose(grown, function(**bench) * factor**power, rtol=1e-12)
