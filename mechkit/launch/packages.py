"""Which packages the kit needs, and which of them this Python lacks."""

import hashlib
import json
import re
import tomllib
from importlib import metadata

from mechkit.launch import CHECKOUT


def needed(extras=(), folder=CHECKOUT):
    """What pyproject.toml asks for: package -> oldest version that will do.

    Empty without a pyproject.toml: then pip has installed the kit, and all that it needs.
    """
    page = folder / "pyproject.toml"
    if not page.exists():
        return {}
    project = tomllib.loads(page.read_text("utf-8"))["project"]
    lines = list(project["dependencies"])
    for extra in extras:
        lines += project["optional-dependencies"][extra]
    pairs = (line.split(">=") for line in lines)
    return {name.strip(): oldest.strip() for name, oldest in pairs}


def numbers(version):
    """A version as numbers that compare.

    >>> numbers("4.10.1") > numbers("4.9"), numbers("2.0rc1") >= numbers("2.0")
    (True, True)
    """
    release = re.split(r"[^0-9.]", version)[0]
    parts = [int(part) for part in release.split(".") if part]
    while parts and parts[-1] == 0:
        parts.pop()
    return tuple(parts)


def installed(name):
    """The version of a package in this Python, or None."""
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return None


def lacking(wanted):
    """Those of the wanted packages that this Python has not, or has too old."""
    return [
        name for name, oldest in wanted.items() if numbers(installed(name) or "0") < numbers(oldest)
    ]


def fingerprint(wanted):
    """A short mark that changes when the wanted packages do."""
    return hashlib.sha256(json.dumps(sorted(wanted.items())).encode()).hexdigest()[:16]
