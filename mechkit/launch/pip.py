"""Pip at work, told in plain lines: how many packages, which one, how long; and why it stopped."""

import os
import queue
import re
import subprocess
import threading
from pathlib import Path

from mechkit.launch.words import Ticker, Trouble

#: pip names a wheel when it has it: "Downloading numpy-2.4.6-cp311-...-x86_64.whl (16.9 MB)".
WHEEL = re.compile(
    r"\s*(?:Downloading|Using cached|Processing) (?:\S*[/\\])?"
    r"(?P<name>[A-Za-z0-9_.]+?)-\d[^/\\ ]*\.(?:whl|tar\.gz)(?=\s|$)(?: \((?P<size>[\d.]+ [kMG]?B)\))?"
)
LIMITS = Path(__file__).parent / "settings" / "limits.txt"
NETWORK = (
    "no package index answers: connect to the internet (or set the proxy) and start the same "
    "command again; it goes on where it stopped"
)
DISK = "the disk is full: make room (about 1.5 GB) and start the same command again"
WRITE = "a file cannot be written in {folder}: move the kit to a folder that is yours"
#: Words in pip's output -> what they mean; the first that fits counts.
CAUSES = [
    ("No space left on device|Errno 28|not enough space", DISK),
    ("Permission denied|Read-only file system|Access is denied", WRITE),
    (r"from versions: none|Connection\w* ?Error|NameResolution|Max retries|timed out", NETWORK),
    ("CERTIFICATE_VERIFY_FAILED|SSLError|ProxyError|Connection broken|Temporary fail", NETWORK),
]


class Progress:
    """How far pip has come, read from its own lines."""

    def __init__(self, about):
        self.about = about
        self.asked = 0
        self.fetched = 0
        self.text = "asking for the list of packages"
        self.placing = 0

    def read(self, line):
        """Take in one line."""
        if wheel := WHEEL.match(line):
            self.fetched += 1
            size = f" ({wheel['size']})" if wheel["size"] else ""
            total = max(self.about, self.fetched)
            self.text = f"{self.fetched} of about {total} packages: {wheel['name']}{size}"
        elif line.startswith("Collecting ") and not self.fetched:
            self.asked += 1
            name = re.split(r"[^A-Za-z0-9._-]", line.split()[1])[0]
            self.text = f"looking up {name}, {self.asked} of about {max(self.about, self.asked)}"
        elif "Retrying" in line:
            self.text = "the network does not answer, trying again"
        elif line.startswith("Installing collected packages:"):
            self.placing = line.count(",") + 1

    def standing(self, placed):
        """One line for now; ``placed`` packages lie in the environment."""
        if not self.placing:
            return self.text
        return f"put in place {min(placed, self.placing)} of {self.placing} packages"


def cause(lines, folder):
    """Why pip stopped, in one line."""
    errors = [line for line in lines if line.lower().startswith("error")] or lines or ["no word"]
    told = f"pip could not install the packages: {errors[-1].strip()}"
    return known("\n".join(lines), folder) or told


def known(text, folder):
    """What words of pip or of the system mean; nothing where that is not known."""
    fitting = (meaning for words, meaning in CAUSES if re.search(words, text, re.IGNORECASE))
    return next(fitting, "").format(folder=folder)


def install(python, what, folder, log, about, count):
    """Install ``what`` from ``folder`` into the environment of ``python``.

    ``log`` keeps pip's own lines; ``count`` tells how many packages lie in the environment at a
    moment, ``about`` how many will come.
    """
    command = [
        *(str(python), "-I", "-u", "-X", "utf8", "-m", "pip", "install", "--no-input"),
        *("--disable-pip-version-check", "--progress-bar", "off"),
        *("--constraint", str(LIMITS), "--editable", what),
    ]
    # Python compiles what it imports anyway, a third of it; where it may not keep that, pip must.
    if not os.environ.get("PYTHONDONTWRITEBYTECODE"):
        command.append("--no-compile")
    # A user's own pip settings may send packages elsewhere; here they go where the kit looks.
    surroundings = {k: v for k, v in os.environ.items() if k not in {"PIP_TARGET", "PIP_PREFIX"}}
    surroundings["PIP_USER"] = "0"
    before, progress, ticker, lines = count(), Progress(about), Ticker(), []
    process = subprocess.Popen(
        command,
        cwd=folder,
        env=surroundings,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
    )
    try:
        for line in _as_they_come(process.stdout):
            if line:
                lines.append(line.rstrip())
                progress.read(line)
            ticker.show(progress.standing(count() - before))
        code = process.wait()
    except BaseException:
        process.terminate()
        process.wait()
        raise
    ticker.end("stopped" if code else f"{count() - before} packages put in place")
    log.write_text("\n".join(lines), "utf-8")
    if code:
        raise Trouble(f"{cause(lines, folder)} (pip's own words: {log})")


def _as_they_come(stream):
    """Each line of a stream, and an empty one for every half second of silence."""
    waiting: queue.Queue[str | None] = queue.Queue()

    def read():
        for line in stream:
            waiting.put(line)
        waiting.put(None)

    threading.Thread(target=read, daemon=True).start()
    while True:
        try:
            line = waiting.get(timeout=0.5)
        except queue.Empty:
            line = ""
        if line is None:
            return
        yield line
