"""The panel of the sleeve: its numbers, its sentences, every end of every slider, its copies."""

import io
from math import pi

import numpy as np
import pytest
from PIL import Image

from mechkit.drawings.style import Look
from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import fittings, workshop
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions import fits as fit_window
from mechkit.panels import fits
from mechkit.panels.controls import Slider

BENCH = sheet.demo()
CASE = fit_window.case_of(BENCH.data)
PLAIN = {
    "shaft": 2e-3,
    "outside": 3.175e-3,
    "length": 8e-3,
    "material": "soft brass",
    "tolerance": 20e-6,
}
CONTROLS = fits.show(BENCH).controls
SLIDERS = [control for control in CONTROLS.values() if isinstance(control, Slider)]


def pressed(interference=1e-6, **changes):
    return fit_window.window(
        CASE, **(PLAIN | {"hold": "press", "difference": interference} | changes)
    )


def bonded(gap=30e-6, **changes):
    return fit_window.window(CASE, **(PLAIN | {"hold": "bond", "difference": -gap} | changes))


def panel(**values):
    made = fits.show(BENCH)
    for name, value in values.items():
        made.set(name, value)
    return made


def lame(shaft, outside, interference, hub, core):
    """Pressure of a press fit: balance and fit at the edges of two rings, as a linear system.

    Unknown: A and B of the hub's travel A r + B / r, C of the shaft's travel C r; plane stress.
    """
    a, b = shaft / 2, outside / 2
    (modulus, poisson), (stiff, narrow) = hub, core

    def radial(r):  # stress in the hub for A = 1 and for B = 1
        return modulus / (1 - poisson), -modulus / (1 + poisson) / r**2

    in_shaft = stiff / (1 - narrow)
    system = [[*radial(b), 0.0], [*radial(a), -in_shaft], [a, 1 / a, -a]]
    return -in_shaft * np.linalg.solve(system, [0.0, 0.0, interference / 2])[2]


# -- the numbers ------------------------------------------------------------------------


@pytest.mark.parametrize(("shaft", "outside"), [(1e-3, 2.8e-3), (2e-3, 3.175e-3), (2.5e-3, 4.7e-3)])
def test_pressure_is_that_of_two_rings_solved_at_their_edges(shaft, outside):
    state = pressed(1e-6, shaft=shaft, outside=outside)
    expected = lame(shaft, outside, 1e-6, (97e9, 0.31), (207e9, 0.292))
    assert state.pressure == pytest.approx(expected, rel=1e-9)


def test_stresses_balance_at_the_bore():
    state = pressed(1e-6)
    # Equilibrium of half a ring: the mean hoop stress carries the pressure on the bore.
    mean = state.pressure * state.shaft / (state.outside - state.shaft)
    assert mean < state.hoop < 2 * mean
    # von Mises of (hoop, -pressure, 0)
    sigma = np.array([state.hoop, -state.pressure, 0.0])
    expected = np.sqrt(np.sum((sigma - np.roll(sigma, 1)) ** 2) / 2)
    assert state.stress == pytest.approx(expected, rel=1e-12)


def test_torque_is_friction_on_the_skin_at_the_radius():
    state = pressed(1e-6)
    skin = pi * state.shaft * state.length
    assert state.torque == pytest.approx(0.12 * state.pressure * skin * state.shaft / 2)
    assert state.torque_high / state.torque == pytest.approx(0.20 / 0.12)
    assert state.press_force == pytest.approx(0.20 * state.pressure * skin)


def test_window_opens_where_it_holds_and_closes_where_it_yields():
    state = pressed(1e-6)
    opens, closes = pressed(state.needed), pressed(state.yields)
    assert opens.torque == pytest.approx(fittings.HOLD * CASE.stall_torque)
    assert closes.stress == pytest.approx(closes.strength)
    assert not closes.yielded and pressed(1.01 * state.yields).yielded


def test_beyond_yield_nothing_more_is_counted_on():
    yields = pressed().yields
    assert pressed(5e-6).torque == pytest.approx(pressed(yields).torque)
    assert pressed(5e-6).press_force == pytest.approx(pressed(yields).press_force)


def test_the_window_of_the_panel_is_that_of_the_decision():
    state = pressed()
    decision = fittings.press(Knowledge(BENCH.data, Spread(draws=2)))
    assert state.window == pytest.approx(decision.value.value, rel=1e-9)
    assert decision.limit.value == pytest.approx(2 * workshop.tolerance(BENCH.data))


def test_size_to_size_holds_nothing():
    state = pressed(0.0)
    assert state.pressure == state.torque == state.press_force == state.stress == 0.0
    assert np.isinf(state.release)


def test_a_brass_sleeve_lets_go_when_warm_and_a_steel_one_never():
    assert pressed(1e-6).release == pytest.approx(1e-6 / (2e-3 * (20.5e-6 - 11e-6)))
    assert np.isinf(pressed(1e-6, material="steel").release)


def test_bond_holds_by_area_at_the_radius_and_less_when_hot():
    state = bonded()
    assert state.torque == pytest.approx(15e6 * pi * 2e-3 * 8e-3 * 1e-3)
    assert state.torque_low < state.torque < state.torque_high
    assert state.torque_hot == pytest.approx(0.4 * 0.4 * state.torque_low)
    assert bonded(material="steel").torque_hot == pytest.approx(0.4 * state.torque_low)
    assert bonded(length=4e-3).torque == pytest.approx(state.torque / 2)


def test_standard_fits_are_those_of_the_books():
    state = pressed()
    # ISO 286-1, 2 H7/p6; Machinery's Handbook 27th ed. p. 663, FN1 up to 0.12 in (both read)
    assert np.round(np.array(state.metric_fit) * 1e6, 6).tolist() == [-4.0, 12.0]
    assert np.round(np.array(state.inch_fit) / 25.4e-6, 6).tolist() == [0.05, 0.5]


