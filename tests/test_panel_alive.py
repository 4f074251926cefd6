"""A panel whose code fails: it lives on, the log tells once, the user is told what he asked for."""

import asyncio
import logging
import os

import jupyter_client.manager
import pytest

from mechkit.launch import CHECKOUT
from mechkit.panels import live as lives
from tests.test_panels import bar_panel, listen, live
from tests.test_sweep import come, touch


@pytest.fixture
def shown():
    return live(bar_panel())


def break_above(shown, length, error):
    """From a length on, the bar cannot be computed, for a reason that nobody foresaw."""
    compute = shown.panel.compute

    def broken(values):
        if values.length > length:
            raise error(f"a fault at {values.length:.3f}")
        return compute(values)

    shown.panel.compute = broken


def rest(shown, told, count, hand=0):
    """Rest on a slider until so many messages have come."""

    async def resting():
        touch(shown, hand)
        await come(told, count)
        await asyncio.sleep(0.1)

    asyncio.run(asyncio.wait_for(resting(), 20))


@pytest.fixture
def errors(caplog):
    caplog.set_level(logging.ERROR, logger=lives.LOG.name)
    return caplog


def test_a_fault_in_a_picture_ahead_is_logged_once_and_the_others_come(shown, errors):
    break_above(shown, 0.0245, ZeroDivisionError)
    told = listen(shown)
    rest(shown, told, 2 + 1 + 10)
    ahead = [one.where["place"] for one in told if not one.where["shown"]]
    assert {0, 5, 13, 14} <= set(ahead) and max(ahead) == 14
    assert len(errors.records) == 1
    assert "How long a bar? a fault at 0.0" in errors.records[0].getMessage()
    assert errors.records[0].exc_info[0] is ZeroDivisionError
    assert not any(one.where.get("failed") for one in told)


def test_a_fault_in_drawing_ahead_keeps_no_place(shown, errors):
    told = listen(shown)
    touch(shown, 0)
    change = shown.panel.change
    shown.panel.change = lambda state: change(state) if state.length < 0.0205 else 1 / 0
    rest(shown, told, 3 + 9)
    assert errors.records and max(place for place in shown._sweep.known) == 10
    shown.panel.change = change
    shown.input("length").value = 21.0
    assert told[-1].change and told[-1].where["shown"] and not told[-1].where.get("kept")


def test_what_is_refused_by_the_formula_is_not_logged(shown, errors):
    told = listen(shown)  # the bar is refused above 90 mm
    rest(shown, told, 82)
    assert not errors.records


def test_a_panel_that_fails_everywhere_gives_up_and_answers_again(shown, errors):
    told = listen(shown)
    touch(shown, 0)
    ahead, shown._sweep.ahead = shown._sweep.ahead, lambda: 1 / 0
    rest(shown, told, 2)
    assert not shown._sweep.running and len(errors.records) == 1
    shown._sweep.ahead, shown._sweep.errors = ahead, 0
    before = len(told)
    rest(shown, told, before + 3)


@pytest.mark.parametrize("message", [{"touched": 2}, {"pixels": 500}, {"left": 0}], ids=str)
def test_a_fault_in_answer_to_the_browser_is_logged_once_and_said(
    message, shown, errors, monkeypatch
):
    told = listen(shown)
    touch(shown, 0)
    change = shown.panel.change
    shown.panel.change = lambda state: 1 / 0
    monkeypatch.setattr(
        type(shown._sweep),
        "wanted",
        property(lambda _: 1, lambda _, on: on or 1 / 0),
        raising=False,
    )
    for _ in range(2):
        shown.screen._handle_custom_msg(message, [])
        shown._sweep.hand = 0
    assert len(errors.records) == 1 and errors.records[0].exc_info[0] is ZeroDivisionError
    assert told[-1].where["failed"] and told[-1].words == "division by zero"
    monkeypatch.undo()
    shown.panel.change = change
    shown.input("length").value = 41.0
    assert "failed" not in told[-1].where and "41.00" in told[-1].words


def test_the_notebook_hears_the_log():
    """In a kernel, without any setting: what is logged comes out of it as a message."""
    code = (
        "import asyncio\nfrom mechkit.panels.live import LOG\n"
        "asyncio.get_running_loop().call_later(0.2, lambda: LOG.error('a fault ahead'))"
    )
    env = {**os.environ, "PYTHONPATH": str(CHECKOUT)}
    manager, client = jupyter_client.manager.start_new_kernel(
        kernel_name="python3",
        env=env,
    )
    try:
        client.execute(code)
        heard = ""
        while "a fault ahead" not in heard:
            message = client.get_iopub_msg(timeout=30)
            if message["msg_type"] == "stream":
                heard = message["content"]["text"]
        assert message["content"]["name"] == "stderr"
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
