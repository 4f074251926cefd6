"""The bench sheet: changed with its comments kept, written whole or not at all, never lost."""

import errno
import os
import stat
import threading
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from mechkit import units
from mechkit.drive.sheet import DEMO, SheetError, demo, keys, load, store
from mechkit.drive.sheet.faults import line_numbers
from tests.test_spoiled_sheets import place

TEXT = DEMO.read_text("utf-8")


@pytest.fixture
def path(tmp_path):
    copy = tmp_path / "engine.toml"
    copy.write_bytes(DEMO.read_bytes())
    return copy


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def changed_lines(old, new):
    old, new = old.splitlines(), new.splitlines()
    assert len(old) == len(new)
    return [(a, b) for a, b in zip(old, new, strict=True) if a != b]


# -- reading ----------------------------------------------------------------------------


def test_demo_is_read_in_si():
    data = demo().data
    assert data.planned.flywheel.width.value == pytest.approx(0.012)
    assert data.locomotive.weight.value == pytest.approx(0.410)
    assert data.locomotive.weight.spread == pytest.approx(0.002)
    assert data.envelope.rooms[0].start.value == pytest.approx(-0.016)
    assert data.as_is.motor.no_load.speed.value == pytest.approx(15100 * 2 * 3.14159265 / 60)


def test_demo_missing(monkeypatch, tmp_path):
    monkeypatch.setattr(store, "DEMO", tmp_path / "ten_wheeler.toml")
    with pytest.raises(SheetError, match=r"ten_wheeler\.toml is not there"):
        demo()


def test_sheet_is_frozen():
    bench = demo()
    with pytest.raises(AttributeError):
        bench.text = ""
    with pytest.raises(ValidationError):
        bench.data.locomotive.scale = 1


def test_sheet_stays_where_it_was_loaded(path, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    bench = load("engine.toml").with_value("locomotive.scale", 48)
    (tmp_path / "else").mkdir()
    monkeypatch.chdir(tmp_path / "else")
    assert bench.save() == path
    assert names(tmp_path / "else") == []
    assert "Quillback" not in repr(bench)


def test_byte_order_mark_is_accepted_and_kept(path):
    path.write_bytes(b"\xef\xbb\xbf" + DEMO.read_bytes())
    load(path).with_value("locomotive.scale", 48).save()
    assert path.read_bytes().startswith(b"\xef\xbb\xbf")
    assert load(path).data.locomotive.scale == 48


def test_line_numbers_in_odd_layouts():
    text = 'title = """\n[track]\nscale = 1\n"""\n[a.b] # c\n"x y" = 1\n[[c]]\n[[ c ]]\nd.e = 2\n'
    found = line_numbers(text)
    assert found[("title",)] == 1
    assert ("track",) not in found and ("scale",) not in found
    assert found[("a", "b")] == 5 and found[("a", "b", "x y")] == 6
    assert found[("c", 0)] == 7 and found[("c", 1)] == 8 and found[("c", 1, "d", "e")] == 9


# -- changing -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        ("planned.flywheel.width", "14 mm", 'width = "14 mm"'),
        ("planned.gears[2].total_runout", "0.05 mm", 'total_runout = "0.05 mm"'),
        ("measured_before.runs[7].current", "231 mA", 'current = "231 mA"'),
        ("locomotive.scale", 48, "scale = 48"),
        ("planned.motor.insulated", False, "insulated = false"),
    ],
)
def test_with_value_changes_one_line_and_keeps_its_comment(key, value, line):
    bench = demo()
    other = bench.with_value(key, value)
    ((old, new),) = changed_lines(bench.text, other.text)
    assert new.startswith(line)
    assert old.partition("#")[2] == new.partition("#")[2]
    assert bench.text == TEXT


def test_with_value_inside_inline_table_and_list():
    text = (
        demo()
        .with_values(
            {"planned.motor.no_load.current": "8.8 mA", "planned.motor.resistance[2]": "21.8 ohm"}
        )
        .text
    )
    assert 'no_load = { voltage = "12.0 V", current = "8.8 mA", speed = "8090 rpm" }' in text
    assert 'resistance = ["22.1 ohm", "21.8 ohm", "22.0 ohm"]' in text


def test_values_that_only_fit_together():
    bench = demo()
    with pytest.raises(SheetError, match="teeth = 31"):
        bench.with_value("planned.gears[2].teeth", 31)
    both = {"planned.gears[2].teeth": 31, "planned.gears[2].outside_diameter": "13.2 mm"}
    assert bench.with_values(both).data.planned.gears[1].teeth == 31


