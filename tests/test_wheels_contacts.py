"""Contact of a wheel on its rail: small while clean, and a matter of films."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import motor, tables, wheels

few = settings(max_examples=25, deadline=None)
FORCE, HARDNESS, TIMES = st.floats(0.01, 5.0), st.floats(5e8, 3e9), st.floats(1.1, 20.0)
METALS = {"resistivity_1": 66e-9, "resistivity_2": 300e-9}
AMBIENT = st.floats(250.0, 350.0)


@few
@given(FORCE, HARDNESS, TIMES)
def test_more_force_spreads_the_spot_and_lowers_both_resistances(force, hardness, times):
    small = {"force": force, "hardness": hardness}
    large = {"force": times * force, "hardness": hardness}
    assert np.isclose(wheels.contact_spot(**large), np.sqrt(times) * wheels.contact_spot(**small))
    clean = wheels.constriction_resistance(**small, **METALS)
    assert np.isclose(
        wheels.constriction_resistance(**large, **METALS) * np.sqrt(times), clean, rtol=1e-12
    )
    dirty = wheels.tarnish_resistance(**small, film_resistance=1e-9)
    assert np.isclose(
        wheels.tarnish_resistance(**large, film_resistance=1e-9) * times, dirty, rtol=1e-12
    )


@few
@given(FORCE, HARDNESS)
def test_metals_may_change_places_and_add(force, hardness):
    press = {"force": force, "hardness": hardness}
    there = wheels.constriction_resistance(**press, **METALS)
    back = wheels.constriction_resistance(**press, resistivity_1=300e-9, resistivity_2=66e-9)
    assert np.isclose(there, back, rtol=1e-14)
    alone = wheels.constriction_resistance(**press, resistivity_1=66e-9, resistivity_2=0.0)
    other = wheels.constriction_resistance(**press, resistivity_1=0.0, resistivity_2=300e-9)
    assert np.isclose(alone + other, there, rtol=1e-14)


@few
@given(st.floats(1e-3, 10.0), st.integers(1, 8), st.integers(1, 8))
def test_rails_may_change_places_and_the_poorer_side_rules(each, one, two):
    there = wheels.path_resistance(contact_resistance=each, wheels_1=one, wheels_2=two)
    back = wheels.path_resistance(contact_resistance=each, wheels_1=two, wheels_2=one)
    assert np.isclose(there, back, rtol=1e-14)
    assert there > each / min(one, two)
    more = wheels.path_resistance(contact_resistance=each, wheels_1=one + 1, wheels_2=two)
    assert more < there


@few
@given(st.floats(0.0, 1.0), AMBIENT)
def test_temperature_and_voltage_undo_each_other(volts, ambient):
    hot = wheels.contact_temperature(contact_voltage=volts, ambient=ambient)
    assert hot >= ambient
    back = wheels.softening_voltage(temperature=hot, ambient=ambient)
    assert np.isclose(back, volts, rtol=1e-6, atol=1e-7)


@few
@given(st.floats(0.1, 20.0), st.floats(1e7, 1e9), TIMES)
def test_more_voltage_breaks_thicker_films(volts, strength, times):
    thin = wheels.punctured_film(voltage=volts, film_strength=strength)
    assert np.isclose(
        wheels.punctured_film(voltage=times * volts, film_strength=strength), times * thin
    )
    assert np.isclose(thin * strength, volts)


def test_no_voltage_no_heat_and_no_film_broken():
    assert wheels.contact_temperature(contact_voltage=0.0, ambient=293.0) == 293.0
    assert wheels.softening_voltage(temperature=293.0, ambient=293.0) == 0
    assert wheels.punctured_film(voltage=0.0, film_strength=1e8) == 0
    assert wheels.contact_spot(force=0.0, hardness=1e9) == 0
    assert wheels.tarnish_resistance(force=0.5, hardness=1e9, film_resistance=0.0) == 0
    assert wheels.path_resistance(contact_resistance=0.0, wheels_1=1, wheels_2=1) == 0


def test_clean_wheels_drop_millivolts_and_dirty_ones_stop_a_crawl():
    """One wheel a rail, 50 mA, an ironless motor that a crawl feeds with 2.4 V."""
    press = {"force": 0.4, "hardness": 1.3e9}
    clean = wheels.constriction_resistance(**press, **METALS)
    film = tables.band("contacts", "dirty rail", "film_resistance")[1]
    dirty = wheels.tarnish_resistance(**press, film_resistance=film)
    spin = {"torque": 0.3e-3, "torque_constant": 0.014, "friction_torque": 0.0}

    def speeds(voltage):
        paths = (
            wheels.path_resistance(contact_resistance=each, wheels_1=1, wheels_2=1)
            for each in (clean, dirty)
        )
        return [motor.speed(voltage=voltage, resistance=22.0 + path, **spin) for path in paths]

    assert 0.05 * clean < 1e-3
    slow, fast = speeds(2.4), speeds(12.0)
    assert np.isclose(slow[0] - slow[1], fast[0] - fast[1]), "the same turns are lost"
    assert 0 < slow[1] < 0.5 * slow[0], "which is most of a crawl"
    assert fast[1] > 0.85 * fast[0]


def test_digital_track_breaks_films_five_times_as_thick_as_a_slow_pass():
    strength = tables.value("contacts", "tarnish", "film_strength")
    slow, digital = (wheels.punctured_film(voltage=u, film_strength=strength) for u in (3.0, 16.0))
    assert digital > 5 * slow


@pytest.mark.parametrize("table", ["contacts", "plastics", "track"])
def test_every_row_has_a_source_and_a_place(table):
    for row in tables.rows(table):
        assert row.source in tables.sources(), row
        assert row.where and row.low <= row.high, row
