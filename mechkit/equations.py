"""Each formula's equation as the trade writes it: lines of `tables/equations.toml`."""

import re
import tomllib
from functools import cache
from pathlib import Path

PLACE = Path(__file__).parent / "tables" / "equations.toml"


@cache
def _all():
    return tomllib.loads(PLACE.read_text("utf-8"))


def lines(topic, name):
    """The lines of one formula's equation; none where it is a table or a numeric solution.

    >>> lines("motor", "stall_current")
    ['stall_current = voltage / resistance']
    """
    found = _all().get(topic, {}).get(name, [])
    return [found] if isinstance(found, str) else found


def entry(text, topic, name):
    """A handbook entry with its equation in front of the parameters."""
    found = lines(topic, name)
    place = re.search(r"^( *)Parameters\n", text or "", re.M)
    if not (found and place):
        return text
    shown = "\n".join(place[1] + line for line in ("Equation", "--------", *found, ""))
    return f"{text[: place.start()]}{shown.rstrip(' ')}\n{text[place.start() :]}"
