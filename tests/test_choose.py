"""The choice from stock: the same as a plain loop finds, inside the envelope, and no score."""

from math import atan, cos, pi, radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import tables
from mechkit.drive import sheet
from mechkit.drive.choice import choose, chosen, ranking, stock
from mechkit.drive.choice.aims import AIMS, points
from mechkit.drive.choice.front import front
from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.model import layout, wearing
from mechkit.drive.model.body import body_of
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import Bar, FlywheelTable, GearTable, StockTable, WormTable
from mechkit.units import Reading, read

DEMO = sheet.demo().data
HALF = DEMO.locomotive.top_speed.value / 2


def tabled(pair, grease):
    """Both ends of a pair's friction in the table."""
    return tables.band("friction", pair, grease)


def mm(value):
    return Reading(value * 1e-3, 0.0, f"{value:g} mm")


def with_stock(motors=(0, 2, 4), sets=(0, 1, 4, 5), bars=((12.0, 9.0), (19.3, 17.0)), **rooms):
    """The demo with part of its stock, and bars of two sizes in mm."""
    whole = DEMO.stock
    some = StockTable(
        motors=[whole.motors[n] for n in motors],
        gear_sets=[whole.gear_sets[n] for n in sets],
        bars=[
            Bar(name=f"bar {n}", material=("brass", "steel")[n % 2], diameter=mm(d), length=mm(w))
            for n, (d, w) in enumerate(bars)
        ],
    )
    room = DEMO.envelope.model_copy(update=rooms)
    return DEMO.model_copy(update={"stock": some, "envelope": room})


def boiler(start=-16.0, end=52.0, bore=21.0):
    """The demo's boiler in other sizes [mm], and no firebox."""
    room = DEMO.envelope.rooms[0]
    return [room.model_copy(update={"start": mm(start), "end": mm(end), "diameter": mm(bore)})]


# -- the front ---------------------------------------------------------------------------


@settings(max_examples=60)
@given(st.integers(1, 5).flatmap(
    lambda k: st.lists(st.tuples(*[st.integers(0, 6)] * k), min_size=1, max_size=60)))  # fmt: skip
def test_the_front_is_what_two_loops_find(rows):
    def beats(one, other):
        return all(a <= b for a, b in zip(one, other, strict=True)) and one != other

    expected = [not any(beats(one, other) for one in rows) for other in rows]
    assert front(rows).tolist() == expected


def test_a_front_of_many_blocks_is_what_two_loops_find():
    rows = np.random.default_rng(3).integers(0, 25, (900, 3))
    as_good = (rows[:, None] <= rows[None]).all(axis=2)
    beaten = (as_good & ~as_good.T).any(axis=0)
    assert front(rows).tolist() == (~beaten).tolist()


# -- the same by a plain loop ------------------------------------------------------------


