"""Put invented engines before the kit: ``python3 -m tests.engines --engines 100``."""

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from functools import partial

from tests.engines import drawn, report, sheet
from tests.engines import partial as partial_sheet
from tests.engines.judge import judge


def main() -> int:
    """Judge, and print the table."""
    words = argparse.ArgumentParser(prog="python3 -m tests.engines", description=__doc__)
    words.add_argument("--engines", type=int, default=100)
    words.add_argument("--from", dest="first", type=int, default=0, metavar="SEED")
    words.add_argument("--jobs", type=int, default=1)
    words.add_argument("--panels", action="store_true", help="open each, push every slider")
    words.add_argument("--choose", action="store_true", help="try the drawers")
    words.add_argument("--diagnose", action="store_true", help="record, and ask which shaft")
    words.add_argument("--plain", action="store_true", help="without what no reading can tell")
    words.add_argument("--perfect", action="store_true", help="sheets without any error")
    words.add_argument("--readings", type=int, help="so many of the hour's alone, nothing planned")
    words.add_argument("--sheet", action="store_true", help="print the first seed's sheet and stop")
    given = words.parse_args()
    if given.sheet:
        said = sheet.sheet_text(drawn.draw(given.first), given.first)
        print(partial_sheet.text(said, given.readings) if given.readings else said)
        return 0
    asked = ("panels", "choose", "diagnose", "plain", "perfect")
    more = frozenset(name for name in asked if getattr(given, name))
    seeds = range(given.first, given.first + given.engines)
    verdicts = []
    ask = partial(judge, more=more, readings=given.readings)
    if given.jobs > 1:
        with ProcessPoolExecutor(given.jobs) as pool:
            answers = pool.map(ask, seeds, chunksize=2)
            verdicts = list(_counted(answers, len(seeds)))
    else:
        verdicts = list(_counted(map(ask, seeds), len(seeds)))
    print(report.told(verdicts))
    return 0


def _counted(answers, whole):
    """The answers, counted on a terminal."""
    for n, answer in enumerate(answers, 1):
        if sys.stderr.isatty():
            print(f"\r{n} of {whole}", end="" if n < whole else "\n", file=sys.stderr, flush=True)
        yield answer


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    sys.exit(main())
