"""Values typed in a cell: ``panel.set("outer", "16 mm")``, or a bare number in SI."""

from numbers import Real

from mechkit import units
from mechkit.panels.controls import Choice, Slider, Switch


def typed(control: Slider | Choice | Switch, value):
    """What a control is set to; a refusal says what it takes and in which unit.

    Raises
    ------
    ValueError
        no quantity of the control's kind, or outside of its range.
    """
    if not isinstance(control, Slider):
        return control.accept(value)
    unit = units.SI[control.kind]
    if isinstance(value, str):
        try:
            return control.accept(units.read(value, unit or "-").value)
        except units.QuantityError as error:
            raise ValueError(f"{control.name}: {error}") from None
    if not isinstance(value, Real) or isinstance(value, bool):
        raise ValueError(f"{control.name} = {value!r}: {_asked(control, unit)}")
    try:
        return control.accept(value)
    except ValueError as error:
        raise ValueError(f"{error}; {_asked(control, unit)}") from None


def _asked(control, unit):
    """How a slider's value is written."""
    if not unit:
        return "a plain number is wanted"
    shown = units.shown(control.start, control.kind)
    metric = units.KINDS[control.kind]["metric"]
    example = f"{shown:.{metric.decimals}f} {metric.label}"
    return f'a bare number is in {unit}, else write it with its unit, as "{example}"'
