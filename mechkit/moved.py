"""Addresses of an earlier version: they lead to the new ones, for one version more.

Before 0.2 the handbook lay in one file a topic; now it has chapters.  Whoever imports an old
file gets the page that took its place, and is told once.  Standard library only: this is
loaded with the package.
"""

import sys
import warnings
from importlib import import_module
from importlib.machinery import ModuleSpec

#: Old file -> where its formulas stand.
PAGES = {
    "contacts": "wheels.contacts",
    "creep": "fits.creep",
    "equalizing": "suspension.equalizing",
    "gauging": "gears.gauging",
    "gear_sizes": "gears.sizes",
    "joints": "fits.joints",
    "knurl_joints": "fits.knurl_joints",
    "knurls": "fits.knurls",
    "mesh": "gears.mesh",
    "mesh_wear": "wear.mesh",
    "pulsed": "motor.pulsed",
    "ride": "suspension.ride",
    "rods": "wheels.rods",
    "sizing": "flywheel.sizing",
    "spring_stock": "springs.stock",
    "stackup": "runout.stackup",
    "stance": "suspension.stance",
    "teeth": "gears.teeth",
    "truck": "wheels.truck",
    "washers": "springs.washers",
    "wheelsets": "wheels.wheelsets",
    "winding": "motor.winding",
    "worm_loads": "worm.loads",
}
#: The same for what several derivations share.
SHARED = {"disc": "flywheel.disc", "pulses": "motor.pulses"}


def page(name):
    """The new name of a module of an earlier version, or nothing."""
    room, _, file = name.rpartition(".")
    if room == "mechkit.derivations" and file in SHARED:
        return room + "." + SHARED[file]
    if room in ("mechkit", "mechkit.derivations") and file in PAGES:
        return room + "." + PAGES[file]
    return None


class Finder:
    """Finds what no longer lies where it lay, before a file left behind could be found."""

    @staticmethod
    def find_spec(name, path=None, target=None):
        """A spec for an old name, or nothing."""
        # No Loader by name: importlib.abc makes the first import longer.
        return ModuleSpec(name, Finder()) if page(name) else None  # type: ignore[arg-type]

    @staticmethod
    def create_module(spec):
        """Make none: the new module takes the place."""

    @staticmethod
    def exec_module(module):
        """Let the old name stand for the new module, and say so."""
        old, new = module.__name__, page(module.__name__)
        said = f"{old} is {new} now; the old name is kept for one version"
        warnings.warn(said, DeprecationWarning, stacklevel=2)
        sys.modules[old] = import_module(new)


def serve():
    """Let Python ask here first."""
    if not any(isinstance(one, Finder) for one in sys.meta_path):
        sys.meta_path.insert(0, Finder())
