"""Tables of the rebuild in a notebook, metric or inch at one switch."""

import html
from collections.abc import Callable

import ipywidgets as w

from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.decisions.rows import Rows
from mechkit.panels import dress
from mechkit.panels.live import segments
from mechkit.units import System

_CELL = "text-align:left;vertical-align:top;padding:3px 14px 3px 0;white-space:normal"


def as_html(table: Rows) -> str:
    """A plain table that every page can show."""

    def line(cells, tag):
        made = "".join(f'<{tag} style="{_CELL}">{html.escape(cell)}</{tag}>' for cell in cells)
        return f"<tr>{made}</tr>"

    body = "".join(line(row, "td") for row in table.rows)
    return f"<table><thead>{line(table.head, 'th')}</thead><tbody>{body}</tbody></table>"


class Report:
    """One table of the rebuild.

    Parameters
    ----------
    rebuild : Rebuild
        The job, worked out.
    rows : callable
        One of the functions of `mechkit.drive.rows`.
    system : str
        ``"metric"`` or ``"inch"`` to begin with.
    """

    def __init__(self, rebuild: Rebuild, rows: Callable[..., Rows], system: System = "metric"):
        self.rebuild, self.rows, self.system = rebuild, rows, system
        self._table = w.HTML().add_class("mk-table")
        self._switch = segments([("mm", "metric"), ("in", "inch")], system, "metric or inch")
        self._switch.observe(lambda change: self.wear(change.new), "value")
        title = w.HTML(f"<h3>{html.escape(self.table.title)}</h3>").add_class("mk-title")
        bar = w.HBox([title, w.HBox([self._switch]).add_class("mk-switches")]).add_class("mk-bar")
        style = w.HTML(dress.style(), layout=w.Layout(display="none"))
        self.root = w.VBox([style, bar, self._table]).add_class("mk-panel")
        self.wear(system)

    @property
    def table(self) -> Rows:
        """The table in the present units."""
        return self.rows(self.rebuild, self.system)

    def wear(self, system: System):
        """Switch the units."""
        self.system = system
        self._table.value = as_html(self.table)

    def __repr__(self):
        return "\n".join(" | ".join(row) for row in self.table.rows)

    def _repr_mimebundle_(self, **_):
        """One output: the live table, and the plain one where nothing is alive."""
        plain = f"<h4>{html.escape(self.table.title)}</h4>{as_html(self.table)}"
        return self.root._repr_mimebundle_() | {"text/plain": repr(self), "text/html": plain}
