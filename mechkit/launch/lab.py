"""JupyterLab as the kit starts it: its flags, and a port that is free."""

import os
import socket
from pathlib import Path

from mechkit.launch.words import Trouble, say


def free_port(wanted, tries=20):
    """The wanted port of this computer, or the next one that nobody uses."""
    for port in range(wanted, min(wanted + tries, 65536)):
        if _is_free(port):
            if port != wanted:
                say(f"Port {wanted} is taken; using {port}.")
            return port
    raise Trouble(f"ports {wanted} to {port} are taken: name another one with --port")


def _is_free(port):
    """Whether nobody listens on a port, under either address of this computer."""
    for family, address in ((socket.AF_INET, "127.0.0.1"), (socket.AF_INET6, "::1")):
        try:
            with socket.socket(family) as probe:
                if os.name != "nt":
                    probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
                probe.bind((address, port))
        except OSError:
            if family == socket.AF_INET:
                return False
            # No IPv6 here is no obstacle; a listener on it is.
            if _answers(family, address, port):
                return False
    return True


def _answers(family, address, port):
    """Whether somebody answers there."""
    try:
        with socket.socket(family) as probe:
            return probe.connect_ex((address, port)) == 0
    except OSError:
        return False


#: Where the browser opens: the start page, and the boxes for an engine that has no sheet yet.
START, BENCH = "notebooks/start.ipynb", "notebooks/bench.ipynb"


def flags(folder, *, port, browser=True, page=START):
    """JupyterLab's arguments to show ``folder``.

    They hold for this start only: nobody's Jupyter settings are read differently or written.
    """
    folder = Path(folder)
    chosen = [
        f"--ServerApp.root_dir={folder}",
        f"--ServerApp.port={port}",
        f"--LabApp.default_url={address_of(folder, page)}",
        # Tabs that were open in other folders must not be sought in this one.
        f"--LabApp.workspaces_dir={folder / '.jupyter' / 'workspaces'}",
        "--ServerApp.jpserver_extensions=mechkit.lab_server=True",
        # No question about news over the first panel.
        f"--LabApp.app_settings_dir={Path(__file__).parent / 'settings'}",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        # Ctrl-C ends the server without a question; only errors and the address are printed.
        "--ServerApp.answer_yes=True",
        "--ServerApp.log_level=ERROR",
        "--LabApp.log_level=ERROR",
    ]
    if not browser:
        chosen.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        chosen.append("--allow-root")
    return chosen


def address_of(folder, page):
    """Where a page is opened, or the lab where there is none."""
    return f"/lab/tree/{page}" if (folder / page).exists() else "/lab"