def by_loop(data, step):
    """Every drive, one after the other, by the parts of the rebuild: what fits, its numbers."""
    tread, gap = data.locomotive.driver_diameter.value, data.envelope.gap.value
    rise = data.envelope.shaft_height.value - tread / 2
    near = data.planned.flywheel.overhang.value - data.planned.flywheel.width.value / 2
    rail = HALF / 64
    for motor in data.stock.motors:
        span = motor.bearing_span.value if motor.bearing_span else 0.8 * motor.body_length.value
        for gears in data.stock.gear_sets:
            m = gears.module.value if gears.module else 25.4e-3 / gears.diametral_pitch
            teeth = [t for t in (gears.idler_teeth, gears.wheel_teeth) if t]
            down = (gears.worm_diameter.value - 2 * m + m * teeth[0]) / 2
            link = m * sum(teeth) / 2 if len(teeth) == 2 else 0.0
            meets = abs(rise - down) <= link + 0.25 * m * len(teeth) + 1e-9
            clear = tread / 2 - m * (teeth[-1] + 2) / 2 >= gap - 1e-9
            thread = WormTable(
                material=gears.worm_material, starts=gears.starts, module=Reading(m),
                outside_diameter=gears.worm_diameter, length=gears.worm_length, bore=gears.worm_bore,
                end_play=data.planned.worm.end_play, thrust_bearing="ball",
            )  # fmt: skip
            train = [
                GearTable(name="gear", teeth=t, material=gears.gear_material,
                          outside_diameter=Reading(m * (t + 2)), face_width=gears.face_width,
                          total_runout=mm(0.02))
                for t in teeth
            ]  # fmt: skip
            update = {"motor": motor, "worm": thread, "gears": train, "flywheel": None}
            bare = data.planned.model_copy(update=update)
            for bar, outer, width in wheels_by_loop(data, step):
                state = bare
                if bar:
                    wheel = FlywheelTable(
                        material=bar.material, outside_diameter=Reading(outer), width=Reading(width),
                        bore=motor.shaft_diameter, off_center=mm(0.0), bearing_span=Reading(span),
                        overhang=Reading(near + width / 2),
                    )  # fmt: skip
                    state = bare.model_copy(update={"flywheel": wheel})
                known = Knowledge(data.model_copy(update={"planned": state}), Spread(draws=2))
                drive, top = known.planned, known.planned.motor_speed_at(12.0)[0]
                lies = [
                    layout.lay(state, body_of(data), n, way)
                    for n in range(len(data.locomotive.driver_axles)) for way in (True, False)
                ]  # fmt: skip
                room = any(min(one.least, one.end_room) >= gap - 1e-9 for one in lies)
                whirl = True
                if bar:
                    mass = pi / 4 * (outer**2 - motor.shaft_diameter.value**2) * width
                    mass *= stock.Material(bar.material).density
                    bend = 3 * pi / 64 * 200e9 * motor.shaft_diameter.value**4
                    over = near + width / 2
                    whirl = top <= 0.7 * np.sqrt(bend / (mass * over**2 * (span + over)))
                bores = motor.shaft_diameter.value <= gears.worm_bore.value
                from_rail = min(rail, drive.rail_speed(top)[0])
                at_six = drive.rail_speed(drive.motor_speed_at(6.0))
                yield (
                    meets and clear and room and whirl and bores,
                    {
                        "start": drive.starting_voltage[0],
                        "top": abs(drive.speed_at(12.0)[0] / (2 * HALF) - 1),
                        "coast": drive.coast(from_rail)[0],
                        "coast_on": drive.coast(at_six)[0],
                        "creep": drive.speed_at(drive.starting_voltage)[0],
                    },
                )


def wheels_by_loop(data, step):
    yield None, 0.0, 0.0
    for bar in data.stock.bars:
        for i in range(100):
            for j in range(100):
                outer, width = i * step, j * step
                fits = outer <= bar.diameter.value - 0.3e-3 and width <= bar.length.value - 2.5e-3
                if fits and outer >= 6e-3 and 3e-3 <= width <= 1.5 * outer + 1e-9:
                    yield bar, outer, width


def test_all_at_once_is_what_a_plain_loop_finds():
    """Flywheel steel of 200 GPa, as the table of materials has it."""
    data = with_stock(motors=(0, 2, 5), sets=(0, 4, 5), gap=mm(1.2))
    found = choose.choose(data, step=4e-3)
    fits, numbers = zip(*by_loop(data, 4e-3), strict=True)
    assert found.envelope.fits.ravel().tolist() == list(fits)
    assert 10 < sum(fits) < len(fits) - 10
    every = choose.Place(*np.indices(found.envelope.shape).reshape(3, -1))
    asked = found.ask(numbers[0], every, speed=HALF, voltage=6.0)
    for aim, values in asked.items():
        np.testing.assert_allclose(values, [one[aim] for one in numbers], rtol=1e-9, err_msg=aim)
    rows = found.running(every, speed=HALF, voltage=6.0).ask(AIMS)
    for aim, values in found.ask(AIMS, every, speed=HALF, voltage=6.0).items():
        np.testing.assert_allclose(values, rows[aim], rtol=1e-12, err_msg=aim)


