"""Joint formulas, derived."""

from functools import cache

import sympy as sp

from mechkit import fits
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.fits import press

_HEAT = {
    "diameter": (0.001, 0.01),
    "hub_expansion": (16e-6, 30e-6),
    "shaft_expansion": (4e-6, 12e-6),
}


@cache
def hub_von_mises_stress():
    """Von Mises from three principal stresses."""
    p = inputs("pressure")[0]
    one, two, three = sp.symbols("sigma_1 sigma_2 sigma_3", real=True)
    mises = sp.sqrt(((one - two) ** 2 + (two - three) ** 2 + (three - one) ** 2) / 2)
    hoop = press.hub_hoop_stress().result
    at_bore = mises.subs({one: hoop, two: -p, three: 0})
    return Derivation(
        fits.hub_von_mises_stress,
        steps=[
            ("What yields a ductile metal is the difference of its principal stresses.", mises),
            ("The hoop stress at the bore of the hub.", hoop),
            ("Along the radius there is the pressure itself, along the axis nothing.", at_bore),
        ],
        result=sp.simplify(at_bore),
        inside={"pressure": (1e6, 3e8), "diameter": (0.001, 0.005), "hub_outer": (0.006, 0.02)},
        tolerance=1e-11,
    )


def _interference_per_pascal():
    """Lamé's joint: interference and pressure, their ratio as a symbol and in full."""
    delta, p = inputs("diametral_interference", "pressure")
    pressure = press.interference_pressure().result
    return delta, p, sp.Symbol("g", positive=True), delta / pressure


def interference_for_torque():
    """Slip torque of Lamé's pressure, solved for the interference."""
    torque = inputs("torque")[0]
    delta, p, give, in_full = _interference_per_pascal()
    slip = press.slip_torque().result
    holds = sp.Eq(torque, slip.subs(p, delta / give))
    needed = sp.solve(holds, delta)[0]
    return Derivation(
        fits.interference_for_torque,
        steps=[
            ("The torque at which pressure slips:", slip),
            ("Each pascal takes up so much interference, call it $g$:", in_full),
            ("The interference that just holds the torque solves:", holds),
            ("So it is:", needed),
        ],
        result=needed.subs(give, in_full),
        inside={
            "torque": (0.001, 0.1),
            "length": (0.001, 0.02),
            "friction": (0.05, 0.3),
            **press.JOINT,
            **press.METALS,
        },
        tolerance=1e-10,
    )


def yield_interference():
    """Von Mises stress of Lamé's pressure, solved for the interference."""
    strength = inputs("yield_strength")[0]
    delta, p, give, in_full = _interference_per_pascal()
    mises = hub_von_mises_stress().result
    yields = sp.Eq(strength, mises.subs(p, delta / give))
    allowed = sp.solve(yields, delta)[0]
    return Derivation(
        fits.yield_interference,
        steps=[
            ("Von Mises stress at the bore:", mises),
            ("Each pascal takes up so much interference, call it $g$:", in_full),
            ("The bore yields when the stress reaches the yield strength:", yields),
            ("So the interference is:", allowed),
        ],
        result=allowed.subs(give, in_full),
        inside={"yield_strength": (1e8, 1e9), **press.JOINT, **press.METALS},
        tolerance=1e-10,
    )


def _growth():
    """Bore and shaft after warming up."""
    d, delta, rise = inputs("diameter", "diametral_interference", "temperature_rise")
    hub, shaft = inputs("hub_expansion", "shaft_expansion")
    bore_grows, shaft_grows = d * hub * rise, d * shaft * rise
    return d, delta, rise, hub, shaft, bore_grows, shaft_grows


def warm_interference():
    """What shaft and bore gain, taken from the interference."""
    _, delta, _, _, _, bore_grows, shaft_grows = _growth()
    left = delta + shaft_grows - bore_grows
    return Derivation(
        fits.warm_interference,
        steps=[
            ("A bore grows as if it were full of the hub's own metal.", bore_grows),
            ("The shaft grows too.", shaft_grows),
            ("What is left of the interference.", left),
        ],
        result=sp.factor(left),
        inside={
            "diametral_interference": (0.1e-6, 20e-6),
            "temperature_rise": (-40.0, 200.0),
            **_HEAT,
        },
        tolerance=1e-8,
    )


def release_temperature():
    """The rise at which nothing is left of the interference."""
    _, _, rise, _, _, _, _ = _growth()
    left = warm_interference().result
    gone = sp.Eq(left, 0)
    return Derivation(
        fits.release_temperature,
        steps=[("What a rise in temperature leaves.", left), ("The joint goes when:", gone)],
        result=sp.solve(gone, rise)[0],
        inside={"diametral_interference": (0.1e-6, 20e-6), **_HEAT},
    )


def shrink_temperature():
    """Only the hub grows, past the shaft and the clearance."""
    _, delta, rise, _, _, bore_grows, _ = _growth()
    clearance = inputs("assembly_clearance")[0]
    slips_on = sp.Eq(bore_grows, delta + clearance)
    return Derivation(
        fits.shrink_temperature,
        steps=[
            ("The hub alone is warm: its bore grows by:", bore_grows),
            ("It slips on when that covers interference and clearance.", slips_on),
        ],
        result=sp.solve(slips_on, rise)[0],
        inside={
            "diametral_interference": (0.1e-6, 20e-6),
            "assembly_clearance": (1e-6, 20e-6),
            "diameter": (0.001, 0.01),
            "hub_expansion": (4e-6, 110e-6),
        },
    )


def bond_torque():
    """Shear stress on strips of the film."""
    tau, d, length = inputs("shear_strength", "diameter", "length")
    turn = sp.Symbol("phi", positive=True)
    strip = tau * (d / 2) * length
    total = sp.Integral(strip * d / 2, (turn, 0, 2 * sp.pi))
    return Derivation(
        fits.bond_torque,
        steps=[
            ("Shear force on a narrow strip of the film along the shaft, per angle.", strip),
            ("Each strip pulls at the arm of the radius; all strips around.", total),
        ],
        result=total.doit(),
        inside={
            "shear_strength": (1e6, 30e6),
            "diameter": (0.001, 0.01),
            "length": (0.001, 0.02),
        },
    )