def test_optional_key_in_and_out(path):
    bench = load(path).with_value("planned.motor.rotor_diameter", "11 mm")
    assert bench.data.planned.motor.rotor_diameter.value == pytest.approx(0.011)
    assert bench.with_value("planned.motor.rotor_diameter", None).data == load(path).data


def test_whole_table_in_and_out():
    bench = demo()
    flywheel = tomllib.loads(TEXT)["planned"]["flywheel"]
    both = bench.with_value("as_is.flywheel", flywheel)
    assert both.data.as_is.flywheel == bench.data.planned.flywheel
    assert both.with_value("as_is.flywheel", None).data == bench.data
    assert len(bench.with_value("measured_after.coasts[4]", None).data.measured_after.coasts) == 3


def test_reading_and_array_number_as_value():
    bench = demo()
    reading = units.read("14.5 +/- 0.1 mm", "m")
    assert (
        bench.with_value("planned.flywheel.width", reading).data.planned.flywheel.width == reading
    )
    number = pytest.importorskip("numpy").float64(48)
    assert bench.with_value("locomotive.scale", number).data.locomotive.scale == 48


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("planned.flywheel.width", "14", "planned.flywheel.width: '14' has no unit"),
        ("planned.flywheel.width", 0.014, "0.014 has no unit"),
        ("planned.flywheel.wdth", "14 mm", "did you mean width?"),
        ("planned.gears[3].teeth", 20, "there is no planned.gears[3] in this sheet"),
        ("planned.gears[0].teeth", 20, "is not a key"),
        ("planned.gears.teeth", 20, "planned.gears"),
        ("as_is.flywheel.width", "14 mm", "there is no as_is.flywheel in this sheet"),
        ("planned['gears']", 20, "is not a key"),
        ("locomotive.scale", None, "locomotive.scale is missing"),
        ("planned.springs.rubber", None, "there is no planned.springs.rubber"),
        ("title", 'a"\n[track]\n', None),
        ("title.x", "y", "title"),
    ],
)
def test_with_value_refuses(key, value, says):
    bench = demo()
    if says is None:
        assert bench.with_value(key, value).data.title == value
        return
    with pytest.raises(SheetError) as caught:
        bench.with_value(key, value)
    assert says in str(caught.value)
    assert str(caught.value).isprintable()


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=40))
def test_any_title_survives(title):
    """Text never becomes syntax."""
    if not title:
        return
    bench = demo().with_value("title", title)
    assert bench.data.title == title
    assert tomllib.loads(bench.text)["title"] == title


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=30), st.one_of(st.text(max_size=10), st.integers(), st.none(), st.floats()))
def test_any_key_is_taken_or_refused(key, value):
    try:
        demo().with_value(key, value)
    except SheetError as error:
        assert str(error).isprintable()


# -- writing ------------------------------------------------------------------------------


def test_save_keeps_every_older_file(path):
    bench = load(path)
    assert bench.save() == path and names(path.parent) == ["engine.toml"]
    wide = bench.with_value("planned.flywheel.width", "14 mm")
    wide.save()
    wider = wide.with_value("planned.flywheel.width", "15 mm")
    wider.save()
    assert names(path.parent) == ["engine.toml", "engine.toml.bak-1", "engine.toml.bak-2"]
    assert path.with_name("engine.toml.bak-1").read_bytes() == DEMO.read_bytes()
    assert path.with_name("engine.toml.bak-2").read_text("utf-8") == wide.text
    assert load(path).data == wider.data


def test_save_never_overwrites_a_backup(path):
    path.with_name("engine.toml.bak-1").write_text("precious")
    load(path).with_value("locomotive.scale", 48).save()
    assert path.with_name("engine.toml.bak-1").read_text() == "precious"
    assert path.with_name("engine.toml.bak-2").read_bytes() == DEMO.read_bytes()


def test_backup_does_not_follow_later_changes(path):
    load(path).with_value("locomotive.scale", 48).save()
    with path.open("a") as file:
        file.write("# later\n")
    assert path.with_name("engine.toml.bak-1").read_bytes() == DEMO.read_bytes()


def test_save_refuses_when_other_hands_changed_the_file(path):
    bench = load(path).with_value("locomotive.scale", 48)
    path.write_text(TEXT + "# by another editor\n", "utf-8")
    with pytest.raises(SheetError, match="changed on disk since it was loaded"):
        bench.save()
    assert path.read_text("utf-8").endswith("# by another editor\n")
    assert names(path.parent) == ["engine.toml"]
    assert bench.save_copy().name == "engine-copy.toml"


