"""What a machinist writes becomes SI, and SI becomes what he reads."""

import math
import string
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import units
from mechkit.units import QuantityError, read, show

INCH = 0.0254  # exact by definition: international yard and pound agreement, 1959
OUNCE = 0.45359237 / 16  # avoirdupois, exact by the same agreement
GRAVITY = 9.80665  # m/s^2, exact: 3rd CGPM, 1901
TURN = 2 * math.pi


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        # Fractions and inches
        ("5/32 in", "m", 5 / 32 * INCH),
        ('5/32"', "m", 5 / 32 * INCH),
        ("5/32″", "m", 5 / 32 * INCH),
        ("5 / 32 inch", "m", 5 / 32 * INCH),
        ("1-1/4 in", "m", 1.25 * INCH),
        ("1 1/4 in", "m", 1.25 * INCH),
        ("-1-1/4 in", "m", -1.25 * INCH),
        ("½ in", "m", 0.5 * INCH),
        ('1⅜"', "m", 1.375 * INCH),
        (".003 in", "m", 0.003 * INCH),
        ('.003"', "m", 0.003 * INCH),
        ("3 thou", "m", 0.003 * INCH),
        ("3 mil", "m", 0.003 * INCH),
        ("3 thousandths", "m", 0.003 * INCH),
        # Metric, with the signs that a screen or a word processor writes
        ("2.0 mm", "m", 0.002),
        ("2.0mm", "m", 0.002),
        ("2. mm", "m", 0.002),
        ("−2.0\u00a0mm", "m", -0.002),
        ("6 µm", "m", 6e-6),
        ("6 μm", "m", 6e-6),
        ("6 um", "m", 6e-6),
        ("1e-3 m", "m", 0.001),
        # Weights and forces
        ("410 g", "kg", 0.410),
        ("14.5 oz", "kg", 14.5 * OUNCE),
        ("0.63 N", "N", 0.63),
        ("64 gf", "N", 0.064 * GRAVITY),
        ("2.3 ozf", "N", 2.3 * OUNCE * GRAVITY),
        # Electrical
        ("13 ohm", "ohm", 13),
        ("13 Ω", "ohm", 13),
        ("13 Ohm", "ohm", 13),
        ("78 mA", "A", 0.078),
        ("0.2 amps", "A", 0.2),
        ("0.4 mH", "H", 4e-4),
        # Turning: a turn is two pi, and only what turns is a speed of rotation
        ("9000 rpm", "rad/s", 9000 * TURN / 60),
        ("9000 RPM", "rad/s", 9000 * TURN / 60),
        ("9000 rev/min", "rad/s", 9000 * TURN / 60),
        ("150 turn/s", "rad/s", 150 * TURN),
        ("16 kHz", "1/s", 16000),
        ("20 deg", "rad", 20 * TURN / 360),
        ("20°", "rad", 20 * TURN / 360),
        # Speed: the statute mile is 63 360 in
        ("45 mph", "m/s", 45 * 63360 * INCH / 3600),
        ("72 km/h", "m/s", 20),
        # Products and powers
        ("0.6 g*cm^2", "kg*m^2", 6e-8),
        ("0.6 g·cm²", "kg*m^2", 6e-8),
        ("0.6 g cm**2", "kg*m^2", 6e-8),
        ("0.3 mN*m", "N*m", 3e-4),
        ("165 N/m", "N/m", 165),
        ("0.94 lbf/in", "N/m", 0.94 * 16 * OUNCE * GRAVITY / INCH),
        ("15 MPa", "Pa", 15e6),
        ("1e-15 m^3/(N*m)", "m^3/(N*m)", 1e-15),
        ("28 kelvin/W", "kelvin/W", 28),
        # Temperatures: 0 °C is 273.15 K, 32 °F is 0 °C
        ("20 degC", "kelvin", 293.15),
        ("20 °C", "kelvin", 293.15),
        ("-40 degC", "kelvin", 233.15),
        ("-40 °F", "kelvin", 233.15),
        ("68 degF", "kelvin", 293.15),
        ("293.15 kelvin", "kelvin", 293.15),
        # Plain numbers
        ("0.2", "-", 0.2),
        ("20 %", "-", 0.2),
        ("20%", "-", 0.2),
        ("1/5", "-", 0.2),
    ],
)
def test_read(text, unit, value):
    assert read(text, unit).value == pytest.approx(value, rel=1e-9)
    assert read(text, unit).text == text