def test_reached_needs_the_whole_spread_inside():
    assert bonded(30e-6, tolerance=20e-6).reached
    assert not bonded(29e-6, tolerance=20e-6).reached
    assert not bonded(61e-6, tolerance=20e-6).reached
    middle = (pressed().needed + pressed().yields) / 2
    assert pressed(middle, tolerance=1e-6).reached
    assert not pressed(middle, tolerance=2e-6).reached


# -- the sentence -----------------------------------------------------------------------


def test_press_says_its_numbers_in_both_systems():
    made = panel(hold="press", interference=1e-6)
    state = made.state
    for number in (f"{state.torque * 1e3:.0f}\u00a0mN·m", f"{state.hoop / 1e6:.0f}\u00a0MPa hoop", "1.0\u00a0µm",
                   f"{state.yields * 1e6:.1f}\u00a0µm", f"{state.press_force:.0f}\u00a0N", "±20\u00a0µm"):  # fmt: skip
        assert number in made.words
    assert "never through the motor's bearings" in made.words
    made.wear(system="inch")
    for number in (f"{state.torque / 7.0615518e-3:.1f}\u00a0ozf·in", "0.039\u00a0thou", "±0.79\u00a0thou",
                   f"{state.yields / 25.4e-6:.3f}\u00a0thou"):  # fmt: skip
        assert number in made.words


def test_press_says_what_is_wrong():
    assert "stretched for good" in panel(hold="press", interference=5e-6).words
    assert "nothing holds" in panel(hold="press", interference=0.0).words
    assert "less than the 5 to ask for" in panel(hold="press", interference=0.2e-6).words
    assert "to size" in panel(hold="press", interference=1.5e-6, tolerance=1e-6).words


def test_bond_says_its_numbers_in_both_systems():
    made = panel()
    assert "754\u00a0mN·m (503 to 1005)" in made.words
    assert "a gap of 10 to 50\u00a0µm, and the compound fills 10 to 80\u00a0µm" in made.words
    made.wear(system="inch")
    assert "a gap of 0.39 to 1.97\u00a0thou" in made.words


def test_bond_says_what_is_wrong():
    assert "15\u00a0µm too tight to a gap of 25\u00a0µm" in panel(gap=5e-6).words
    assert "not to be had" in panel(gap=5e-6).words
    assert "more than the mesh forgives" in panel(gap=85e-6).words
    assert "creep up" in panel(tolerance=50e-6).words


# -- the picture ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "look", [Look(), Look(dark=True, size="hall", system="inch")], ids=["desk", "hall"]
)
def test_every_end_of_every_slider_draws(look):
    made = fits.show(BENCH, look=look)
    seen = {made.frame()}
    for control in SLIDERS:
        if control.when:
            made.set("hold", control.when[1])
        for end in (control.low, control.high):
            made.set(control.name, end)
            seen.add(made.frame())
        made.reset()
    assert len(seen) >= 2 * len(SLIDERS) - 1  # one end is where the sheet stands


def test_shaft_and_sleeve_never_meet_whatever_is_set():
    thinnest = CONTROLS["outside"].low - CONTROLS["shaft"].high
    assert thinnest >= 0.3e-3 - 1e-9
    assert CONTROLS["outside"].high < CASE.worm_root


def test_still_is_a_picture_with_its_sentence():
    made = panel()
    still, frame = (Image.open(io.BytesIO(data)) for data in (made.still(), made.frame()))
    assert still.format == "PNG" and still.width == frame.width
    assert still.height > frame.height


# -- the sheet --------------------------------------------------------------------------


@pytest.fixture
def own(tmp_path):
    """A copy of the demo's sheet in a folder of its own."""
    path = tmp_path / "engine.toml"
    path.write_text(BENCH.text, encoding="utf-8")
    return sheet.load(path)


def test_controls_start_where_the_sheet_stands():
    values = fits.show(BENCH).values
    planned = BENCH.data.planned
    assert values["shaft"] == planned.motor.shaft_diameter.value
    assert values["outside"] == planned.worm.bore.value
    assert values["length"] == planned.adapter.length.value
    assert (values["material"], values["hold"]) == ("soft brass", "bond")
    assert values["tolerance"] == workshop.tolerance(BENCH.data)


def test_write_changes_only_a_copy_and_only_what_was_moved(own):
    made = fits.show(own)
    made.set("hold", "press")
    made.set("material", "half-hard brass")
    made.set("length", 6e-3)
    path = made.write(dict(made.values))
    assert own.path.read_text("utf-8") == BENCH.text and path != own.path
    copy = sheet.load(path).data.planned
    assert (copy.adapter.hold, copy.adapter.temper) == ("press", "half hard")
    assert copy.adapter.length.value == pytest.approx(6e-3)
    assert copy.worm.bore.text == "1/8 in"


def test_a_sheet_without_a_sleeve_gets_a_plain_one_and_writes_none():
    made = fits.show(BENCH.with_values({"planned.adapter": None}))
    assert made.write is None
    assert made.state.outside > made.state.shaft
    assert made.frame()


@pytest.mark.parametrize("shaft", ["1.2 mm", "3.1 mm"])
def test_shaft_and_sleeve_never_meet_on_another_shaft(shaft):
    made = fits.show(BENCH.with_values({"planned.motor.shaft_diameter": shaft, "planned.flywheel": None}))  # fmt: skip
    assert made.controls["shaft"].high < made.controls["outside"].low
    for name in ("shaft", "outside"):
        for end in (made.controls[name].low, made.controls[name].high):
            made.set(name, end)
    assert made.frame()
