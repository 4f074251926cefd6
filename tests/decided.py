"""One decision alone, without the rest of the page."""

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.rebuild import changes_asked


def decided(sheet, asked, key=None):
    """The decision of a sheet under the name by which it is asked, or one of several there."""
    known = known_of(sheet.data)
    made = changes_asked(known)[asked](known)
    made = made if isinstance(made, list) else [made]
    return next(one for one in made if one.key == (key or asked))