@pytest.mark.parametrize(
    ("text", "unit", "spread"),
    [
        ("2.00 mm", "m", 0),
        ("2.00 +/- 0.01 mm", "m", 1e-5),
        ("2.00 +- 0.01 mm", "m", 1e-5),
        ("2.00±0.01 mm", "m", 1e-5),
        ("2.00 mm +/- 0.01 mm", "m", 1e-5),
        ("2.00 mm ± 0.01", "m", 1e-5),
        ("2.00 mm ± 0.5 thou", "m", 0.0005 * INCH),
        ("5/32 +/- .001 in", "m", 0.001 * INCH),
        ("13 ohm +/- 2 %", "ohm", 0.26),
        ("20 +/- 4 %", "-", 0.04),
        ("20 % +/- 4 %", "-", 0.04),
        ("0.20 +/- 0.04", "-", 0.04),
        ("20 +/- 2 degC", "kelvin", 2),
        ("68 +/- 9 degF", "kelvin", 5),
        ("-16 mm +/- 5 %", "m", 0.0008),
    ],
)
def test_spread(text, unit, spread):
    reading = read(text, unit)
    assert reading.spread == pytest.approx(spread, rel=1e-9)
    assert reading.sigma == reading.spread / 2


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("0,5 mm", "m", "comma"),
        ("15,100 rpm", "rad/s", "no comma for thousands"),
        ("2.0", "m", "no unit"),
        ("", "m", "blank"),
        ("   ", "m", "blank"),
        ("mm", "m", "is not a length"),
        ("two mm", "m", "is not a length"),
        ("1 500 mm", "m", "is not a length"),
        ("1/0 in", "m", "divides by zero"),
        ("2.0 +/- -0.1 mm", "m", "cannot be negative"),
        ("2 +/- 1 +/- 1 mm", "m", "is not"),
        ("2 +/- 1 mm +/- 1 mm", "m", "is not"),
        ("2.0 mmm", "m", "did you mean mm?"),
        ("12 v", "V", "did you mean V?"),
        ("2.0 MM", "m", "length"),
        ("2.0 g", "m", "is a mass; write a length"),
        ("64 g", "N", "is a mass; write a force"),
        ("0.5 N", "kg", "is a force; write a mass"),
        ("2 s", "V", "is a time; write a voltage"),
        ("50 Hz", "rad/s", "is a frequency; write a speed of rotation"),
        ("100 rpm", "1/s", "is a speed of rotation; write a frequency"),
        ("20 percent", "rad", "is a plain number; write an angle"),
        ("20 %", "rad", "write an angle"),
        ("20 %", "m", "is a plain number; write a length"),
        ("5 mm", "-", "has a unit; write a plain number"),
        ("nan mm", "m", "is not a length"),
        ("inf", "-", "is not a plain number"),
        ("1e999 mm", "m", "too large"),
        ("1e308 km", "m", "too large"),
        ("1 +/- 1e999 mm", "m", "too large"),
        ("2 m**99999999", "m", "'m**99999999' is not a unit"),
        ("2 m^9^9^9^9", "m", "is not a unit"),
        ("2 " + "(" * 40, "m", "is not a unit"),
        ("9" * 61 + " mm", "m", "too long"),
        ("5 __import__", "m", "is not a unit"),
        ("5 mm; 6 mm", "m", "is not a unit"),
        (5, "m", "5 has no unit"),
        (True, "-", "true is not a plain number"),
        (None, "m", "no unit"),
        ([1], "m", "a list"),
        (b"5 mm", "m", "no unit"),
    ],
)
def test_refused(text, unit, says):
    with pytest.raises(QuantityError) as caught:
        read(text, unit)
    assert says in str(caught.value)
    assert str(caught.value).isprintable()


