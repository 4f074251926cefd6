"""Whatever is written behind a number as its +/- reaches an answer, or stands here with its reason."""

import pytest

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import findings, fittings, placing, plan, rebuild
from mechkit.drive.decisions.decision import answered
from mechkit.drive.model.spread import Band, Spread
from mechkit.drive.sheet.keys import keys, tables
from mechkit.units import Reading

#: Few: it is asked whether a band moves, not how wide it is.
DRAWS = 60
SHEET = sheet.demo().with_value("as_is.motor.starting_voltage", "0.9 V")
BENCH = SHEET.data
#: The same engine with a box for a boiler.
BOX = {
    "shape": "box", "bottom": "15.8 mm", "top": "36.8 mm", "width": "21 mm",
    "height": None, "diameter": None,
}  # fmt: skip
SETTING = "how the layout is worked, not what was read of it"
DOUBT = "is itself the doubt of what is read with it"
#: Keys whose spread changes no number of the page, and why.
SILENT = {
    "locomotive.top_speed": "a wish: the speed that the model should reach",
    "locomotive.length": "only makes a limit: a quarter of what looks like weight",
    "supply.voltage": f"{SETTING}: every answer is asked at it",
    **{
        f"instruments.{key}": DOUBT
        for key, one in keys(tables()["instruments"]).items()
        if one.range
    },
    "track.gauge": "only picks the standard of the frogs",
    "track.grade": f"{SETTING}; it makes a whole number of cars",
    "track.car_weight": "only makes a whole number of cars",
    "planned.motor.inductance": "of pulses, and the demo runs on direct current",
    "supply.frequency": "of pulses, and the demo runs on direct current",
    "as_is.motor.body_diameter": "nothing is laid out as it is, and the rotor was measured",
    "as_is.worm.length": "the old worm wears over three pitches, and is longer",
    "as_is.gears.face_width": "wear is known within a factor of ten: the face counts as read",
    "as_is.mesh.worm_backlash": "felt on few engines: below",
    "planned.mesh.worm_backlash": "felt on few engines: below",
    **dict.fromkeys(
        (
            "locomotive.rods_apart",
            "locomotive.rod_depth",
            "envelope.frame.top",
            "envelope.frame.width",
            "envelope.frame.from",
            "envelope.frame.to",
        ),
        "of what stands beside the drive, which the demo's comes nowhere near",
    ),
    "planned.hub.length": "a size to be turned: what the lathe holds counts",
    "planned.hub.outside": "a size to be turned: what the lathe holds counts",
    "planned.bearings.outside": "only picks the bearing's row of the table",
    "planned.ground_pin.outside": "ground to a grade, which is its band",
    "envelope.rooms.bottom": "of a box: below",
    "envelope.rooms.top": "of a box: below",
    "envelope.rooms.width": "of a box: below",
    "measured_before.runs.pull": "not counted: a weight on a string is weighed finer than a meter reads",
    "measured_after.runs.pull": "not counted: a weight on a string is weighed finer than a meter reads",
}


def quantities(model, loc=()):
    """Every place of a sheet with a quantity that is not nothing: path and reading."""
    for name, field in type(model).model_fields.items():
        yield from _inside(getattr(model, name), (*loc, field.alias or name))


def _inside(value, loc):
    if isinstance(value, Reading) and value.value:
        yield loc, value
    elif isinstance(value, list):
        for place, each in enumerate(value):
            yield from _inside(each, (*loc, place))
    elif hasattr(value, "model_fields_set"):
        yield from quantities(value, loc)


def doubted(part, loc, share=0.1):
    """The same with a +/- of a share behind the number at a place."""
    if not loc:
        return Reading(part.value, share * abs(part.value), part.text)
    first, *rest = loc
    if isinstance(first, int):
        return [doubted(each, rest, share) if n == first else each for n, each in enumerate(part)]
    name = next(n for n, f in type(part).model_fields.items() if (f.alias or n) == first)
    return part.model_copy(update={name: doubted(getattr(part, name), rest, share)})


def of(known, state):
    """The headline numbers of the drive in a state."""
    drive = getattr(known, state)
    for key, (_, kind, ask) in rebuild.quantities(known).items():
        yield f"{key}, {state}", known.spread.band(ask(drive), kind)


def stands(known):
    """What the drivers stand on."""
    for ask in (fittings.sag, fittings.solid, fittings.share):
        yield f"springs, {ask.__name__}", ask(known)


def fits(known):
    """Decisions that need no drive."""
    for ask in (placing.axle, fittings.press, findings.quartering, fittings.true, plan.mesh):
        yield f"{ask.__module__}, {ask.__name__}", ask(known)


