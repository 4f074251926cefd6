"""A fit as people write it, ``6 H7/p6`` or ``1/4 in FN1``, into what it holds."""

import re
from typing import NamedTuple

from mechkit import fits, units

_NUMBER = r"(?P<size>\d+(?:[.]\d+)?(?:\s+\d+/\d+|/\d+)?)\s*(?P<unit>mm|inch|in|\")?"
_CLASSES = (
    r"(?:(?P<hole>[A-Z]{1,2}\d{1,2})\s*[/-]\s*(?P<shaft>[a-z]{1,2}\d{1,2})|(?P<inch>[A-Z]{2}\d))"
)
_FIT = re.compile(rf"\s*[⌀Øø]?\s*{_NUMBER}\s*{_CLASSES}\s*")


class NamedFit(NamedTuple):
    """A nominal diameter [m] and its classes: hole and shaft, or one of the inch classes."""

    diameter: float
    hole: str
    shaft: str
    inch: str

    def interference(self):
        """Least and most interference on the diameter [m]; clearance is negative."""
        if self.inch:
            return fits.inch_fit_interference(diameter=self.diameter, fit_class=self.inch)
        return fits.fit_interference(
            diameter=self.diameter, hole_class=self.hole, shaft_class=self.shaft
        )


def read_fit(text: str) -> NamedFit:
    """Read a fit; a plain size is in millimeters, before an inch class in inches.

    Raises
    ------
    ValueError
        The text is no fit: the message says how one is written.

    Examples
    --------
    >>> [round(1e6 * end) for end in read_fit("6 H7/p6").interference()]  # µm
    [0, 20]
    >>> read_fit("1/4 in H7/p6").hole, read_fit('⌀ 1/4" FN1').inch
    ('H7', 'FN1')
    """
    found = _FIT.fullmatch(text)
    if not found:
        raise ValueError(
            f"{text!r} is no fit: write size, hole and shaft, as '6 H7/p6', or size and inch "
            "class, as '1/4 in FN1'"
        )
    unit = found["unit"] or ("in" if found["inch"] else "mm")
    whole, _, part = found["size"].rpartition(" ")
    top, _, bottom = part.partition("/")
    number = float(whole or 0) + float(top) / float(bottom or 1)
    return NamedFit(
        units.to_si(number, "mm" if unit == "mm" else "inch"),
        found["hole"] or "",
        found["shaft"] or "",
        found["inch"] or "",
    )