WRITTEN = [
    ("m", "mm", 1e-3), ("m", "in", INCH), ("m", "thou", INCH / 1000), ("kg", "g", 1e-3), ("V", "V", 1),
    ("A", "mA", 1e-3), ("ohm", "ohm", 1), ("rad/s", "rpm", TURN / 60), ("s", "s", 1), ("N", "N", 1),
    ("rad", "deg", TURN / 360), ("N/m", "N/m", 1), ("kg*m^2", "g*cm^2", 1e-7), ("-", "%", 0.01), ("-", "", 1),
]  # fmt: skip
NUMBER = st.floats(-1e6, 1e6).filter(lambda x: x == 0 or abs(x) > 1e-12)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(WRITTEN), NUMBER, st.floats(0, 1e3))
def test_value_to_text_to_value(kind, number, spread):
    unit, written, factor = kind
    reading = read(f"{number!r} +/- {spread!r} {written}", unit)
    assert reading.value == pytest.approx(number * factor, rel=1e-12, abs=1e-300)
    assert reading.spread == pytest.approx(spread * factor, rel=1e-12, abs=1e-300)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 99), st.integers(0, 200), st.integers(1, 128), st.sampled_from(["-", " "]))
def test_mixed_fractions(whole, top, bottom, gap):
    wanted = (whole + top / bottom) * INCH
    assert read(f"{whole}{gap}{top}/{bottom} in", "m").value == pytest.approx(wanted, rel=1e-12)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(list(units.KINDS)),
    st.sampled_from(["metric", "inch"]),
    st.floats(-5000, 5000),
)
def test_shown_text_is_read_back(kind, system, number):
    """What stands on the screen can be copied into the sheet."""
    value = units.from_shown(number, kind, system)
    assert units.shown(value, kind, system) == pytest.approx(number, rel=1e-9, abs=1e-9)
    if kind in {"rise", "times"}:
        return  # 20 K more is written as 20 K are; "times" is for sentences.
    text = show(value, kind, system, decimals=4)
    for printed, written in (("ksi", "kpsi"), ("oz·in²", "ounce·inch²"), ("mN·m", "mN*m")):
        text = text.replace(printed, written)
    step = abs(units.from_shown(1e-4, kind, system) - units.from_shown(0, kind, system))
    wanted = pytest.approx(value, rel=1e-9, abs=step)
    assert read(text, units.SI[kind] or "-").value == wanted


GARBAGE = st.one_of(
    st.text(max_size=70),
    st.text(alphabet="0123456789.,+-/±eE* ^()mingVArpohdC%°\"'", max_size=60),
    st.builds("{} {}".format, st.integers(), st.text(alphabet=string.ascii_letters, max_size=12)),
    st.builds("1 {}".format, st.text(alphabet="m^*/()0123456789 ²³·", max_size=58)),
)


@settings(max_examples=600, deadline=2000)
@given(GARBAGE, st.sampled_from([*units._KINDS, "m^3/(N*m)"]))
def test_garbage_is_read_or_refused(text, unit):
    try:
        reading = read(text, unit)
    except QuantityError as error:
        assert str(error).isprintable() and len(str(error)) < 300
    else:
        assert math.isfinite(reading.value) and math.isfinite(reading.spread)
        assert reading.spread >= 0


@pytest.mark.parametrize(
    "text",
    [
        "2 m**99999999", "2 m^-9^-9^-9", "1e" + "9" * 50 + " m", "9" * 50 + "e99 m", "1 " + "m" * 58,
        "1 " + "m " * 29, "1 " + "m*" * 28 + "m", "1 " + "(m" * 29, "1 " + "/" * 58, "1" + " " * 55 + "m x",
        "1/" * 29 + "1", "+/-" * 20, "1 +/- " * 10, " " * 59 + "x", "1 mm" + " " * 50 + "!", "1 " + "µ" * 58,
        "2 " + "kilo" * 14, "2 yottayottayottayottam",
    ],
)  # fmt: skip
def test_bombs_are_quick(text):
    units.registry()
    start = time.process_time()
    try:
        read(text, "m")
    except QuantityError as error:
        assert len(str(error)) < 300
    assert time.process_time() - start < 1


