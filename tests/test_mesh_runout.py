"""Each gear's runout against the backlash of its own meshes."""

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.plan import mesh
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet import demo

ALPHA = np.radians(20.0)


def judged(changes):
    return rebuild(demo().with_values(changes).data)


def test_an_idler_far_off_center_jams_both_its_meshes():
    """0.010 in of swing closes a mesh by 0.254 mm tan 20 deg = 92 um; there are 60."""
    far = judged({"planned.gears[1].total_runout": "0.010 in"})
    for key in ("backlash", "worm backlash"):
        assert far.decision(key).verdict == "wrong", key
    taken = far.decision("worm backlash").limit.value
    assert taken == pytest.approx(0.254e-3 * np.tan(ALPHA))
    both = far.decision("backlash").limit.value
    assert both == pytest.approx((0.254e-3 + 0.0254e-3) * np.tan(ALPHA))
    assert judged({"as_is.gears[1].total_runout": "0.010 in"}).decision("jam").verdict == "wrong"


def test_the_runout_that_would_pass_passes():
    far = judged({"planned.gears[1].total_runout": "0.010 in"}).decision("worm backlash")
    swing = far.numbers["swing"].value
    mended = {"planned.gears[1].total_runout": f"{swing * 1e3 * 0.7:.4f} +/- 0.001 mm"}
    assert judged(mended).decision("worm backlash").verdict == "good"


def test_the_worms_backlash_is_its_own():
    tight = {"planned.mesh.worm_backlash": "0.005 +/- 0.001 mm"}
    found = judged(tight)
    assert found.decision("worm backlash").verdict == "wrong"
    assert found.decision("backlash").verdict == "good"
    assert "Nobody has felt" in judged({}).decision("worm backlash").finding
    assert "Nobody has felt" not in found.decision("worm backlash").finding


def test_backlash_at_the_worm_is_lost_at_the_rim_too():
    plain, wide = (judged(one).known for one in ({}, {"planned.mesh.worm_backlash": "0.06 mm"}))
    lost = wide.planned.lost_motion[0] - plain.planned.lost_motion[0]
    assert lost == pytest.approx(0.06e-3 * 16.2 / 12.0, rel=1e-3)


def test_a_worm_straight_on_the_axle_has_one_mesh():
    data = demo().data
    single = data.planned.model_copy(update={"gears": data.planned.gears[1:]})
    known = Knowledge(data.model_copy(update={"planned": single}), Spread())
    assert [one.key for one in mesh(known)] == ["backlash"]
