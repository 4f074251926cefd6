"""No check hangs on the last bits of the linear algebra, which differ by processor."""

import json
import os
import signal
import subprocess
import sys

import pytest

from tests import kernels

#: From the oldest that still runs to one that works in half a kilobit.
KERNELS = ("Prescott", "Haswell", "SkylakeX")
#: What the last bits may move, in shares of what a row allows.
MOVES = 0.01


@pytest.fixture(scope="module")
def here():
    """What each check needs on the kernels of this process."""
    if not kernels.names():
        pytest.skip("another library's linear algebra: its kernels cannot be picked")
    return kernels.shares()


@pytest.mark.parametrize("kernel", KERNELS)
def test_delicate_checks_stay_put_on_other_processors(here, kernel):
    asked = subprocess.run(
        [sys.executable, "-m", "tests.kernels"],
        env=os.environ | {"OPENBLAS_CORETYPE": kernel},
        capture_output=True,
        text=True,
    )
    if asked.returncode == -signal.SIGILL:
        pytest.skip(f"this processor cannot run {kernel}")
    assert asked.returncode == 0, asked.stderr
    told = json.loads(asked.stdout)
    if told["kernels"] == kernels.names():
        pytest.skip(f"asked for {kernel}, the same kernels ran as for all other tests")
    assert len(told["shares"]) > 20 and told["shares"].keys() == here.keys()
    assert max(told["shares"].values()) < 1
    assert {
        name: (share, here[name])
        for name, share in told["shares"].items()
        if abs(share - here[name]) > MOVES
    } == {}