# -- showing ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "kind", "system", "text"),
    [
        (0.016, "length", "metric", "16.00 mm"),
        (0.016, "length", "inch", "0.630 in"),
        (10e-6, "fine", "metric", "10 µm"),
        (10e-6, "fine", "inch", "0.39 thou"),
        (10.0812e-3, "center", "metric", "10.081 mm"),
        (10.0812e-3, "center", "inch", "0.3969 in"),
        (10.087, "heavy", "metric", "10.1 kg"),
        (10.087, "heavy", "inch", "22.2 lb"),
        (0.410, "mass", "metric", "410.0 g"),
        (0.410, "mass", "inch", "14.46 oz"),
        (0.63, "force", "metric", "0.63 N"),
        (0.63, "force", "inch", "2.27 ozf"),
        (3e-4, "torque", "metric", "0.30 mN·m"),
        (7.0615518e-3, "torque", "inch", "1.000 ozf·in"),
        (6e-8, "inertia", "metric", "0.60 g·cm²"),
        (6e-8, "inertia", "inch", "0.0033 oz·in²"),
        (0.0135, "constant", "metric", "13.50 mN·m/A"),
        (1.7e-7, "drag", "inch", "0.17 µN·m·s"),
        (20.0, "speed", "metric", "72 km/h"),
        (20.1168, "speed", "inch", "45 mph"),
        (124e6, "stress", "metric", "124.0 MPa"),
        (124e6, "stress", "inch", "17.98 ksi"),
        (165.0, "rate", "metric", "165 N/m"),
        (165.0, "rate", "inch", "0.94 lbf/in"),
        (942.47779607, "rotation", "metric", "9000 rpm"),
        (942.47779607, "rotation", "inch", "9000 rpm"),
        (12.0, "voltage", "inch", "12.00 V"),
        (0.0787, "current", "metric", "79 mA"),
        (13.0, "resistance", "metric", "13.0 Ω"),
        (1.4, "time", "metric", "1.40 s"),
        (math.radians(20), "angle", "metric", "20.0°"),
        (0.2, "percent", "metric", "20 %"),
        (2.5, "number", "inch", "2.50"),
        (0.19, "energy", "metric", "190.0 mJ"),
        (1.5, "power", "metric", "1.50 W"),
        (7.2e6, "hours", "metric", "2000 h"),
        (293.15, "temperature", "metric", "20 °C"),
        (293.15, "temperature", "inch", "68 °F"),
        (40.0, "rise", "metric", "40 K"),
        (40.0, "rise", "inch", "72 °F"),
        (4.04e-6, "micron", "metric", "4.0 µm"),
        (4.04e-6, "micron", "inch", "0.16 thou"),
        (0.012, "ripple", "metric", "1.2 %"),
        (0.063, "friction", "metric", "0.063 "),
        (25.2, "times", "metric", "25 times"),
        (2.6, "slide", "metric", "2.60 m/s"),
        (0.508, "slide", "inch", "100 ft/min"),
        (16000.0, "frequency", "metric", "16.0 kHz"),
        (215.4, "tone", "metric", "215 Hz"),
    ],
)
def test_show(value, kind, system, text):
    """Every label beside a number worked by hand from the definitions of inch, pound and turn."""
    assert show(value, kind, system) == text.rstrip().replace(" ", "\u00a0")


def test_every_kind_is_shown_somewhere_above():
    shown = {mark[1] for mark in test_show.pytestmark[0].args[1]}
    assert shown == set(units.KINDS) == set(units.SI)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(list(units.KINDS)),
    st.sampled_from(["metric", "inch"]),
    st.floats(-1, 1),
    st.integers(0, 4),
)
def test_no_minus_zero(kind, system, number, decimals):
    text = show(units.from_shown(number, kind, system), kind, system, decimals)
    figure = text.split("\u00a0")[0].rstrip("°")
    assert "-" not in text
    assert not figure.startswith("−") or any(digit in "123456789" for digit in figure)
    assert len(figure.partition(".")[2]) == decimals


def test_minus_is_a_minus_sign():
    assert show(-0.016, "length") == "−16.00\u00a0mm"
    assert show(-1e-9, "length") == "0.00\u00a0mm"
    assert show(-0.0, "rotation") == "0\u00a0rpm"


def test_decimals():
    assert show(0.0123456, "length", decimals=1) == "12.3\u00a0mm"
    assert show(0.0123456, "length", decimals=0) == "12\u00a0mm"
    assert show(0.0123456, "length", decimals=3) == "12.346\u00a0mm"


def test_arrays_are_shown_and_taken_back():
    values = np.array([0.001, 0.002])
    assert units.shown(values, "length") == pytest.approx([1.0, 2.0])
    assert units.from_shown(
        units.shown(values, "length", "inch"), "length", "inch"
    ) == pytest.approx(values)


@settings(max_examples=100, deadline=None)
@given(st.sampled_from([u for u in units._KINDS if u != "kelvin"]), st.floats(1e-6, 1e3))
def test_plain_text_is_read_back(unit, value):
    text = units.plain(value, unit)
    assert text.isascii()
    assert read(text, unit).value == pytest.approx(value, rel=1e-5)
