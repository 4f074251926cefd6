"""The steps of every derivation, typeset: ``python -m mechkit.derivations.steps TOPIC ...``.

Prints one object of JSON, topic -> formula -> sentences and what stands under each.  The
handbook's pages ask several processes at once, because sympy takes its time.
"""

import json
import sys
from xml.dom.minidom import parseString

import sympy as sp
from sympy.printing.mathml import MathMLPresentationPrinter

from mechkit import names
from mechkit.derivations import Derivation, mathml, public_functions, twin

GRAVITY, LORENZ = sp.symbols("g L_z", positive=True)
#: Constants that a derivation carries as their numbers.
KNOWN = ((GRAVITY, names.STANDARD_GRAVITY), (LORENZ, names.LORENZ_NUMBER))


class _Printer(MathMLPresentationPrinter):
    """Sympy's own printer with the letters of the vocabulary."""

    def __init__(self, topic):
        super().__init__()
        self.topic = topic

    def _print_Symbol(self, symbol, style="plain"):
        spelled = mathml.spelled(symbol.name, self.topic)
        return parseString(mathml.letter(spelled)).documentElement


def with_constants(expression):
    """Numbers that are a known constant's, or a simple part of it, as its letter.

    >>> with_constants(sp.Float(9.80665 / 2))
    g/2
    """
    return expression.xreplace({number: _named(number) for number in expression.atoms(sp.Float)})


def _named(number):
    for symbol, value in KNOWN:
        for power in (1, -1, sp.Rational(1, 2), -sp.Rational(1, 2)):
            part = sp.Rational(float(number) / value ** float(power)).limit_denominator(12)
            if part and abs(float(part * value**power) / float(number) - 1) < 1e-12:
                return part * symbol**power
    return sp.Float(number, 4)


def tidy(expression):
    """As one would write it: known constants by their letters, no powers under a logarithm.

    >>> a, b, n = sp.symbols("a b n", positive=True)
    >>> tidy(sp.log((a / b) ** n)), tidy(sp.log(a**n / b**n))
    (n*log(a/b), n*log(a/b))
    """
    return with_constants(expression).replace(sp.log, _unpowered)


def _unpowered(argument):
    powers = argument.as_powers_dict()
    exponent = next(iter(powers.values()))
    if exponent.is_number or any(power not in (exponent, -exponent) for power in powers.values()):
        return sp.log(argument)
    base = sp.Mul(*(one if power == exponent else 1 / one for one, power in powers.items()))
    return exponent * sp.log(base)


def typeset(expression, topic):
    """One expression as MathML."""
    shown = _Printer(topic).doprint(tidy(expression))
    return shown.replace("<mo>&InvisibleTimes;</mo>", mathml.APART)


def of(topic):
    """Formula -> its steps, or the reason why it has none."""
    found = {}
    for name in public_functions(topic):
        derive = twin(topic, name)
        made = derive()
        if isinstance(made, Derivation):
            steps = [(mathml.sentence(words), typeset(step, topic)) for words, step in made.steps]
            found[name] = {"about": (derive.__doc__ or "").strip(), "steps": steps}
        else:
            found[name] = {"whose": mathml.sentence(made.whose)}
    return found


if __name__ == "__main__":
    json.dump({topic: of(topic) for topic in sys.argv[1:]}, sys.stdout)
