"""A checkout without packages, in which no environment is ever filled."""

import pytest

from mechkit.launch import environment, packages, pip


@pytest.fixture
def bare(monkeypatch, tmp_path):
    """A checkout in which this Python has no packages; returns what pip is asked to install."""
    asked = []
    monkeypatch.setattr(environment, "CHECKOUT", tmp_path)
    monkeypatch.setattr(environment, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(environment, "MARK", tmp_path / ".venv" / "ready.json")
    monkeypatch.setattr(environment, "LOG", tmp_path / ".venv" / "pip.log")
    monkeypatch.setattr(packages, "installed", lambda _: None)
    monkeypatch.setattr(pip, "install", lambda _, what, *more: asked.append(what))
    return asked


def hollow(folder):
    """What an environment looks like from outside."""
    python = environment.python_of(folder)
    python.parent.mkdir(parents=True)
    python.touch()
    (folder / environment.ENVIRONMENT).touch()
