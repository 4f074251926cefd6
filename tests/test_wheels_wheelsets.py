"""Wheelsets and track: what passes a frog, and the printed standards' own agreement."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import tables, wheels

few = settings(max_examples=25, deadline=None)
GAUGE, WAY, FLANGE = st.floats(10e-3, 40e-3), st.floats(0.5e-3, 2e-3), st.floats(0.3e-3, 1.2e-3)


@few
@given(GAUGE, WAY, FLANGE)
def test_at_the_most_the_flange_just_touches_the_point(gauge, way, flange):
    frog = {"check_gauge": gauge, "check_span": gauge - way}
    least, most = wheels.back_to_back_window(**frog, flange_width=flange)
    touch = wheels.wheel_check_gauge(back_to_back=most, flange_width=flange)
    assert np.isclose(touch, gauge, rtol=1e-12)
    assert np.isclose(gauge - least, wheels.frog_flangeway(**frog), rtol=1e-9)
    assert np.isclose(most - least, wheels.frog_flangeway(**frog) - flange, atol=1e-12)


@few
@given(GAUGE, WAY, FLANGE, st.floats(0.0, 0.5e-3))
def test_from_the_middle_wobble_and_freedom_reach_the_ends(gauge, way, flange, wobble):
    frog = {"check_gauge": gauge, "check_span": gauge - way, "flange_width": flange}
    least, most = wheels.back_to_back_window(**frog)
    freedom = wheels.press_freedom(**frog, face_runout=wobble)
    assert np.isclose((least + most) / 2 + freedom + wobble / 2, most, atol=1e-12)
    still = wheels.press_freedom(**frog)
    assert np.isclose(still - freedom, wobble / 2, atol=1e-12)


def test_lengths_in_a_row_add_up_whatever_they_are():
    assert np.isclose(wheels.frog_flangeway(check_gauge=3e-3, check_span=1e-3), 2e-3)
    assert np.isclose(wheels.check_flangeway(track_gauge=3e-3, check_gauge=1e-3), 2e-3)


@few
@given(GAUGE, WAY)
def test_the_check_rails_flangeway_fills_the_gauge(far, way):
    found = wheels.check_flangeway(track_gauge=far + way, check_gauge=far)
    assert np.isclose(found, way, rtol=1e-9)


@pytest.mark.parametrize("scale", ["NMRA HO", "NMRA S", "NMRA O"])
def test_track_and_wheels_of_a_standard_belong_together(scale):
    def known(what):
        return tables.band("track", scale, what)

    (gauge, _), (_, span) = known("check_gauge"), known("check_span")
    thickest = gauge - known("back_to_back")[0]
    least, most = wheels.back_to_back_window(
        check_gauge=gauge, check_span=span, flange_width=0.76e-3
    )
    assert least < known("back_to_back")[0] < most
    assert thickest < wheels.frog_flangeway(check_gauge=gauge, check_span=span)
    play = wheels.flange_play(
        track_gauge=known("track_gauge")[0], back_to_back=most, flange_width=0.76e-3
    )
    assert play > 0, "a wheelset at its widest still fits between the rails"


@pytest.mark.parametrize("gauge", ["NEM 9 mm", "NEM 12 mm", "NEM 16.5 mm"])
def test_the_printed_limits_are_each_others_sums(gauge):
    between, check, flange = (
        tables.band("track", gauge, what)
        for what in ("back_to_back", "check_gauge", "flange_width")
    )
    thin = wheels.wheel_check_gauge(back_to_back=between[0], flange_width=flange[0])
    assert np.isclose(thin, check[0])
    for one, other in ((between[1], flange[0]), (between[0], flange[1])):
        over = wheels.wheel_check_gauge(back_to_back=one, flange_width=other)
        assert over <= check[1] + 1e-9


def test_a_wheel_may_go_back_a_tenth_of_a_millimeter_off_in_1_64():
    frog = {
        "check_gauge": tables.value("track", "NMRA S", "check_gauge"),
        "check_span": tables.value("track", "NMRA S", "check_span"),
        "flange_width": tables.value("track", "RP-25 code 110 flange", "flange_width"),
    }
    assert 0.10e-3 < wheels.press_freedom(**frog) < 0.18e-3
    assert wheels.press_freedom(**frog, face_runout=0.4e-3) < 0
