"""The handbook as pages: ``python3 -m mechkit handbook``, readable offline, on a phone, on paper.

One page a topic and a start page that searches them all.
"""

import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup, escape

from mechkit import derivations, names
from mechkit.derivations import mathml
from mechkit.publish import dress, entries
from mechkit.publish.entries import NOTEBOOKS, ROOT, Formula
from mechkit.publish.place import OutputError, Progress, claimed, put

HERE = Path(__file__).parent
#: The first line of each page: a file that does not bear it is not ours to overwrite.
MARK = "<!-- mechkit handbook -->"
#: Where the pages lie unless told otherwise: beside the notebooks, whose links find them there.
PLACE = ROOT / "handbook"
#: Most processes that derive at once.
PROCESSES = 4


def main(out: str | Path | None = None) -> int:
    """Write the pages; say what was done, where they lie and how long it took.

    Returns
    -------
    code : int
        0 when all pages were written, 1 when the place is no good.
    """
    progress = Progress(sys.stdout)
    try:
        pages = write(out, progress=progress)
    except OutputError as error:
        progress.clear()
        print(f"mechkit: {error}", file=sys.stderr)
        return 1
    progress.clear()
    size = sum(path.stat().st_size for path in pages) / 1e6
    print(
        f"{len(pages) - 1} topics, {len(_all_formulas())} formulas. "
        f"Handbook: {pages[0]} ({size:.1f} MB, {progress.seconds:.0f} s)"
    )
    return 0


def write(
    out: str | Path | None = None,
    topics: Iterable[str] = derivations.TOPICS,
    progress: Callable[[str], None] = lambda step: None,
) -> list[Path]:
    """Write the start page and one page for each of the topics.

    Returns
    -------
    pages : list of Path
        The start page first.

    Raises
    ------
    OutputError
        The place cannot be written, or holds a file that is not a handbook page.
    """
    folder, topics = _folder(Path(out) if out else PLACE), list(topics)
    targets = {
        name: claimed(folder / f"{name}.html", MARK, "handbook page") for name in ("index", *topics)
    }
    progress("deriving every formula")
    with _deriving(topics) as working:
        texts = {"index": index()}
        steps = _derived(working)
    for topic in topics:
        progress(f"setting: {entries.head(topic)[0].lower()}")
        texts[topic] = chapter(topic, steps[topic], folder)
    progress("writing the pages")
    for name, text in texts.items():
        put(targets[name], text.encode("utf-8"))
    return list(targets.values())


def _folder(path: Path) -> Path:
    """The folder for the pages, made where its parent is there."""
    try:
        if path.exists() and not path.is_dir():
            raise OutputError(f"{path} is not a folder; choose another with --out")
        path.mkdir(exist_ok=True)
        return path.resolve()
    except FileNotFoundError:
        raise OutputError(f"{path.parent} is not a folder; make it first") from None
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise OutputError(f"{path} cannot be made: {why}") from None


@contextmanager
def _deriving(topics: list[str]) -> Iterator[list[subprocess.Popen[bytes]]]:
    """Processes that derive the formulas, each its share of the topics; none is left behind."""
    count = min(os.cpu_count() or 1, PROCESSES)
    working = [
        subprocess.Popen(
            [sys.executable, "-m", "mechkit.derivations.steps", *topics[n::count]],
            stdout=subprocess.PIPE,
            cwd=ROOT,
        )
        for n in range(min(count, len(topics)))
    ]
    try:
        yield working
    finally:
        for one in working:
            one.kill()
            one.wait()


def _derived(working: list[subprocess.Popen[bytes]]) -> dict[str, dict[str, Any]]:
    """Every derivation typeset."""
    found: dict[str, dict[str, Any]] = {}
    for one in working:
        said, _ = one.communicate()
        if one.returncode:
            raise RuntimeError("a derivation failed; what it said stands above")
        found |= json.loads(said)
    return found


@cache
def _data() -> dict[str, Any]:
    """Pictures, and the questions that lead to formulas."""
    return tomllib.loads((HERE / "handbook.toml").read_text("utf-8"))


@cache
def _all_formulas() -> list[Formula]:
    return [one for topic in derivations.TOPICS for one in entries.formulas(topic)]


@cache
def _environment() -> jinja2.Environment:
    found = dress.environment()
    found.globals.update(
        css=Markup(dress.stylesheet("handbook.css")),
        mark=Markup(MARK),
        topics=[(topic, *entries.head(topic)) for topic in derivations.TOPICS],
    )
    return found


def index() -> str:
    """The start page: search and contents."""
    listed = json.dumps(list(map(searched, _all_formulas())), ensure_ascii=False)
    return (
        _environment()
        .get_template("handbook_index.html")
        .render(
            index=Markup(listed.replace("</", "<\\/")),
            formulas={topic: entries.formulas(topic) for topic in derivations.TOPICS},
            asked=[one["ask"][0] for one in _data()["question"][:6]],
        )
    )