def test_save_elsewhere(path, tmp_path):
    bench = load(path).with_value("locomotive.scale", 48)
    other = tmp_path / "other.toml"
    other.write_text("older")
    assert bench.save(other) == other
    assert path.read_bytes() == DEMO.read_bytes()
    assert (tmp_path / "other.toml.bak-1").read_text() == "older"
    assert load(other).data == bench.data


def test_save_after_the_file_went_away(path):
    bench = load(path)
    path.unlink()
    bench.save()
    assert path.read_bytes() == DEMO.read_bytes()


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_full_disk_leaves_all_as_it_was(path, monkeypatch, call):
    bench = load(path).with_value("locomotive.scale", 48)

    def full(*_, **__):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(*((os, "fsync") if call == "fsync" else (type(path), "replace")), full)
    with pytest.raises(SheetError, match=r"engine.toml cannot be written: no space left on device"):
        bench.save()
    monkeypatch.undo()
    assert names(path.parent) == ["engine.toml"]
    assert path.read_bytes() == DEMO.read_bytes()


def test_reader_never_sees_half_a_file(path):
    """While one hand saves again and again, the other only ever reads whole sheets."""
    bench, bad, done = load(path), [], threading.Event()

    def read():
        while not done.is_set():
            if not path.read_bytes().rstrip().endswith(DEMO.read_bytes().rstrip()[-40:]):
                bad.append(1)

    reader = threading.Thread(target=read)
    reader.start()
    for scale in range(40, 60):
        bench.with_value("locomotive.scale", scale).save()
    done.set()
    reader.join()
    assert not bad
    assert len(names(path.parent)) == 21


def test_save_to_a_folder_that_is_not_there(path, tmp_path):
    with pytest.raises(SheetError, match="cannot be written"):
        load(path).save(tmp_path / "nowhere" / "engine.toml")
    with pytest.raises(SheetError, match="cannot be written"):
        load(path).save(tmp_path)
    assert names(tmp_path) == ["engine.toml"]


def test_read_only_is_respected(path):
    path.chmod(0o444)
    bench = load(path).with_value("locomotive.scale", 48)
    with pytest.raises(SheetError, match="read-only"):
        bench.save()
    assert bench.save_copy().stat().st_mode & stat.S_IWUSR


@pytest.mark.skipif(os.name == "nt", reason="no such bits")
def test_permission_bits_stay(path):
    path.chmod(0o640)
    bench = load(path).with_value("locomotive.scale", 48)
    bench.save()
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert stat.S_IMODE(bench.save_copy().stat().st_mode) == 0o640


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_stays_a_link(path, tmp_path):
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    load(link).with_value("locomotive.scale", 48).save()
    assert link.is_symlink() and load(path).data.locomotive.scale == 48
    assert "engine.toml.bak-1" in names(tmp_path)


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_line_endings_stay(path, ending):
    path.write_bytes(TEXT.replace("\n", ending).encode("utf-8"))
    bench = load(path).with_values(
        {"locomotive.scale": 48, "planned.motor.rotor_diameter": "11 mm"}
    )
    bench.save()
    raw = path.read_bytes()
    assert raw.count(b"\n") == TEXT.count("\n") + 1
    assert raw.count(b"\r\n") == (raw.count(b"\n") if ending == "\r\n" else 0)


@pytest.mark.parametrize("links", [True, False], ids=["hard links", "no hard links"])
def test_copies_take_the_next_free_name(path, monkeypatch, links):
    def none(*_, **__):
        raise PermissionError(errno.EPERM, "Operation not permitted")

    if not links:
        monkeypatch.setattr(os, "link", none)
    bench = load(path).with_value("locomotive.scale", 48)
    made = [bench.save_copy().name for _ in range(3)]
    assert made == ["engine-copy.toml", "engine-copy-2.toml", "engine-copy-3.toml"]
    assert load(path.with_name("engine-copy-2.toml")).save_copy().name == "engine-copy-4.toml"
    bench.save()
    wanted = ["engine.toml", "engine.toml.bak-1", *made, "engine-copy-4.toml"]
    assert names(path.parent) == sorted(wanted)
    assert path.with_name("engine.toml.bak-1").read_bytes() == DEMO.read_bytes()
    assert load(path.with_name("engine-copy-3.toml")).data == bench.data


# -- keys as they are written --------------------------------------------------------------


def test_places_as_written():
    for key in ["title", "planned.gears[2].teeth", "as_is.motor.resistance[4]"]:
        assert keys.dotted(tuple(place(key))) == key
