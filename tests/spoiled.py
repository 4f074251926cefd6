"""The demo's bench sheet, spoiled in the ways that hands and programs spoil files.

`SPOILED` is for every door through which a sheet comes in: each entry makes one bad file
and says what the one line must contain.
"""

import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from mechkit.drive.sheet import DEMO

TEXT = DEMO.read_text("utf-8")


@dataclass(frozen=True)
class Spoiled:
    """One way to spoil a sheet."""

    name: str
    #: Makes the file (or whatever else stands there) at the path.
    spoil: Callable[[Path], None]
    contains: tuple[str, ...]

    def make(self, folder: Path) -> Path:
        """The spoiled sheet in a folder."""
        path = folder / "engine.toml"
        self.spoil(path)
        return path


def swap(*pairs, table="", text=TEXT):
    """The sheet with a pattern replaced, once, behind the first mention of ``table``.

    What does not occur would spoil nothing, so it is refused.
    """
    for old, new in pairs:
        start = text.index(table)
        changed, times = re.subn(old, lambda _, new=new: new, text[start:], count=1, flags=re.M)
        assert times == 1, f"{old} does not occur behind {table!r}"
        text = text[:start] + changed
    return text


def put(key, value, table):
    """Another value for a key; the old line's comment goes."""
    return swap((rf"^{key} = .*$", f"{key} = {value}"), table=table)


def line_of(text, part):
    """The number of the first line that holds ``part``."""
    return next(n for n, line in enumerate(text.splitlines(), 1) if part in line)


def _text(name, text, *contains):
    return Spoiled(name, lambda path: path.write_bytes(text.encode("utf-8")), contains)


def _raw(name, raw, *contains):
    return Spoiled(name, lambda path: path.write_bytes(raw), contains)


def _other(name, spoil, *contains):
    return Spoiled(name, spoil, contains)


def _value(name, table, key, value, *contains):
    """One value spoiled: the line must name the key with its table and its line number."""
    text = put(key, value, table)
    number = TEXT.count(
        "\n", 0, re.compile(rf"^{key} = ", re.M).search(TEXT, TEXT.index(table)).start()
    )
    return _text(name, text, f"line {number + 1}:", f"{table.strip('[]')}.{key}", *contains)


def _huge(path):
    """More than a megabyte of comments."""
    path.write_bytes(TEXT.encode("utf-8") + b"# padding\n" * 120_000)


