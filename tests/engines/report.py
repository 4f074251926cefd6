"""The judge's table: pages, lines and tracebacks, and how often each band holds the truth."""

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np

from tests.engines.judge import Held, Outcome, Verdict, shape


def counted(outcomes: Iterable[Outcome]) -> str:
    """How many of each kind."""
    kinds = Counter(one.kind for one in outcomes)
    whole = sum(kinds.values()) or 1
    return ", ".join(
        f"{kinds[kind]} {kind}{'' if kinds[kind] == 1 else 's'} ({100 * kinds[kind] / whole:.0f} %)"
        for kind in ("page", "line", "traceback")
    )


def broken(outcomes: Iterable[tuple[str, Outcome]], most: int = 25) -> list[str]:
    """The distinct lines and tracebacks, the commonest first, each with one case."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for name, one in outcomes:
        if one.kind != "page":
            place = one.place if one.kind == "traceback" else ""
            found.setdefault((one.kind, place, shape(one.words)), []).append(name)
    rows = sorted(found.items(), key=lambda item: -len(item[1]))[:most]
    return [
        f"  {len(names):4d}  {kind:9s} {place}{' ' if place else ''}{words}   (as {names[0]})"
        for (kind, place, words), names in rows
    ]


def covered(held: Sequence[Held], label: str) -> list[str]:
    """Coverage, width and bias by number."""
    lines = [
        f"{label:28s} {'n':>5s} {'covered':>8s} {'below':>6s} {'above':>6s} {'width':>7s} {'bias':>7s}"
    ]
    keys = list(dict.fromkeys((one.key, one.when) for one in held))
    for key, when in sorted(
        keys, key=lambda pair: ("before", "planned", "after", "chosen").index(pair[1])
    ):
        mine = [one for one in held if (one.key, one.when) == (key, when)]
        hit = np.mean([one.covers for one in mine])
        below = np.mean([one.true < one.low and not one.covers for one in mine])
        above = np.mean([one.true > one.high and not one.covers for one in mine])
        sized = [one for one in mine if one.true]
        width = (
            np.median([(one.high - one.low) / 2 / one.true for one in sized]) if sized else np.nan
        )
        bias = np.median([one.value / one.true - 1 for one in sized]) if sized else np.nan
        lines.append(
            f"  {when:8s} {key:16s} {len(mine):6d} {100 * hit:6.0f} % {100 * below:4.0f} % "
            f"{100 * above:4.0f} % {100 * width:6.1f}% {100 * bias:+6.1f}%"
        )
    return lines  # fmt: skip


def told(verdicts: Sequence[Verdict]) -> str:
    """The whole table."""
    lines = [f"{len(verdicts)} engines: {counted(v.outcome for v in verdicts)}"]
    seconds = sorted(v.seconds for v in verdicts)
    lines.append(
        f"time an engine: median {np.median(seconds):.2f} s, most {seconds[-1]:.2f} s; "
        f"draws thrown out: {np.mean([v.facts['rejected'] for v in verdicts]):.1f} an engine"
    )
    lines += broken((f"seed {v.seed}", v.outcome) for v in verdicts)
    for name in ("straight", "tank", "nothing"):
        for value in (True, False):
            some = [v.outcome for v in verdicts if v.facts[name] is value]
            if some:
                lines.append(f"  {name if value else 'not ' + name:14s} {counted(some)}")
    held = [one for v in verdicts for one in v.held]
    if held:
        count = sum(any(one.when == "before" for one in v.held) for v in verdicts)
        lines += ["", f"numbers of {count} engines, also where the page fails for another reason"]
        lines += ["width: half the band over the truth; bias: printed over true; medians"]
        lines += covered([one for one in held if one.when != "chosen"], "all")
        lines += _by(verdicts, "meter")
        nothing = [one for v in verdicts if v.facts["nothing"] for one in v.held]
        if nothing:
            lines += ["", *covered([o for o in nothing if o.when == "planned"], "plan nothing")]
        picked = [one for one in held if one.when == "chosen"]
        if picked:
            lines += ["", *covered(picked, "chosen from the drawer")]
    choices = [(f"seed {v.seed}", v.choice) for v in verdicts if v.choice]
    if choices:
        lines += ["", f"choose: {counted(one for _, one in choices)}"]
        empty = sum(one.words == "nothing fits" for _, one in choices)
        lines += [f"  nothing fits: {empty}", *broken(choices)]
    if any(v.panels for v in verdicts):
        lines += ["", "panels"]
        for name in dict.fromkeys(name for v in verdicts for name in v.panels):
            opened = [(f"seed {v.seed}", v.panels[name]) for v in verdicts if name in v.panels]
            lines += [
                f"  {name:10s} opens: {counted(one for _, one in opened)}",
                *broken(opened, 4),
            ]
        moves = [(f"seed {v.seed} {name}", one) for v in verdicts for name, one in v.moves]
        lines += [f"  moves: {counted(one for _, one in moves)}"]
        where = Counter(name for v in verdicts for name, one in v.moves if one.kind != "page")
        lines += [f"    {count:4d}  {name}" for name, count in where.most_common(20)]
        lines += broken(moves)
    for kind in dict.fromkeys(kind for v in verdicts for kind in v.heard):
        said = Counter(v.heard[kind] for v in verdicts if kind in v.heard)
        lines.append(f"diagnose by {kind}: {', '.join(f'{n} {w}' for w, n in said.most_common())}")
    return "\n".join(lines)


def _by(verdicts: Sequence[Verdict], fact: str) -> list[str]:
    """Coverage as it is, by one fact."""
    lines = []
    for value in sorted({v.facts[fact] for v in verdicts}):
        held = [o for v in verdicts if v.facts[fact] == value for o in v.held if o.when == "before"]
        keys = dict.fromkeys(one.key for one in held)
        shares = (
            f"{key} {100 * np.mean([o.covers for o in held if o.key == key]):.0f}" for key in keys
        )
        if held:
            lines.append(f"  before, {fact} {value:g}: {', '.join(shares)} %")
    return lines
