"""Scale formulas, derived."""

import sympy as sp

from mechkit import scale
from mechkit.derivations import Derivation, inputs

_RATIO = {"ratio": (20.0, 220.0)}


def _scaled():
    """A length and the same length on the model."""
    full, model, ratio = inputs("prototype_length", "model_length", "ratio")
    return full, model, ratio, sp.Eq(ratio, full / model)


def _speeds():
    """Speeds as scaled lengths over the same time."""
    full, model, _, definition = _scaled()
    time = sp.Symbol("time", positive=True)
    prototype_speed, model_speed = inputs("prototype_speed", "model_speed")
    way = sp.solve(definition, model)[0]
    speed = sp.Eq(model_speed, (way / time).subs(full, prototype_speed * time))
    return definition, way, speed, prototype_speed, model_speed


def model_speed():
    """Scaled way, unscaled time."""
    definition, way, speed, _, wanted = _speeds()
    return Derivation(
        scale.model_speed,
        steps=[
            ("The ratio is full size over model.", definition),
            ("A way on the model.", way),
            ("Divided by the same time.", speed),
        ],
        result=sp.solve(speed, wanted)[0],
        inside={"prototype_speed": (0.0, 50.0), **_RATIO},
    )


def prototype_speed():
    """The same, solved for full size."""
    definition, _, speed, wanted, _ = _speeds()
    return Derivation(
        scale.prototype_speed,
        steps=[
            ("The ratio is full size over model.", definition),
            ("Ways in the same time: the speeds scale alike.", speed),
        ],
        result=sp.solve(speed, wanted)[0],
        inside={"model_speed": (0.0, 2.0), **_RATIO},
    )


def model_length():
    """The definition, solved for the model."""
    _, model, _, definition = _scaled()
    result = sp.solve(definition, model)[0]
    return Derivation(
        scale.model_length,
        steps=[
            ("The ratio is full size over model.", definition),
            ("Solved for the model.", sp.Eq(model, result)),
        ],
        result=result,
        inside={"prototype_length": (0.0, 30.0), **_RATIO},
    )


def scale_ratio():
    """The definition itself, on the standard that made it."""
    full, model, ratio, definition = _scaled()
    foot = definition.subs({full: sp.Rational(3048, 10), model: sp.Rational(35, 10)})
    return Derivation(
        scale.scale_ratio,
        steps=[
            ("The ratio is full size over model.", definition),
            ("3.5 mm to the foot of 304.8 mm, for example.", foot),
        ],
        result=sp.solve(definition, ratio)[0],
        inside={"model_length": (0.001, 0.5), "prototype_length": (0.1, 30.0)},
    )
