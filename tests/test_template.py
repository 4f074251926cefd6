"""The blank bench sheet says what the schema says, and filled it is a sheet."""

import re
import tomllib

import pytest

from mechkit.drive.sheet import DEMO, SheetError, demo, hour, keys, load, template
from mechkit.drive.sheet.schema import BenchSheet


def test_blank_sheet_is_in_step_with_the_schema():
    written = template.BLANK.read_text("utf-8")
    assert written == template.blank_sheet(), "run python3 -m mechkit.drive.sheet.template"


def test_blank_sheet_names_what_to_fill():
    with pytest.raises(SheetError, match=r"line \d+: locomotive.scale .* \(and 6 more\)") as caught:
        load(template.BLANK)
    assert len(caught.value.each) == len(template.LIVE)


def test_the_lines_that_are_live_are_enough(tmp_path):
    """Filled from the demo they answer the first questions; nothing else was taken out of its #."""
    path = tmp_path / "engine.toml"
    text = template.blank_sheet()
    for key in template.LIVE:
        name = key.split(".")[-1]
        value = template._toml(template._demo_value(key))
        text = re.sub(rf'^{name} = (""|\[""\])', f"{name} = {value}", text, flags=re.MULTILINE)
    path.write_text(text, "utf-8")
    data = load(path).data
    for question in [
        ("answer", "skid"),
        ("headline", "top"),
        ("wrong", "start"),
        ("headline", "pull"),
    ]:
        assert hour.answers(data, *question), question
    assert not hour.answers(data, "headline", "current")


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
    known = {name: key for name, key in every_key() if name.split(".")[0] not in template.LIKE}
    assert found.keys() == known.keys()
    for name, (line, live) in found.items():
        assert live == (name in template.LIVE)
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
    assert data.as_is.worm == demo().data.as_is.worm
    assert data.as_is.flywheel is None
    assert data.as_is.gears == demo().data.as_is.gears[:1]
    assert data.planned == data.as_is