def searched(formula: Formula) -> dict[str, Any]:
    """What the search knows of one formula: what is shown, and words that lead to it."""
    address = f"{formula.topic}.{formula.name}"
    asked = [
        [words, 1 / (1 + one["formulas"].index(address))]
        for one in _data()["question"]
        if address in one["formulas"]
        for words in one["ask"]
    ]
    words = [names.entry(name, formula.topic).words for name, _ in formula.arguments]
    return {
        "at": f"{formula.topic}.html#{formula.name}",
        "name": formula.called,
        "title": formula.title,
        "topic": entries.head(formula.topic)[0],
        "words": " ".join(words),
        "asked": asked,
    }


def chapter(topic: str, steps: dict[str, Any], folder: Path) -> str:
    """One page."""
    title, about = entries.head(topic)
    pictures = [one for one in _data()["picture"] if one["chapter"] == topic]
    return _environment().get_template("handbook_topic.html").render(
        topic=topic,
        title=title,
        about=about,
        cautions=entries.cautions(topic),
        formulas=entries.formulas(topic),
        steps=steps,
        pictures=map(drawn, pictures),
        equation=equation,
        letters=letters,
        prose=prose,
        notebook=lambda file: _relative(NOTEBOOKS / file, folder),
    )  # fmt: skip


def _relative(path: Path, folder: Path) -> str:
    """A link from the pages to a file of the kit."""
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # another drive
        return path.as_uri()


def drawn(picture: dict[str, str]) -> Markup:
    """A picture of the kit's, as a part of the page."""
    file = ROOT / "figures" / f"{picture['file']}.png"
    if not file.is_file():
        return Markup("")
    return Markup('<figure><img src="{}" alt="{}"><figcaption>{}</figcaption></figure>').format(
        dress.inlined(file), picture["words"], picture["words"]
    )


def equation(formula: Formula) -> list[Markup]:
    """The lines of an equation, typeset."""
    return [
        Markup(mathml.math(mathml.line(line, formula.topic), block=True, said=line))
        for line in formula.lines
    ]


def _unit(words: str) -> str:
    """Words with their unit as one writes it: kg·m², not kg*m^2."""
    return re.sub(r"\[([^]]+)\]", lambda found: f"[{_written(found[1])}]", words)


def _written(unit: str) -> str:
    raised = re.sub(r"\^(\d)", lambda power: "⁰¹²³⁴⁵⁶⁷⁸⁹"[int(power[1])], unit)
    plain = {"-": "–", "ohm": "Ω", "kelvin": "K"}
    return re.sub(r"\w+|-", lambda word: plain.get(word[0], word[0]), raised).replace("*", "·")


def letters(formula: Formula) -> list[tuple[Markup, str, str, str]]:
    """Letter, name, words and range: results, arguments, constants."""
    topic = formula.topic
    left = [line.partition(" = ")[0] for line in formula.lines][: len(formula.results)]
    spelled = [name for name, _ in formula.results] if formula.solved_for else left
    found = [
        (_letter(how, topic), name, _unit(words), "out")
        for how, (name, words) in zip(spelled or [""] * 9, formula.results, strict=False)
    ]
    found += [(_letter(name, topic), name, _unit(words), "in") for name, words in formula.arguments]
    for name in mathml.used(formula.lines):
        if name in mathml.CONSTANTS:
            letter, words = mathml.CONSTANTS[name]
            found.append((Markup(mathml.math(mathml.letter(letter))), "", words, "in"))
    if any("inv(" in line for line in formula.lines):
        involute = mathml.math("<mi>inv</mi>" + mathml.APART + "<mi>x</mi>")
        found.append((Markup(involute), "", "the involute function, tan x − x", "in"))
    return found


def _letter(name: str, topic: str) -> Markup:
    spelled = mathml.spelled(name, topic) if name else ""
    if not spelled or (spelled == name.replace("_", " ") and len(spelled) > 2):
        return Markup("")
    return Markup(mathml.math(mathml.letter(spelled)))


def prose(text: str, topic: str) -> Markup:
    """A note of a docstring as HTML: paragraphs, code, and links to other formulas."""
    whole = escape(re.sub(r"``([^`]+)``", r"\1", text))
    linked = re.sub(r"`([\w.]+)`", lambda found: _link(found[1], topic), str(whole))
    return Markup("".join(f"<p>{one}</p>" for one in re.split(r"\n\s*\n", linked)))


def _link(name: str, topic: str) -> str:
    """A formula or a topic by name, as a link where there is one."""
    there, _, formula = name.removeprefix("mechkit.").rpartition(".")
    shown = formula.replace("_", " ")
    if formula in derivations.TOPICS and not there:
        return f'<a href="{formula}.html">{entries.head(formula)[0].lower()}</a>'
    there = there or topic
    if there in derivations.TOPICS and formula in derivations.public_functions(there):
        return f'<a href="{there}.html#{formula}">{shown}</a>'
    return f"<code>{name}</code>"
