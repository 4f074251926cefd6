"""The blank bench sheet says what the schema says, and filled it is a sheet."""

import tomllib

import pytest

from mechkit.drive.sheet import DEMO, SheetError, demo, keys, load, template
from mechkit.drive.sheet.schema import BenchSheet


def test_blank_sheet_is_in_step_with_the_schema():
    written = template.BLANK.read_text("utf-8")
    assert written == template.blank_sheet(), "run python3 -m mechkit.drive.sheet.template"


def test_blank_sheet_names_what_to_fill():
    with pytest.raises(SheetError, match=r"line \d+: title is still blank; .* \(and \d+ more\)"):
        load(template.BLANK)


def every_key(table=BenchSheet, above=""):
    for key in keys.keys(table).values():
        name = f"{above}{key.name}"
        if key.table and key.table not in template.INLINE:
            yield from every_key(key.table, f"{name}.")
        else:
            yield name, key


def entries(text):
    """Each line of the blank sheet that is a key, live or not: (line number, key, live)."""
    table = ""
    for number, line in enumerate(text.splitlines()):
        live = line.removeprefix("#")
        if live.startswith("["):
            table = live.strip("[]") + "."
        elif " = " in live and not live.startswith(" "):
            yield number, table + live.partition(" = ")[0], live == line


def test_blank_sheet_has_every_key_once_with_its_words():
    lines = template.blank_sheet().splitlines()
    found = {key: (lines[number], live) for number, key, live in entries("\n".join(lines))}
    assert len(found) == len(list(entries("\n".join(lines))))
    known = dict(every_key())
    assert found.keys() == known.keys()
    #: Blocks that may be left out stand behind # as a whole.
    blocks = {"flywheel", "adapter", "coasts", "measured_after", "stock"}
    for name, (line, live) in found.items():
        assert live or not known[name].required or blocks & set(name.split("."))
        assert known[name].words in line
        assert all(option in line for option in known[name].options)


def test_blank_sheet_filled_is_a_sheet(tmp_path):
    """Every blank that the demo has a value for is filled from it; the rest stays out."""
    path = tmp_path / "engine.toml"
    lines = template.blank_sheet().splitlines()
    given = tomllib.loads(DEMO.read_text("utf-8"))
    filled = set()
    for number, key, _ in entries("\n".join(lines)):
        value = given
        for part in key.split("."):
            value = value[0] if isinstance(value, list) else value
            value = value.get(part) if value else None
        if value is not None:
            lines[number] = f"{key.split('.')[-1]} = {template._toml(value)}"
            filled.add(key.rpartition(".")[0])
    for number, line in enumerate(lines):
        if line.startswith("#[") and line.strip("#[]") in filled:
            lines[number] = line.removeprefix("#")
    path.write_text("\n".join(lines), "utf-8")
    data = load(path).data
    assert data.locomotive == demo().data.locomotive
    assert data.planned.flywheel == demo().data.planned.flywheel
    assert data.as_is.flywheel is None
    assert data.planned.gears == demo().data.planned.gears[:1]
