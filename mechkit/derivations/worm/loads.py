"""What a worm mesh puts on its shafts, derived."""

import sympy as sp

from mechkit import worm
from mechkit.derivations import Derivation, inputs

INSIDE = {
    "torque": (0.0001, 0.003),
    "pitch_diameter": (0.004, 0.01),
    "lead_angle": (0.03, 0.3),
    "friction": (0.01, 0.2),
    "pressure_angle": (0.25, 0.44),
}


def wheel_torque():
    """Power in, less what friction takes, is power out."""
    torque, ratio, efficiency, speed = inputs("torque", "gear_ratio", "efficiency", "speed")
    out = sp.Symbol("T_2", positive=True)
    balance = sp.Eq(out * speed / ratio, efficiency * torque * speed)
    return Derivation(
        worm.wheel_torque,
        steps=[
            ("The wheel turns slower by the ratio.", speed / ratio),
            ("Power out is power in times the efficiency.", balance),
        ],
        result=sp.solve(balance, out)[0],
        inside={"torque": INSIDE["torque"], "gear_ratio": (10.0, 60.0), "efficiency": (0.2, 0.9)},
    )


def _normal_force():
    """Steps from the torque to the normal force on the thread."""
    torque, diameter, lead, friction, angle = inputs(*INSIDE)
    normal = sp.Symbol("N", positive=True)
    around = normal * (sp.cos(angle) * sp.sin(lead) + friction * sp.cos(lead))
    lever = sp.Eq(torque, around * diameter / 2)
    found = sp.solve(lever, normal)[0]
    steps = [
        ("The normal force $N$ and its friction hold the worm back round its axis.", around),
        ("Times the pitch radius they are the torque.", lever),
        ("So large is the normal force.", sp.Eq(normal, found)),
    ]
    return normal, found, steps


def thrust():
    """The normal force and its friction, along the axis."""
    lead, friction, angle = inputs("lead_angle", "friction", "pressure_angle")
    normal, found, steps = _normal_force()
    along = normal * (sp.cos(angle) * sp.cos(lead) - friction * sp.sin(lead))
    return Derivation(
        worm.thrust,
        steps=[*steps, ("Along the axis the same two make this.", along)],
        result=along.subs(normal, found),
        inside=INSIDE,
    )


def separating_force():
    """The normal force's part between the shafts."""
    (angle,) = inputs("pressure_angle")
    normal, found, steps = _normal_force()
    apart = normal * sp.sin(angle)
    return Derivation(
        worm.separating_force,
        steps=[*steps, ("The flank leans by the pressure angle and wedges the two apart.", apart)],
        result=apart.subs(normal, found),
        inside=INSIDE,
    )


def collar_loss():
    """The same thrust on a face and on a thread without friction."""
    friction, collar, diameter, lead = inputs(
        "friction", "collar_diameter", "pitch_diameter", "lead_angle"
    )
    thrust = sp.Symbol("N", positive=True)
    face = friction * thrust * collar / 2
    drives = thrust * sp.tan(lead) * diameter / 2
    return Derivation(
        worm.collar_loss,
        steps=[
            ("The thrust $N$ rubs at the mean radius of the face.", face),
            ("On a thread without friction the same thrust takes this torque.", drives),
            ("One over the other.", face / drives),
        ],
        result=sp.simplify(face / drives),
        inside={
            "friction": INSIDE["friction"],
            "collar_diameter": (0.002, 0.006),
            "pitch_diameter": INSIDE["pitch_diameter"],
            "lead_angle": INSIDE["lead_angle"],
        },
    )


def friction_from_efficiency():
    """The wedge of the thread, solved for its friction."""
    lead, efficiency, angle, friction = inputs(
        "lead_angle", "efficiency", "pressure_angle", "friction"
    )
    around = sp.cos(angle) * sp.sin(lead) + friction * sp.cos(lead)
    along = sp.cos(angle) * sp.cos(lead) - friction * sp.sin(lead)
    work = sp.Eq(along * sp.tan(lead), efficiency * around)
    found = sp.solve(work, friction)[0]
    return Derivation(
        worm.friction_from_efficiency,
        steps=[
            ("A normal force of 1 and its friction hold the worm back round its axis by.", around),
            ("They push the wheel along by.", along),
            ("Work out is work in times the efficiency.", work),
            ("Solved for the friction.", found),
        ],
        result=found,
        inside={
            "lead_angle": INSIDE["lead_angle"],
            "efficiency": (0.2, 0.9),
            "pressure_angle": INSIDE["pressure_angle"],
        },
    )


def heat():
    """Power in less power out."""
    torque, speed, efficiency = inputs("torque", "speed", "efficiency")
    power = torque * speed
    return Derivation(
        worm.heat,
        steps=[
            ("Power in.", power),
            ("Power out.", efficiency * power),
            ("The rest is heat.", power - efficiency * power),
        ],
        result=sp.factor(power - efficiency * power),
        inside={"torque": INSIDE["torque"], "speed": (10.0, 1500.0), "efficiency": (0.2, 0.9)},
    )


def lurch():
    """The worm pushed along like a rack."""
    play, diameter, angle = inputs("end_play", "wheel_diameter", "angle")
    rolls = sp.Eq(angle * diameter / 2, play)
    return Derivation(
        worm.lurch,
        steps=[
            ("A worm that does not turn but slides is a rack.", play),
            ("The wheel's pitch circle rolls as far as the rack goes.", rolls),
        ],
        result=sp.solve(rolls, angle)[0],
        inside={"end_play": (0.00001, 0.0005), "wheel_diameter": (0.006, 0.02)},
    )
