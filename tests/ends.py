"""Every key of the demo's sheet at the ends of what the schema lets in, one at a time.

``python3 -m tests.ends [PLACE ...]`` tries all of them, or those under some places, which takes
minutes; the tests try some.
"""

import copy
import sys
from collections.abc import Iterator
from typing import Annotated, Any, Literal, get_args, get_origin

from mechkit import units
from mechkit.drive.sheet import DEMO, SheetError, schema, store
from mechkit.drive.sheet.keys import dotted
from mechkit.drive.sheet.quantities import Range
from mechkit.drive.sheet.syntax import parse
from tests import legal

TEXT = DEMO.read_text("utf-8")
#: What a number that was read is multiplied by.
TIMES = (0.1, 0.6, 1.6, 10.0)
Place = tuple[str | int, ...]


def ends() -> Iterator[tuple[Place, Any]]:
    """Place and value of each change; None takes an optional key out."""
    yield from _table(schema.BenchSheet, parse(TEXT, DEMO), ())


def changed(place: Place, value):
    """The demo's sheet with one key changed; what was measured on another plan goes with it.

    Raises
    ------
    SheetError
        The sheet is refused.
    """
    tables = copy.deepcopy(parse(TEXT, DEMO))
    if place[0] == "planned":
        del tables["measured_after"]
    table: Any = tables
    for part in place[:-1]:
        table = table[part]
    if value is None:
        table.pop(place[-1])
    else:
        table[place[-1]] = value
    return store._checked(tables, DEMO, None)


def _table(model, table, place: Place):
    """The changes of one table and of those inside it."""
    for name, field in model.model_fields.items():
        key = field.alias or name
        value, here = table.get(key), (*place, key)
        if value is not None and not field.is_required():
            yield here, None
        inside = [one for one in _parts(field.annotation) if isinstance(one, type)]
        tables = [one for one in inside if issubclass(one, schema.Table)]
        if tables and isinstance(value, list):
            for n, each in enumerate(value):
                yield from _table(tables[0], each, (*here, n))
        elif tables:
            yield from _table(tables[0], value, here) if value is not None else ()
        elif isinstance(value, list):
            for end in _ends(get_args(field.annotation)[0], (), value[0]) if value else ():
                yield (*here, 0), end
        else:
            for end in _ends(field.annotation, field.metadata, value):
                yield here, end


def _parts(kind):
    """A type and what it is made of."""
    yield kind
    for part in get_args(kind):
        yield from _parts(part)


def _ends(kind, metadata, value):
    """Values of one key: every word, both ends of a range, and numbers beside the one that stands."""
    parts = list(_parts(kind))
    if words := [get_args(part) for part in parts if get_origin(part) is Literal]:
        yield from words[0]
        return
    if bool in parts:
        yield from (True, False)
        return
    annotated = [m for part in parts if get_origin(part) is Annotated for m in part.__metadata__]
    for reach in (m for m in (*metadata, *annotated) if isinstance(m, Range)):
        unit = "" if reach.unit == "-" else f" {reach.unit}"
        low = reach.low if reach.zero else reach.low + 1e-9 * (reach.high - reach.low)
        yield from (f"{low!r}{unit}", f"{reach.high!r}{unit}")
        if value is not None:
            number = units.read(str(value), reach.unit).value
            yield from (f"{number * times!r}{unit}" for times in TIMES)
            yield f"{number!r} +/- {abs(number) / 2!r}{unit}"
        return
    limits = [getattr(m, end) for m in metadata for end in ("ge", "gt", "le") if hasattr(m, end)]
    whole = int in parts
    for number in (*limits, *((value / 2, value * 2) if value and limits else ())):
        yield int(number) if whole else float(number) * 1.0001


def main(places) -> int:
    """Try all; say what is neither a page nor one line."""
    legal.quick(setattr)
    tried = failed = refused = 0
    for place, value in ends():
        if places and not any(dotted(place).startswith(each) for each in places):
            continue
        tried += 1
        try:
            (legal.picked if place[0] == "stock" else legal.worked)(changed(place, value))
        except SheetError:
            refused += 1
        except Exception as error:
            failed += 1
            print(f"{dotted(place)} = {value}: {type(error).__name__}: {error}", flush=True)
        if tried % 50 == 0:
            print(f"... {tried} tried, {refused} refused, {failed} failed", flush=True)
    print(f"{tried} tried: {refused} refused, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