def decided(known):
    """All decisions."""
    yield from (
        ("wrong", findings.find(known)),
        ("changes", answered(known, "change", rebuild.changes_asked(known))),
    )


GROUPS = {
    "stands": stands,
    "fits": fits,
    "before": lambda known: of(known, "before"),
    "planned": lambda known: of(known, "planned"),
    "after": lambda known: of(known, "after"),
    "decided": decided,
}
#: Where a key most likely speaks, by how it begins.
LIKELY = {
    "measured_before": "before", "measured_after": "after", "as_is.motor": "before",
    "planned.motor.body": "fits", "planned.motor": "planned", "planned": "fits", "envelope": "fits",
}  # fmt: skip


def answers(known, key):
    """The page's numbers with their bands, the likeliest to speak of a key first."""
    likely = next((LIKELY[start] for start in LIKELY if key.startswith(start)), "stands")
    if key.startswith("planned.springs"):
        likely = "stands"
    for group in sorted(GROUPS, key=lambda name: name != likely):
        yield from GROUPS[group](known)


def key_of(loc):
    return ".".join(part for part in loc if isinstance(part, str))


PLACES = {}
for one, _ in quantities(BENCH):
    if one[0] != "stock":  # the drawer is chosen from elsewhere
        PLACES.setdefault(key_of(one), []).append(one)


def numbers(answer):
    """Values, bands and verdicts; what a band comes from hangs on what was drawn before it."""
    if isinstance(answer, list):
        return [numbers(each) for each in answer]
    if isinstance(answer, Band):
        return answer.value, answer.low, answer.high
    bands = [numbers(one) for one in answer.numbers.values() if isinstance(one, Band)]
    return numbers(answer.value), numbers(answer.limit), answer.kept, answer.key, sorted(bands)


@pytest.fixture(scope="module")
def plain():
    """Answers of the sheet as it is."""
    known = Knowledge(BENCH, Spread(draws=DRAWS))
    return {name: numbers(answer) for name, answer in answers(known, "")}


def reaches(loc, plain, share=0.1) -> str:
    """The first answer that a +/- behind the number at a place changes."""
    known = Knowledge(doubted(BENCH, loc, share), Spread(draws=DRAWS))
    for name, answer in answers(known, key_of(loc)):
        if numbers(answer) != plain[name]:
            return name
    return ""


@pytest.mark.parametrize("key", [key for key in PLACES if key not in SILENT])
def test_a_written_spread_reaches_an_answer(key, plain):
    assert any(reaches(loc, plain) for loc in PLACES[key])


@pytest.mark.parametrize("key", ["planned.springs.wire_diameter", "measured_after.runs.time"])
def test_the_same_sheet_again_changes_nothing(key, plain):
    loc = PLACES[key][0]
    written = next(reading for at, reading in quantities(BENCH) if at == loc)
    assert not reaches(loc, plain, written.spread / abs(written.value))


@pytest.mark.parametrize("key", ["bottom", "top", "width"])
def test_so_does_one_behind_the_sizes_of_a_box(key):
    # each in turn is the nearest side
    near = {"bottom": "16.2 mm", "top": "34 mm", "width": "17.6 mm"}
    box = SHEET.with_values(
        {f"envelope.rooms[1].{name}": value for name, value in (BOX | {key: near[key]}).items()}
    ).data
    room = {(at[-1], at[-2]): at for at, _ in quantities(box) if "rooms" in at}[key, 0]
    was, now = (
        placing.axle(Knowledge(data, Spread(draws=DRAWS)))[0].value
        for data in (box, doubted(box, room))
    )
    assert now.high - now.low > 2 * (was.high - was.low)


@pytest.mark.parametrize(
    ("state", "ask"), [("as_is", findings.jam), ("planned", plan.mesh)], ids=["as_is", "planned"]
)
def test_so_does_one_behind_the_backlash_at_the_worm(state, ask):
    felt = SHEET.with_value(f"{state}.mesh.worm_backlash", "0.05 +/- 0.001 mm").data
    was, now = (
        numbers(ask(Knowledge(data, Spread(draws=DRAWS))))
        for data in (felt, doubted(felt, (state, "mesh", "worm_backlash"), 0.4))
    )
    assert was != now


def test_no_quantity_of_the_schema_is_forgotten():
    """A key that the demo does not have stands in its other state, or in the list."""
    for name, table in tables().items():
        for key, one in keys(table).items():
            loc = f"{name}.{key}".replace("[]", "")
            if one.range and not loc.startswith("stock"):
                sisters = {loc.replace(*pair) for pair in (("as_is", "planned"), ("planned", "as_is"),
                           ("before", "after"), ("after", "before"), (".time", ".distance"))}  # fmt: skip
                assert {loc, *sisters} & {*PLACES, *SILENT}, loc
