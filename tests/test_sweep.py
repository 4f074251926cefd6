"""Pictures drawn before the hand asks: the right ones, in the right order, and no stale one."""

import asyncio
import io

import numpy as np
import pytest
from PIL import Image

from mechkit.panels import flywheel
from mechkit.panels.sweep import Sweep
from tests.test_panels import bar_panel, listen, live


@pytest.fixture
def shown():
    """A panel that a browser watches, 400 pixels wide."""
    return live(bar_panel())


def touch(shown, hand):
    shown.screen._handle_custom_msg({"touched": hand}, [])


def pixels(jpeg):
    return Image.open(io.BytesIO(jpeg)).convert("RGB")


async def come(told, count):
    """Wait until so many messages have come."""
    while len(told) < count:
        await asyncio.sleep(0.001)


def drawn_ahead(shown):
    """All that lies ahead, drawn."""
    while shown.draw_ahead():
        pass


def test_the_nearest_places_come_first_and_both_ends_come(shown):
    told = listen(shown)
    touch(shown, 0)
    del told[:-1]
    drawn_ahead(shown)
    places = [one.where["place"] for one in told]
    # the bar is refused above 90 mm; it starts at 20 mm, ten steps from its lower end
    assert places[0] == 10 and set(places) == set(range(81))
    away = [abs(place - 10) for place in places]
    assert away == sorted(away)
    assert [one.where["shown"] for one in told] == [False] * 81
    assert all(one.where["sweep"] == told[0].where["sweep"] for one in told)


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_a_picture_drawn_ahead_is_the_picture_of_its_value(system):
    panel = flywheel.show()
    shown = live(panel)
    shown._wear("system", system)
    told = listen(shown, 520)
    outer = shown.input("outer")
    touch(shown, list(shown._hands.values()).index(outer))
    base = pixels(told[-1].change.jpeg)
    for _ in range(6):
        assert shown.draw_ahead()
    kept = {one.where["place"]: one for one in told if not one.where["shown"] and one.change}
    for place in list(kept)[1:]:
        whole, box = base.copy(), kept[place].change
        whole.paste(pixels(box.jpeg), box.at)
        panel.set(
            "outer", panel.controls["outer"].from_shown(outer.min + place * outer.step, system)
        )
        assert kept[place].words == panel.words
        afresh = np.asarray(pixels(panel.frame())).astype(int)
        assert np.abs(np.asarray(whole).astype(int) - afresh).max() <= 4


def test_a_step_to_a_place_that_is_there_computes_and_draws_nothing(shown):
    told = listen(shown)
    touch(shown, 0)
    drawn_ahead(shown)
    computed = []
    compute, shown.panel.compute = shown.panel.compute, lambda values: computed.append(values)
    shown.input("length").value = 50.0
    assert told[-1].where["kept"] and told[-1].change is None and not computed
    assert "50.00" in told[-1].words
    shown.panel.compute = compute
    assert shown.panel.state == shown.panel.at()[1]
    assert shown.panel.values["length"] == pytest.approx(0.05)


def test_a_step_to_a_place_that_is_not_there_yet_is_drawn_at_once(shown):
    told = listen(shown)
    touch(shown, 0)
    shown.input("length").value = 50.0
    assert told[-1].change and told[-1].where["shown"] and told[-1].where["place"] == 40
    sweep = told[-1].where["sweep"]
    shown.input("length").value = 51.0
    assert told[-1].where["sweep"] == sweep and told[-1].where["place"] == 41


@pytest.mark.parametrize(
    "act",
    [
        lambda shown: shown.panel.set("length", 0.03),
        lambda shown: setattr(shown.input("stiff"), "value", True),
        lambda shown: shown.panel.reset(),
        lambda shown: shown._wear("dark", True),
        lambda shown: shown.screen._handle_custom_msg({"pixels": 350}, []),
        lambda shown: touch(shown, 2),
    ],
    ids=["set", "switch", "reset", "dark", "another browser", "another slider"],
)
def test_whatever_else_moves_begins_a_new_sweep_with_the_whole_picture(shown, act):
    told = listen(shown)
    touch(shown, 0)
    before = told[-1].where["sweep"]
    act(shown)
    assert told[-1].where["sweep"] > before
    assert told[-1].where["whole"] and told[-1].change.at == (0, 0)


def test_a_refusal_ends_the_sweep_that_the_browser_has_ended(shown):
    told = listen(shown)
    before = told[-1].where["sweep"]
    with pytest.raises(ValueError, match="at most"):
        shown.input("length").value = 95.0
    assert told[-1].where["sweep"] > before and told[-1].where["failed"]


def test_a_value_between_two_steps_is_no_place():
    panel = bar_panel()
    panel.set("length", 0.0207)
    sweep = Sweep(panel, panel.controls["length"], "metric", 0)
    assert sweep.place() is None
    assert [sweep.ahead()[0], sweep.nearest(20.7)] == [11, 11]


@pytest.mark.parametrize("hand", [None, -1, 99, "0", 0.5, [0]])
def test_a_touch_of_nothing_is_not_heard(shown, hand):
    told = listen(shown)
    del told[:]
    touch(shown, hand)
    assert told == []


def test_pictures_come_by_themselves_while_a_hand_rests_and_stop_when_it_leaves(shown):
    told = listen(shown)

    async def rest():
        touch(shown, 0)
        await come(told, 8)
        touch(shown, 2)  # another slider
        await asyncio.sleep(0.1)

    asyncio.run(asyncio.wait_for(rest(), 20))
    sweeps = [one.where["sweep"] for one in told]
    assert sweeps == sorted(sweeps) and len(set(sweeps)) == 3


def test_nothing_more_is_drawn_once_nothing_rests_there_until_something_does(shown):
    told = listen(shown)

    async def rest():
        touch(shown, 0)
        await come(told, 8)
        shown.screen._handle_custom_msg({"left": 2}, [])  # of another slider, told late
        await come(told, 12)
        shown.screen._handle_custom_msg({"left": 0}, [])
        await asyncio.sleep(0.02)
        rested = len(told)
        await asyncio.sleep(0.1)
        assert len(told) == rested < 81
        touch(shown, 0)
        await come(told, rested + 4)

    asyncio.run(asyncio.wait_for(rest(), 20))
    places = [one.where["place"] for one in told if not one.where["shown"]]
    assert len(places) == len(set(places))  # it goes on where it stopped


def test_nothing_is_drawn_ahead_for_nobody(shown):
    told = []
    shown.screen.show = lambda *args, **more: told.append(args)

    async def rest():
        touch(shown, 0)
        await asyncio.sleep(0.05)

    asyncio.run(rest())
    assert told == []