def test_one_drive_by_hand():
    """The demo's motor and gears with a 16 by 12 mm wheel, on paper; friction in the middle of its band."""
    data = with_stock(motors=(0,), sets=(0,), bars=((17.0, 15.0),))
    found = choose.choose(data, step=4e-3)
    cut = np.flatnonzero((found.cuts.outer == 16e-3) & (found.cuts.width == 12e-3))
    place = choose.Place(np.zeros(1, int), np.zeros(1, int), cut)
    run = found.running(place)
    meter = known_of(data).numbers  # its errors, as the readings tell them
    volts, ohms = 12 / meter.volts[0] - 12 * 0.008, 22 / meter.ohms[0]  # brushes drop 0.8 %
    constant = (volts - 8.7e-3 / meter.amps[0] * ohms) / (8090 * 2 * pi / 60)
    assert run.drive.motor.torque_constant[0] == pytest.approx(constant, rel=1e-3)
    wheel = pi * 8490 * 12e-3 / 32 * (16e-3**4 - 2e-3**4)
    assert run.drive.turning_inertia[0] == pytest.approx(wheel + 0.8e-7, rel=1e-3)
    # friction as measured on the old pair, times the root of what the tables say of both
    before = known_of(data).before
    lead, across, straight = atan(0.4 / 6.0), cos(radians(20)), (0.93 * 0.98) ** 0.5
    plain, ball = (
        rub * (6.8 - 4.4 * 0.4 + bore) / 4 / (3.0 * tan(lead))
        for rub, bore in ((0.10, 2.0), (0.003, 3.175))
    )
    own = 1 / (straight / float(before.efficiency[0]) - plain)
    old = across * tan(lead) * (1 - own) / (own + tan(lead) ** 2)
    roots = [
        np.prod(bands) ** 0.25
        for bands in (tabled("brass on brass", "starved"), tabled("acetal on steel", "greased"))
    ]
    new = old * roots[1] / roots[0]
    worm = (across - new * tan(lead)) / (across + new / tan(lead))
    assert run.drive.efficiency[0] == pytest.approx(straight / (1 / worm + ball), rel=1e-3)
    assert run.pull()[0] == pytest.approx(float(before.pull_at_slip[0]))  # the wheels slip first
    end = 68.0 - (0.0 + 4 + 3 + 12 + 3 + 24)  # behind the first axle: worm, wall, wheel, gap, motor
    assert run.room()[0] <= (end - 1.0) * 1e-3 + 1e-9


def test_life_is_the_ratio_of_wear_rates_where_nothing_else_differs():
    """The old brass set under the planned grease, against itself as it is, starved."""
    found = choose.choose(with_stock(sets=(1,)), step=4e-3)
    before, after = (
        np.prod(wearing.grease_band("brass", "brass", grease)) ** 0.5
        for grease in ("starved", "greased")
    )
    assert found.ask(["life"])["life"][0] == pytest.approx(before / after, rel=1e-6)


# -- inside the envelope -----------------------------------------------------------------


@settings(max_examples=8, deadline=None)
@given(
    start=st.floats(-40, 0), end=st.floats(20, 80), bore=st.floats(14, 26), gap=st.floats(0.2, 3)
)
def test_what_fits_lies_in_the_boiler(start, end, bore, gap):
    data = with_stock(rooms=boiler(start, end, bore), gap=mm(gap))
    found = choose.choose(data, step=4e-3)
    up = abs(25.2e-3 - 26.3e-3)
    for place in zip(*found.fitting, strict=True):
        for item in found.layout(choose.Place(*place)).items:
            assert item.start >= start * 1e-3 - 1e-9
            assert item.end <= end * 1e-3 + 1e-9
            assert item.diameter / 2 + up + gap * 1e-3 <= bore * 1e-3 / 2 + 1e-8


def test_wheels_come_out_of_their_bars_and_no_step_is_finer_than_the_lathe():
    found = choose.choose(with_stock(motors=(0,), sets=(0,)), step=1e-6)
    assert found.step >= 2 * DEMO.instruments.lathe.value
    assert found.tried <= choose.MOST
    for n, bar in enumerate(found.sheet.stock.bars):
        mine = found.cuts.bar == n
        assert mine.any()
        assert found.cuts.outer[mine].max() < bar.diameter.value
        assert found.cuts.width[mine].max() < bar.length.value


# -- the front of drives -----------------------------------------------------------------


@pytest.fixture(scope="module")
def found():
    return choose.choose(with_stock(), step=2e-3)


def test_no_drive_that_fits_beats_one_on_the_front(found):
    aims = ("creep", "coast", "room", "life")
    best = ranking.front_of(found, aims)
    everyone = points(found.ask(aims))
    for row in points(found.ask(aims, best.place)):
        assert not ((everyone <= row).all(axis=1) & (everyone < row).any(axis=1)).any()
    assert 1 < len(best) < len(everyone)


def test_the_first_aim_named_leads():
    found = choose.choose(with_stock(), step=4e-3)
    for aim in ("coast", "start", "room"):
        best = ranking.front_of(found, (aim, "creep"))
        values = found.ask([aim])[aim]
        extreme = values.max() if AIMS[aim].more else values.min()
        assert best.low[aim][0] <= extreme <= best.high[aim][0]


def test_a_reshuffled_stock_changes_nothing():
    def said(data):
        best = ranking.front_of(choose.choose(data, step=3e-3), ("creep", "coast", "life"))
        seen = choose.choose(data, step=3e-3)
        names = [chosen.parts_of(seen, best.at(row)) for row in range(len(best))]
        return names, [(best.values[a].tolist(), best.low[a].tolist()) for a in best.aims]

    bars = ((12.0, 9.0), (19.3, 17.0))
    one, other = with_stock(bars=bars), with_stock(motors=(4, 0, 2), sets=(5, 1, 0, 4), bars=bars)
    back = other.stock.model_copy(update={"bars": other.stock.bars[::-1]})
    assert said(one) == said(other.model_copy(update={"stock": back}))


