"""Every spoiled sheet is refused in one line, and nothing on the disk changes for it."""

import os
import re
import subprocess
import sys
import textwrap
from random import Random

import pytest

from mechkit.drive.sheet import SheetError, demo, load
from tests.spoiled import CONTRADICTIONS, SPOILED, TEXT, put


def stand(folder):
    """Everything in a folder, ordinary files bit for bit."""
    return {
        path.name: path.read_bytes() if path.is_file() and not path.is_symlink() else "other"
        for path in folder.iterdir()
        if not path.is_symlink() or path.lstat()
    }


def one_line(path):
    """What `load` says of a bad sheet."""
    with pytest.raises(SheetError) as caught:
        load(path)
    text = str(caught.value)
    assert text.isprintable() and len(text) <= 360
    assert str(path) in text
    return text


@pytest.mark.parametrize("bad", SPOILED, ids=lambda bad: bad.name)
def test_spoiled(tmp_path, bad):
    path = bad.make(tmp_path)
    before = stand(tmp_path)
    text = one_line(path).replace(str(tmp_path), "")  # the folder bears the test's name
    for part in bad.contains:
        assert part in text
    assert stand(tmp_path) == before


def test_names_differ():
    assert len({bad.name for bad in SPOILED}) == len(SPOILED) >= 25


@pytest.mark.parametrize(("name", "values", "contains"), CONTRADICTIONS, ids=lambda x: str(x)[:40])
def test_contradiction(tmp_path, name, values, contains):
    with pytest.raises(SheetError) as changed:
        demo().with_values(values)
    # The same mistake made by hand in the file is found by load, with its line.
    document = demo().document
    for key, value in values.items():
        *above, last = place(key)
        table = document
        for part in above:
            table = table[part]
        if value is None:
            del table[last]
        else:
            table[last] = value
    path = tmp_path / "engine.toml"
    path.write_text(document.as_string(), "utf-8")
    text = one_line(path)
    for part in contains:
        assert part in text
        assert part in str(changed.value)
    assert ", line " in text


def place(key):
    """``gears[2].teeth`` as indices, independently of the reader."""
    for part in key.replace("[", ".[").split("."):
        yield int(part[1:-1]) - 1 if part[0] == "[" else part


def test_demo_does_not_contradict_itself():
    assert load(demo().path).data == demo().data


@pytest.mark.parametrize(
    "text",
    [
        # Spreads and instruments grant what they can explain.
        put("weight_on_drivers", '"415 +/- 4 g"', "[locomotive]"),
        put("stall", '{ voltage = "2.0 V", current = "82 mA" }', "[planned.motor]"),
        put("outside_diameter", '"12.60 mm"', 'name = "axle gear"'),
        put("time", '"4.0 s"', 'voltage = "12.07 V"'),
    ],
    ids=["drivers", "stall", "tooth tops", "fast run"],
)
def test_doubtful_but_possible(tmp_path, text):
    path = tmp_path / "engine.toml"
    path.write_text(text, "utf-8")
    load(path)


@pytest.mark.parametrize("seed", range(8))
def test_errors_of_instruments_are_no_contradiction(tmp_path, seed):
    """Every reading three percent off, up or down: a poor hour at the bench, not a false sheet."""
    random = Random(seed)

    def off(match):
        return f'"{float(match[1]) * random.uniform(0.97, 1.03):.6g} {match[2]}'

    path = tmp_path / "engine.toml"
    path.write_text(re.sub(r'"([0-9.]+) ((?:m?A|m?V|V|s|N|ohm|rpm|g)\b)', off, TEXT), "utf-8")
    assert load(path).data != demo().data


AS_NOBODY = """
    import os, sys
    from mechkit.drive.sheet import load
    if os.getuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    try:
        load(sys.argv[1])
    except ValueError as error:
        print(type(error).__name__, error)
"""


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="no such permissions on this system")
def test_no_permission(tmp_path):
    path = tmp_path / "engine.toml"
    path.write_text(TEXT, "utf-8")
    for folder in [tmp_path, *tmp_path.parents[:2]]:
        folder.chmod(0o755)
    path.chmod(0)
    command = [sys.executable, "-c", textwrap.dedent(AS_NOBODY), str(path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    assert done.stderr == ""
    assert done.stdout == f"SheetError {path} cannot be read: permission denied\n"
    path.chmod(0o600)
    assert path.read_text("utf-8") == TEXT
