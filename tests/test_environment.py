"""pyproject.toml and environment.yml ask for the same packages."""

import re
import tomllib

import pytest

import mechkit
from mechkit.launch import CHECKOUT, environment, packages, pip

PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text("utf-8"))["project"]
CONDA = (CHECKOUT / "environment.yml").read_text("utf-8")
#: conda-forge calls it so; everything else bears the same name there.
CONDA_NAMES = {"playwright": "playwright-python"}


def test_every_package_has_a_plain_lower_bound():
    lines = PROJECT["dependencies"] + PROJECT["optional-dependencies"]["test"]
    for line in lines:
        assert re.fullmatch(r"[A-Za-z0-9._-]+>=[0-9]+(\.[0-9]+)*", line), line


def test_conda_users_get_the_same():
    wanted = {CONDA_NAMES.get(n, n): v for n, v in packages.needed(("test",)).items()}
    wanted["python"] = PROJECT["requires-python"].removeprefix(">=")
    found = dict(re.findall(r"^  - ([\w.-]+)>=([\d.]+)", CONDA, re.MULTILINE))
    assert found == wanted


def test_conda_users_get_the_same_limits():
    lines = pip.LIMITS.read_text("utf-8").splitlines()
    limits = [line for line in lines if not line.startswith("#")]
    assert limits == re.findall(r"^  - ([\w.-]+<[\d.]+)$", CONDA, re.MULTILINE)


def test_conda_users_get_this_checkout():
    section = CONDA.split("dependencies:\n")[1]
    assert section.rstrip().endswith("- pip:\n      - -e .")
    assert "mechkit>=" not in CONDA


def test_conda_takes_packages_from_one_channel():
    channels = CONDA.split("channels:\n")[1].split("dependencies:")[0]
    assert channels.split() == ["-", "conda-forge"]


@pytest.mark.parametrize("extra", sorted(PROJECT["optional-dependencies"]))
def test_the_launcher_knows_every_extra(extra):
    assert (extra,) in environment.ABOUT


def test_the_kit_never_asks_an_index_for_itself():
    assert not {PROJECT["name"], "mechkit"} & {*packages.needed(("test",))}


def test_no_package_of_an_index_can_take_the_kit_s_place():
    """pip exchanges what bears the same name: the distribution has one of its own."""
    assert PROJECT["name"] == "brass-bench-mechkit" != mechkit.__name__
    assert "name: mechkit\n" in CONDA, "the environment is no package"


def test_one_version_and_its_changes_are_told():
    assert PROJECT["version"] == mechkit.__version__
    told = (CHECKOUT / "mechkit" / "CHANGES.md").read_text("utf-8")
    assert re.search(r"^## (\S+)$", told, re.MULTILINE)[1] == mechkit.__version__