def test_what_is_alike_is_said_to_be_alike(found):
    best = ranking.front_of(found, ("creep", "life"))
    assert best.alike(0, 0) == ["creep", "life"]
    assert best.kept[0]
    far = (
        {"creep": np.array([1.0, 2.0])},
        {"creep": np.array([0.9, 1.9])},
        {"creep": np.array([1.1, 2.1])},
    )
    assert not ranking.Front(("creep",), best.place, *far, best.kept).alike(0, 1)


def test_a_drive_that_cannot_be_told_apart_is_not_listed_twice(found):
    best = ranking.front_of(found, ("coast", "creep"))
    for row in np.flatnonzero(~best.kept):
        assert any(len(best.alike(first, row)) == 2 for first in np.flatnonzero(best.kept))


# -- nothing to choose -------------------------------------------------------------------


@pytest.mark.parametrize("missing", ["motors", "gear_sets"])
def test_a_stock_without_a_kind_names_the_key_to_fill(missing):
    data = with_stock()
    empty = data.stock.model_copy(update={missing: []})
    with pytest.raises(
        stock.NothingToChoose, match=rf"^stock\.{missing}: .*\[\[stock\.{missing}\]\]$"
    ):
        choose.choose(data.model_copy(update={"stock": empty}))


def test_without_bars_there_are_drives_without_a_flywheel():
    found = choose.choose(with_stock(bars=()), step=2e-3)
    assert len(found.cuts) == 1 and len(found.fitting.motor) > 0
    assert chosen.parts_of(found, ranking.front_of(found, ("start",)).at(0))[2] == "no flywheel"


def test_where_nothing_fits_the_nearest_says_what_would_free_it():
    """The worm of the 38 : 1 set leans 4 mm ahead of its axle: of 22 mm of boiler it lacks little."""
    short = with_stock(bars=(), rooms=boiler(0.0, 22.0))
    found = choose.choose(short, step=2e-3)
    words = chosen.nothing_fits(found)
    assert "nothing fits" in words and "more length" in words
    lack = read(words.rpartition(": ")[2].removesuffix(" more length").replace("\u00a0", " "), "m")
    enough = with_stock(bars=(), rooms=boiler(0.0, 22.0 + lack.value * 1e3))
    assert len(choose.choose(enough, step=2e-3).fitting.motor) > 0
    less = with_stock(bars=(), rooms=boiler(0.0, 22.0 + lack.value * 1e3 - 0.02))
    assert not len(choose.choose(less, step=2e-3).fitting.motor)
    assert len(ranking.front_of(found, ("creep", "coast"))) == 0


def test_where_two_limits_forbid_everything_both_are_named():
    data = with_stock(sets=(5,), rooms=boiler(0.0, 22.0))
    words = chosen.nothing_fits(choose.choose(data, step=4e-3))
    assert "no one change frees any" in words and "do not reach" in words and "too long" in words


# -- the command -------------------------------------------------------------------------


def test_the_command_shows_the_front(tmp_path, capsys):
    text = sheet.DEMO.read_text("utf-8").replace('lathe = "0.02 mm"', 'lathe = "1 mm"')
    (tmp_path / "engine.toml").write_text(text, "utf-8")
    assert chosen.main(tmp_path / "engine.toml", ("coast", "creep")) == 0
    said = capsys.readouterr().out
    for words in (
        "drives tried",
        "steps of 2 mm",
        "fit.",
        "no difference that you could",
        "at 6.0\u00a0V: runs",
    ):
        assert words in said
    assert chosen.main(tmp_path / "engine.toml", ("speed",)) == 1
    assert "one of start, creep" in capsys.readouterr().err


def test_a_sheet_without_stock_still_loads_and_says_which_key(tmp_path, capsys):
    text = sheet.DEMO.read_text("utf-8")
    first, last = (
        text.index("# ---- what lies in the drawer"),
        text.index("# ---- what was measured, before"),
    )
    path = tmp_path / "engine.toml"
    path.write_text(text[:first] + text[last:], "utf-8")
    assert sheet.load(path).data.stock == StockTable()
    assert chosen.main(path) == 1
    error = capsys.readouterr().err
    assert error.count("\n") == 1 and str(path) in error and "[[stock.motors]]" in error
