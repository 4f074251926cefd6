"""Everything that the build sheet says, gathered for the template that sets it."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import NamedTuple

from markupsafe import Markup, escape

from mechkit.drawings import paper
from mechkit.drawings.elevation import elevation
from mechkit.drawings.strip import strip
from mechkit.drawings.style import Look
from mechkit.drawings.turned import part_drawing
from mechkit.drive.decisions.decision import FOUND, PLANNED, Decision
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.decisions.rows import ranked
from mechkit.drive.diagnosis import hand_tests
from mechkit.drive.model.spread import Band
from mechkit.drive.sheet import Sheet
from mechkit.drive.sheet.hour import answers
from mechkit.publish import dress, gained, unknowns, verdict, worklist
from mechkit.publish import partial as little
from mechkit.publish.twice import SYSTEMS, both
from mechkit.units import show

#: The first line of the page: a file that does not bear it is not ours to overwrite.
MARK = "<!-- mechkit build sheet -->"


class Figure(NamedTuple):
    """A drawing in both systems of units."""

    words: str
    drawn: Markup


class Row(NamedTuple):
    """One decision or fault as the template sets it."""

    decision: Decision
    sign: str
    value: Markup
    limit: Markup
    margin: str
    sure: str
    finding: Markup
    todo: Markup
    source: str
    notebook: Markup


def figures(done: Rebuild) -> Iterator[tuple[str, Callable[[], Figure]]]:
    """Every drawing of the page, by name, each made when it is called for."""
    if answers(done.sheet, "change", "axle"):
        yield (
            "elevation",
            partial(
                _pair,
                "elevation",
                "Side elevation of the planned drive in its body, with cross sections",
                partial(elevation, done.sheet, state="planned", layout=done.layouts[0]),
            ),
        )
    for part in done.parts:
        name = part.name.lower().replace(" ", "-")
        words = f"{part.name}, half section and end view"
        yield part.name, partial(_pair, name, words, partial(part_drawing, part))


def _pair(name: str, words: str, draw: Callable) -> Figure:
    """One drawing for each system of units, of which the page shows one."""
    drawn = (
        Markup('<div class="{}">{}</div>').format(
            system,
            Markup(
                paper.svg(draw(look=Look(size="print", system=system)), f"{name}-{system}", words)
            ),
        )
        for system in SYSTEMS
    )
    return Figure(words, Markup("").join(drawn))


def render(sheet: Sheet, done: Rebuild, drawn: dict[str, Figure], out: Path) -> str:
    """The page as text."""
    environment = dress.environment()
    environment.filters["strip"] = lambda line: Markup(strip(line))
    environment.globals["both"] = both
    template = environment.get_template("build_sheet.html")
    return template.render(
        mark=Markup(MARK),
        css=Markup(dress.stylesheet("build_sheet.css")),
        title=sheet.data.title,
        file=sheet.path.name,
        invented="invented" in sheet.text.lower(),
        done=done,
        verdict=[
            *(
                [("What disagrees", both(lambda system: verdict.what_disagrees(done, system)))]
                if verdict.what_disagrees(done, "metric")
                else []
            ),
            *_known(done),
            ("What is wrong", both(lambda system: verdict.what_is_wrong(done, system))),
            *_plan(done),
        ],
        assumed=list(little.assumed(done)),
        missing=little.missing(done),
        little=little,
        sharpened=list(zip(*(little.sharpened(done, system) for system in SYSTEMS), strict=True)),
        no_go=verdict.in_plan(done, "wrong"),
        watch=verdict.in_plan(done, "watch"),
        counted=counted(done),
        drawn=drawn,
        faults=[row(done, one, out) for one in done.faults],
        by_hand=by_hand(done),
        groups={
            group: [row(done, one, out) for one in some] for group, some in done.groups.items()
        },
        compared=[compared(line) for line in done.headlines],
        ranking=[
            (
                line.words,
                *(ranked(band) if seen(band) else "—" for band in (line.before, line.planned)),
            )
            for line in done.headlines
        ],
        gained=gained.gained(done),
        told=done.told,
        constants=list(zip(*(one.lines for one in done.told), strict=True)),
        proof=done.proof,
        buy=_lines(done, worklist.buy),
        do=_lines(done, worklist.do),
        instruments=unknowns.instruments(done),
        readings=unknowns.readings(done),
        unknowns=unknowns.unknowns(done),
        limits=unknowns.LIMITS,
    )


def _known(done: Rebuild) -> Iterator[tuple[str, Markup]]:
    """Of an engine of which little is known: what can be said, and what to measure next."""
    if done.partial:
        yield "What is known", both(lambda system: little.known(done, system))
        yield "Measure next", both(lambda system: little.following(done, system))


def _plan(done: Rebuild) -> Iterator[tuple[str, Markup]]:
    """What the plan does, if there is one."""
    if done.plans:
        yield "What changes", both(lambda system: verdict.what_changes(done, system))
        yield "What it gains", both(lambda system: verdict.what_it_gains(done, system))
    else:
        yield (
            "What changes",
            Markup("The plan changes nothing yet; [planned] takes only what changes."),
        )


def _lines(done: Rebuild, ask) -> list[tuple[worklist.Line, ...]]:
    """A list to tick, in both systems of units; empty where nothing is planned."""
    return list(zip(*(ask(done, system) for system in SYSTEMS), strict=True)) if done.plans else []


class ByHand(NamedTuple):
    """Tests without instruments, and what each suspected cause answers to them, by number."""

    trials: list[hand_tests.Trial]
    causes: list[tuple[hand_tests.Cause, list[tuple[int, str]]]]


def by_hand(done: Rebuild) -> ByHand:
    """What the readings point at, and the tests that tell which it is."""
    suspects = hand_tests.suspects(one.key for one in done.faults if one.verdict == "wrong")
    ways = [(cause, hand_tests.course(cause.key)) for cause in suspects]
    trials = list(dict.fromkeys(trial for _, way in ways for trial, _ in way))
    return ByHand(
        trials,
        [(cause, [(1 + trials.index(trial), it) for trial, it in way]) for cause, way in ways],
    )


NO_CONTACT = "no contact"


def row(done: Rebuild, decision: Decision, out: Path) -> Row:
    """One decision with its numbers in both systems."""
    signs = FOUND if decision in done.faults else PLANNED
    sign = signs[decision.verdict] if verdict.counts(done, decision) else "not taken"
    return Row(
        decision=decision,
        sign=sign,
        value=both(lambda system: _in_words(decision)[0] or decision.value.say(system)),
        limit=both(
            lambda system: (
                _in_words(decision)[1] or f"{decision.sense} {decision.limit.say(system)}"
            )
        ),
        margin="" if _in_words(decision)[0] else margin(decision),
        sure="over 99\u00a0%" if decision.sure > 0.99 else f"{100 * decision.sure:.0f}\u00a0%",
        finding=both(lambda system: _capital(decision.words(system))),
        todo=both(decision.todo),
        source=source(decision.unsure),
        notebook=_notebook(decision.notebook, out),
    )


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _in_words(decision: Decision) -> tuple[str, str]:
    """Answer and limit that are no numbers, as of a question of contact; empty where they are."""
    value, limit = decision.value, decision.limit
    if decision.instead:
        return decision.instead, "—"
    if value.kind == "number" and limit.value == 0.5 and value.value in (0.0, 1.0):
        return ("contact" if value.value else NO_CONTACT), NO_CONTACT
    return "", ""


def margin(decision: Decision) -> str:
    """How far inside the limit; as a multiple where percents would say little.

    >>> from mechkit.drive.decisions.decision import fixed
    >>> one = lambda value: Decision("", "", "", fixed(value, "number"), fixed(2.0, "number"),
    ...                              "at least", 1.0, "", "", "")
    >>> margin(one(3.0)), margin(one(1.0)), margin(one(13.0))
    ('+50 %', '−50 %', '6.5 times')
    """
    if decision.margin > 2:
        return f"{decision.value.value / decision.limit.value:.3g} times"
    return f"{100 * decision.margin:+.0f} %".replace("-", "−")


def source(band: Band) -> str:
    """Which inputs the band comes from, the first to be measured better first."""
    return f"the band comes from {ranked(band)}" if seen(band) else ""


def seen(band: Band) -> bool:
    """False for a number whose band is too narrow to be printed."""
    text = show(band.value, band.kind, "metric", band.decimals())
    return bool(band.sources) and band.say() != text


def _notebook(name: str, out: Path) -> Markup:
    """The notebook that explains it, as a link where it lies beside the page."""
    file = f"{name}.ipynb"
    if (out.parent / file).is_file():
        return Markup('<a href="{0}">{0}</a>').format(file)
    return escape(file)


def counted(done: Rebuild) -> str:
    """How many checks of the plan hold.

    The way of holding the sleeve that was not chosen does not count.
    """
    count = {key: len(verdict.in_plan(done, key)) for key in PLANNED}
    parts = [f"{count[key]} {word}" for key, word in PLANNED.items() if count[key] or key == "good"]
    return f"{sum(count.values())} checks of the plan: {', '.join(parts)}"


def compared(line):
    """One headline number in three states, and whether reading meets plan."""
    say = lambda band: both(band.say) if band else Markup("—")  # noqa: E731
    agrees = {None: "", True: "inside", False: "outside"}[line.agrees]
    return line, say(line.before), say(line.planned), say(line.after), agrees
