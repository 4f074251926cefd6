"""The frog that the wheels must pass: which standard the track in hand has, and its limits."""

from dataclasses import dataclass

from mechkit import tables
from mechkit.drive.sheet.schema import TrackTable

#: A gauge belongs to a standard that is no farther off: those in the table lie wider apart.
NEAR = 0.3e-3  # m


@dataclass(frozen=True)
class Frog:
    """A standard's frog, by its name in the table ``track``."""

    name: str

    @property
    def check_gauge(self) -> float:
        """Check rail's face to the gauge face of the frog [m]."""
        return tables.band("track", self.name, "check_gauge")[1]

    @property
    def check_span(self) -> float:
        """Least distance of two backs that the check rail and the wing rail leave [m]."""
        narrow = (self.name, "check_span") in _known()
        return tables.band("track", self.name, "check_span" if narrow else "back_to_back")[0]


def of(track: TrackTable) -> Frog | None:
    """The frog of a track by its gauge, of the standard that its sheet names or of the first."""
    return next(
        (Frog(name) for name in near(track) if track.standard in (None, name.split()[0])), None
    )


def near(track: TrackTable) -> list[str]:
    """Every standard in the table for that gauge, in the table's order.

    A scale does not tell it: narrow gauges run in every scale.
    """
    if track.gauge is None:
        return []
    gauge = track.gauge.value
    found = []
    for name, wanted in _known():
        if wanted == "track_gauge":
            low, high = tables.band("track", name, wanted)
            if low - NEAR <= gauge <= high + NEAR:
                found.append(name)
    return found


def _known() -> dict[tuple[str, str], None]:
    """What the table has: name and property, in its order."""
    return dict.fromkeys((row.name, row.property) for row in tables.rows("track"))