SPOILED = [
    # -- the file -----------------------------------------------------------------------
    _other("missing file", lambda path: None, "engine.toml", "is not there"),
    _other("missing file, another near", lambda path: path.with_name("engines.toml").write_text(TEXT),
           "is not there", "did you mean engines.toml?"),
    _other("folder", lambda path: path.mkdir(), "engine.toml", "folder"),
    _raw("empty", b"", "engine.toml", "empty", "blank_sheet.toml"),
    _raw("only a comment", b"# later\n\n", "empty"),
    _raw("binary", bytes(range(256)) * 20, "binary"),
    _raw("UTF-16", TEXT.encode("utf-16"), "UTF-16", "UTF-8"),
    _raw("UTF-16 without a mark", TEXT.encode("utf-16-le"), "UTF-16"),
    _raw("Latin-1", swap(("two seconds", "ein µ")).encode("latin-1"),
         f"line {line_of(TEXT, 'two seconds')}", "0xb5", "not UTF-8"),
    _other("huge", _huge, "larger than 200 kB"),
    # -- the layout ---------------------------------------------------------------------
    _text("cut in a string", TEXT[: TEXT.index('"16.0 mm"') + 5], "column", "ends too early"),
    _text("cut in a table", TEXT[: TEXT.index("[planned.worm]") + 9], "column", "ends too early"),
    _text("key twice", swap((r"^starts = 1$", "starts = 1\nstarts = 2"), table="[as_is.worm]"),
          f"line {line_of(TEXT, '[as_is.worm]') + 3}", "starts", "twice"),
    _text("table twice", TEXT + "\n[track]\n", "[track]", "twice"),
    _text("very long line", TEXT + "x = " + "[" * 100_000, "100004 characters"),
    _text("brackets without end", TEXT + "x = " + "[\n" * 50_000, "too deep"),
    _text("quote left open", put("width", '"12.0 mm', "[planned.flywheel]"),
          f"line {line_of(TEXT, '[planned.flywheel]') + 3}", "width", "closing quote"),
    _text("curly quotes", put("width", "“12.0 mm”", "[planned.flywheel]"), "width", "straight quotes"),
    _text("quantity without quotes", put("width", "12.0 mm", "[planned.flywheel]"), "width", "in quotes"),
    _text("bare decimal comma", put("scale", "87,1", "[locomotive]"), "scale", "dot"),
    _text("nothing behind the equals sign", put("width", "", "[planned.flywheel]"), "width"),
    _text("True with a capital", put("insulated", "True", "[planned.motor]"), "insulated", "small letters"),
    # -- keys ---------------------------------------------------------------------------
    _text("key misspelled", swap((r"^weight = ", "wieght = ")),
          f"line {line_of(TEXT, 'weight = ')}", "locomotive.wieght", "did you mean weight?"),
    _text("key in another table", swap((r"^starts = 1$", "starts = 1\nteeth = 20"), table="[planned.worm]"),
          "planned.worm.teeth", "teeth is a key of [planned.gears[]]"),
    _text("unknown table", TEXT + "\n[tender]\nwheels = 8\n", "tender", "planned"),
    _text("key missing that nothing stands in for", swap((r"^weight = .*\n", ""), table="[locomotive]"),
          f"line {line_of(TEXT, '[locomotive]')}", "locomotive.weight is missing", "mass"),
    _text("several mistakes", swap((r'^width = .*$', "width = 12"), (r'^bore = "2.0 mm"$', "bore = 2"),
          (r"^overhang = .*$", "overhang = 9"), (r"^bearing_span = .*$", "bearing_span = 21"),
          table="[planned.flywheel]"), "planned.flywheel.width", "(and 3 more)"),
    # -- values -------------------------------------------------------------------------
    _value("unit missing", "[planned.flywheel]", "width", '"12.0"', "'12.0'", "no unit", "2.0 mm"),
    _value("number without quotes", "[planned.flywheel]", "width", "12.0", "no unit", "quotes"),
    _value("unit unknown", "[planned.flywheel]", "width", '"12.0 mmm"', "'mmm'", "did you mean mm?"),
    _value("unit of another kind", "[planned.flywheel]", "width", '"12.0 g"', "'12.0 g'", "mass", "length"),
    _value("length for a force", "[measured_before]", "drawbar_pull", '"64 mm"', "length", "force", "gf"),
    _value("hertz for rpm", "[locomotive]", "top_speed", '"30 Hz"', "frequency", "speed"),
    _value("decimal comma", "[planned.flywheel]", "width", '"12,0 mm"', "'12,0 mm'", "comma"),
    _value("negative", "[planned.flywheel]", "width", '"-12.0 mm"', "'-12.0 mm'", "more than 0"),
    _value("zero", "[planned.flywheel]", "width", '"0 mm"', "'0 mm'", "more than 0"),
    _value("not a number", "[track]", "adhesion", "nan", "nan"),
    _value("infinite", "[track]", "adhesion", "inf", "inf"),
    _value("infinite scale", "[locomotive]", "scale", "inf", "above 1 to 300"),
    _value("beyond all numbers", "[planned.flywheel]", "width", '"1e999 mm"', "1e999"),
    _value("exponent bomb", "[planned.flywheel]", "width", '"2 m**99999999"', "m**99999999"),
    _value("absurd driver", "[locomotive]", "driver_diameter", '"16 m"', "'16 m'", "200 mm"),
    _value("text for a count", "[planned.worm]", "starts", '"1"', "'1'", "whole number from 1 to 6"),
    _value("half a thread", "[planned.worm]", "starts", "1.5", "1.5", "whole number"),
    _value("text for yes or no", "[planned.motor]", "insulated", '"true"', "true or false"),
    _value("number for text", "[planned.motor]", "kind", "1", "iron core"),
    _value("word not known", "[planned.worm]", "material", '"stel"', "'stel'", 'did you mean "steel"?'),
    _value("list for one value", "[planned.flywheel]", "width", '["12 mm"]', "a list"),
    _value("one value for a list", "[planned.motor]", "resistance", '"22 ohm"', "'22 ohm'", "square brackets"),
    _value("one reading of a list", "[planned.motor]", "resistance", '["22 ohm", "22"]',
           "planned.motor.resistance[2]", "'22'", "no unit"),
    _value("date", "[planned.flywheel]", "width", "2026-01-02", "date", "2026-01-02"),
    _value("blank", "[planned.flywheel]", "width", '""', "blank"),
    _value("code", "[planned.flywheel]", "width", """'__import__("os").remove("engine.toml")'""", "length"),
    _text("second gear", put("teeth", "3", 'name = "axle gear"'), "as_is.gears[2].teeth = 3",
          "whole number from 6 to 200"),
    _text("stock, key misspelled", swap((r"^wheel_teeth = 30$", "weel_teeth = 30"), table="[[stock.gear_sets]]"),
          "stock.gear_sets[1].weel_teeth", "did you mean wheel_teeth?"),
    _text("stock, unit of another kind", put("diameter", '"16 g"', "[[stock.bars]]"),
          "stock.bars[1].diameter", "'16 g'", "mass", "length"),
    _text("stock, no name", swap((r"^name = .*\n", ""), table="[[stock.motors]]"),
          "stock.motors[1].name is missing", "what you call it"),
    _text("third run", put("time", '"6.9"', 'voltage = "7.98 V"'), "measured_before.runs[3].time", "'6.9'"),
]  # fmt: skip

