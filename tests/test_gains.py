"""What each change gains: the steps together are the plan, and each is told the truth of."""

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions import gains
from mechkit.drive.decisions.rebuild import quantities
from mechkit.drive.sheet import demo, load
from mechkit.drive.sheet.schema import State
from tests.engines import drawn, sheet

DEMO = demo().data
NUMBERS = {"start", "coast", "current"}


@pytest.fixture(scope="module", params=["demo", 9401, 9402, 9403, 9404])
def known(request, tmp_path_factory):
    if request.param == "demo":
        return known_of(DEMO)
    path = tmp_path_factory.mktemp("engine") / "sheet.toml"
    path.write_text(sheet.sheet_text(drawn.draw(request.param), request.param), "utf-8")
    return known_of(load(path).data)


def test_all_steps_together_are_the_plan_at_every_door(known):
    """The last row says what the front page says."""
    found = gains.gains(known)
    asked = quantities(known)
    for key in NUMBERS & {one.key for one in found.quantities}:
        _, kind, ask = asked[key]
        told = known.spread.band(ask(known.planned), kind)
        last = found.steps[-1].in_order[key].value
        assert (last.value, last.low, last.high) == (told.value, told.low, told.high)


def test_every_step_puts_in_what_it_is_called_by_and_nothing_twice(known):
    """Made in order the changes give the plan; a change that is made is not made again."""
    now, plan = known.sheet.as_is, known.sheet.planned
    for change in gains.changes():
        now = gains.put(change.key, now, plan)
        assert gains.put(change.key, now, plan) == now
    assert now == plan


def test_a_plan_of_nothing_has_no_steps(known):
    nothing = known.sheet.model_copy(update={"planned": known.sheet.as_is})
    assert gains.gains(known_of(nothing)).steps == ()


def test_no_part_of_a_state_is_forgotten():
    """Two states that differ in everything are led from one to the other."""
    assert list(gains.PUTS) == [change.key for change in gains.changes()]
    plan = DEMO.planned.model_copy(update={"adapter": None, "flywheel": None})
    now = DEMO.as_is.model_copy(
        update={"adapter": DEMO.planned.adapter, "flywheel": DEMO.planned.flywheel}
    )
    for change in gains.changes():
        now = gains.put(change.key, now, plan)
    assert {key for key in State.model_fields if getattr(now, key) != getattr(plan, key)} == set()


def test_what_a_change_moves(known):
    """A flywheel turns nothing easier, grease and gears alone change the life."""
    found = {step.change.key: step.alone for step in gains.gains(known).steps}
    for key, moves in (("flywheel", {"coast", "hop"}), ("line", NUMBERS | {"hop", "tone"})):
        if key in found:
            assert {one for one, gain in found[key].items() if gain.moved} <= moves
    for key in set(found) - {"gears", "grease"}:
        assert "life" not in found[key] or not found[key]["life"].moved


def test_a_flywheel_alone_rolls_farther_and_starts_as_before():
    """In every draw: inertia is no friction."""
    known = known_of(DEMO)
    wheeled = known.drive_of(gains.put("flywheel", DEMO.as_is, DEMO.planned))
    rail = DEMO.locomotive.top_speed.value / DEMO.locomotive.scale
    assert np.all(wheeled.coast(rail) > known.before.coast(rail))
    assert np.allclose(wheeled.starting_voltage, known.before.starting_voltage, rtol=1e-9)