if hasattr(os, "mkfifo"):
    SPOILED += [
        _other("pipe", lambda path: os.mkfifo(path), "engine.toml", "not an ordinary file"),
        _other("device", lambda path: path.symlink_to("/dev/zero"), "not an ordinary file"),
        _other("link to itself", lambda path: path.symlink_to(path), "cannot be read"),
    ]

#: Readings that cannot both be true: the keys and values to change, and what the line says.
CONTRADICTIONS = [
    ("more on the drivers than it weighs", {"locomotive.weight_on_drivers": "500 g"},
     ("locomotive.weight_on_drivers", '"500 g"', "locomotive.weight", '"410 +/- 2 g"')),
    ("no-load current takes all volts", {"planned.motor.no_load.current": "0.6 A"},
     ("planned.motor.no_load.current", '"0.6 A"', "planned.motor.no_load.voltage", '"12.0 V"')),
    ("stalled reading against the resistance", {"planned.motor.stall.current": "9.1 mA"},
     ("planned.motor.stall", '"9.1 mA"', "219.8 ohm", "planned.motor.resistance", '"22.1 ohm"')),
    ("armature positions", {"as_is.motor.resistance[2]": "128 ohm"},
     ("as_is.motor.resistance[2]", '"128 ohm"', "as_is.motor.resistance[4]", '"12.9 ohm"')),
    ("bore through the worm", {"as_is.worm.bore": "7 mm"},
     ("as_is.worm.bore", '"7 mm"', "as_is.worm.outside_diameter", '"6.8 mm"')),
    ("bore into the threads", {"as_is.worm.bore": "5.2 mm"},
     ("as_is.worm.bore", '"5.2 mm"', "as_is.worm.outside_diameter", '"6.8 mm"', "no metal")),
    ("bore through the flywheel", {"planned.flywheel.bore": "16 mm"},
     ("planned.flywheel.bore", '"16 mm"', "planned.flywheel.outside_diameter", '"16.0 mm"')),
    ("flywheel does not go on", {"planned.flywheel.bore": "1.5 mm"},
     ("planned.flywheel.bore", '"1.5 mm"', "planned.motor.shaft_diameter", '"2.0 mm"')),
    ("flywheel strikes", {"planned.flywheel.off_center": "1.5 mm"},
     ("planned.flywheel.off_center", '"1.5 mm"', "envelope.gap", '"1.0 mm"')),
    ("no room for a sleeve", {"planned.worm.bore": "2.0 mm"},
     ("planned.motor.shaft_diameter", '"2.0 mm"', "planned.worm.bore", "sleeve")),
    ("one tooth too many", {"planned.gears[2].teeth": 31},
     ("planned.gears[2].teeth", "31", "planned.gears[2].outside_diameter", '"12.80 mm"')),
    ("one tooth too few", {"as_is.gears[1].teeth": 19},
     ("as_is.gears[1].teeth", "19", "as_is.gears[1].outside_diameter", '"8.80 mm"')),
    ("runout beyond the teeth", {"as_is.gears[2].total_runout": "6 mm"},
     ("as_is.gears[2].total_runout", '"6 mm"', "as_is.worm.module", '"0.4 mm"')),
    ("backlash beyond the teeth", {"as_is.mesh.backlash": "5.0 mm"},
     ("as_is.mesh.backlash", '"5.0 mm"', "as_is.worm.module", '"0.4 mm"')),
    ("room inside out", {"envelope.rooms[1].to": "-20 mm"},
     ("envelope.rooms[1].to", '"-20 mm"', "envelope.rooms[1].from", '"-16 mm"')),
    ("box upside down", {"envelope.rooms[2].top": "10 mm"},
     ("envelope.rooms[2].top", '"10 mm"', "envelope.rooms[2].bottom", '"14 mm"')),
    ("round without a diameter", {"envelope.rooms[1].diameter": None},
     ("envelope.rooms[1].diameter is missing", "envelope.rooms[1].shape", '"round"')),
    ("box with a center", {"envelope.rooms[2].height": "12 mm"},
     ("envelope.rooms[2].height", '"12 mm"', "envelope.rooms[2].shape", '"box"')),
    ("shaft beside all rooms", {"envelope.shaft_height": "2.49 mm"},
     ("envelope.shaft_height", '"2.49 mm"', "envelope.rooms[1]", "15.8 mm to 36.8 mm")),
    ("sprung without a wire", {"planned.springs.wire_diameter": None},
     ("planned.springs.wire_diameter is missing", "planned.springs.kind", '"sprung"')),
    ("sprung without coils", {"planned.springs.active_coils": 0},
     ("planned.springs.active_coils", "planned.springs.kind", '"sprung"')),
    ("spring thicker than its coil",
     {"planned.springs.wire_diameter": "1.5 mm", "planned.springs.mean_diameter": "1.4 mm"},
     ("planned.springs.wire_diameter", '"1.5 mm"', "planned.springs.mean_diameter", '"1.4 mm"')),
    ("travel beyond solid", {"planned.springs.travel": "8 mm"},
     ("planned.springs.travel", '"8 mm"', "planned.springs.free_length", '"4.2 mm"')),
    ("runs faster than the volts allow", {"measured_after.runs[3].time": "1.4 s"},
     ("measured_after.runs[3].time", '"1.4 s"', '"5.96 V"', "planned.motor.no_load.speed", '"8090 rpm"')),
    ("takes less than the motor alone", {"measured_before.runs[3].current": "1.8 mA"},
     ("measured_before.runs[3].current", '"1.8 mA"', "as_is.motor.no_load.current", '"78 mA"')),
    ("takes more than stalled", {"measured_before.runs[3].current": "2 A"},
     ("measured_before.runs[3].current", '"2 A"', "measured_before.runs[3].voltage", '"7.98 V"')),
    ("pulls more than at slip", {"measured_before.runs[6].pull": "2 N"},
     ("measured_before.runs[6].pull", '"2 N"', "measured_before.drawbar_pull", '"0.63 N"')),
    ("pull against adhesion", {"measured_after.drawbar_pull": "6.4 N"},
     ("measured_after.drawbar_pull", '"6.4 N"', "track.adhesion", '"0.20 +/- 0.04"')),
    ("more volts than the throttle has", {"measured_before.coasts[1].voltage": "24 V"},
     ("measured_before.coasts[1].voltage", '"24 V"', "supply.voltage", '"12 V"')),
    ("shorted rolls farther", {"measured_after.coasts[2].distance": "400 mm"},
     ("measured_after.coasts[2].distance", '"400 mm"', "measured_after.coasts[1].distance", '"178 mm"')),
    ("a coast that nobody read", {"measured_before.coasts[2].distance": None},
     ("measured_before.coasts[2].distance is missing", "time and frames")),
    ("frames of an unknown film", {"measured_before.coasts[1].frames": 14},
     ("instruments.frame_rate is missing", "measured_before.coasts[1].frames = 14")),
    ("a coast timed twice", {"instruments.frame_rate": 30, "measured_before.coasts[1].frames": 14,
     "measured_before.coasts[1].time": "0.5 s"},
     ("measured_before.coasts[1].frames = 14", "measured_before.coasts[1].time", '"0.5 s"')),
    ("stock, two motors of one name", {"stock.motors[3].name": "ironless 16 by 24"},
     ("stock.motors[3].name", '"ironless 16 by 24"', "stock.motors[1].name")),
    ("stock, module twice", {"stock.gear_sets[5].module": "0.4 mm"},
     ("stock.gear_sets[5].diametral_pitch = 64", "stock.gear_sets[5].module", '"0.4 mm"')),
    ("stock, no module", {"stock.gear_sets[1].module": None},
     ("stock.gear_sets[1].module is missing", "diametral_pitch")),
    ("stock, gears that do not meet", {"stock.gear_sets[1].center_distance": "7.9 mm"},
     ("stock.gear_sets[1].center_distance", '"7.9 mm"', "stock.gear_sets[1].idler_teeth = 20", "7 mm")),
    ("stock, motor takes all volts", {"stock.motors[1].no_load.current": "0.6 A"},
     ("stock.motors[1].no_load.current", '"0.6 A"', "stock.motors[1].no_load.voltage")),
    ("center of gravity behind the drivers", {"locomotive.center_of_gravity": "60 mm"},
     ("locomotive.center_of_gravity", '"60 mm"', "locomotive.driver_axles[3]", '"44 mm"')),
    ("center of gravity ahead of the drivers", {"locomotive.center_of_gravity": "-5 mm"},
     ("locomotive.center_of_gravity", '"-5 mm"', "locomotive.driver_axles[1]", '"0 mm"')),
    ("drivers overlap", {"locomotive.driver_axles[2]": "12 mm"},
     ("locomotive.driver_axles[2]", '"12 mm"', "locomotive.driver_diameter", '"16.2 +/- 0.05 mm"')),
    ("axles out of order", {"locomotive.driver_axles[3]": "20 mm"},
     ("locomotive.driver_axles[3]", '"20 mm"', "locomotive.driver_axles[2]", '"22 mm"')),
    ("driver against scale", {"locomotive.scale": 6.4},
     ("locomotive.driver_diameter", '"16.2 +/- 0.05 mm"', "locomotive.scale", "6.4", "0.10 m")),
    ("wheels wider than the rails", {"locomotive.back_to_back[2]": "13.6 mm"},
     ("locomotive.back_to_back[2]", '"13.6 mm"', "track.gauge", '"0.570 in"', '"0.76 mm"')),
    ("backs as far apart as the rails", {"locomotive.back_to_back[1]": "14.6 mm",
     "locomotive.flange_width": None}, ("locomotive.back_to_back[1]", '"14.6 mm"', "track.gauge")),
    ("flange as wide as the track", {"locomotive.flange_width": "15 mm"},
     ("locomotive.flange_width", '"15 mm"', "track.gauge", '"0.570 in"')),
    ("crankpin outside the tread", {"locomotive.crank_throw": "9 mm"},
     ("locomotive.crank_throw", '"9 mm"', "locomotive.driver_diameter", '"16.2 +/- 0.05 mm"')),
]  # fmt: skip
