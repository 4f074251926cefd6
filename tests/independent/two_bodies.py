"""A motor and a train that come to rest, from Newton's laws for both (numpy, scipy).

Twice over.  `stop` takes rails, teeth and bearings as rigid and asks at every event which
force keeps all contacts honest.  `yielding_stop` asks nothing: teeth are springs, wheels creep
on the rail where they are overloaded, friction at rest is a steep curve; one stiff run.
"""

import numpy as np
from scipy.integrate import solve_ivp


def _together(b, gain, w):
    """Speed-up of the motor and force at the rim, motor and train as one."""
    matrix = [[b["inertia"], b["lever"] * gain], [-b["mass"] * b["lever"], 1.0]]
    return np.linalg.solve(matrix, [-b["friction"] - b["damping"] * w, b["rolling"]])


def _contact(b, v, w, gap):
    """What touches from here on."""
    closing = v - b["lever"] * w
    back, front = gap <= 0, gap >= b["lost_motion"]
    if abs(closing) > 1e-12:
        return ("skid" if front else "none") if closing > 0 else ("spin" if back else "none")
    pushes, held = (_together(b, b[share], w)[1] for share in ("gain", "back"))
    if pushes >= -1e-9:
        return "push" if back else "none"
    if not front:
        return "none"
    return "hold" if -b["limit"] <= held < 0 else "skid"


def stop(*, speed, **b):
    """Way [m], time [s] and the contacts one after the other, from a speed of the train [m/s]."""
    lever, mass, inertia = b["lever"], b["mass"], b["inertia"]
    share = {"push": b["gain"], "hold": b["back"], "spin": b["gain"], "skid": b["back"]}
    t, y, told = 0.0, np.array([0.0, speed, speed / lever, 0.0]), []
    while y[1] > 0 or y[2] > 0:
        contact = _contact(b, *y[1:])
        told.append(contact)
        force = {"skid": -b["limit"], "spin": b["limit"]}.get(contact, 0.0)
        turned = -force * lever * share.get(contact, 0.0)
        turns = y[2] > 0 or (contact == "skid" and turned > b["breakaway"])
        rolls = y[1] > 0 or contact == "spin"

        def rates(_, s, contact=contact, force=force, turned=turned, turns=turns, rolls=rolls):
            _, v, w, _ = s
            if contact in ("push", "hold"):
                faster = _together(b, share[contact], w)[0]
                return [v, lever * faster, faster, 0.0]
            own = -b["friction"] - b["damping"] * w + turned
            gap = v - lever * w if contact == "none" else 0.0
            return [v, rolls * (force - b["rolling"]) / mass, turns * own / inertia, gap]

        watched = {"motor": lambda s: s[2]} if turns else {}
        if contact in ("push", "hold"):
            watched["power"] = lambda s, c=contact: (
                abs(_together(b, share[c], s[2])[1])
                * (1 if (_together(b, share[c], s[2])[1] < 0) == (c == "hold") else -1)
            )
        else:
            if rolls and contact != "spin":
                watched["train"] = lambda s: s[1]
            if contact == "none":
                watched["back"], watched["front"] = (
                    lambda s: s[3],
                    lambda s: b["lost_motion"] - s[3],
                )
            else:
                way = 1 if contact == "skid" else -1
                watched["grip"] = lambda s, way=way: way * (s[1] - lever * s[2])
        events = [_ending(margin) for margin in watched.values()]
        run = solve_ivp(rates, (t, t + 60), y, "DOP853", rtol=1e-10, atol=1e-12, events=events, max_step=1e-2)  # fmt: skip
        t, y = run.t[-1], run.y[:, -1]
        ended = next(name for name, at in zip(watched, run.t_events, strict=True) if len(at))
        if ended == "motor":
            y[2] = 0.0
            y[1] = 0.0 if contact in ("push", "hold") else y[1]
        elif ended == "train":
            y[1] = 0.0
        elif ended == "grip":
            y[2] = y[1] / lever
        elif ended in ("back", "front"):
            y[3] = 0.0 if ended == "back" else b["lost_motion"]
    return y[0], t, told


def _ending(margin):
    """An event that ends a run where a margin falls through nothing."""

    def event(_, s):
        return margin(s)

    event.terminal, event.direction = True, -1.0
    return event


#: Stiffness of the teeth [N/m] and their damping per force [s/m], how much force it takes for a
#: wheel to creep beyond what it holds [N*s/m], the motor's speed below which friction fades [rad/s].
TOOTH, DAMPING, CREEP, FADES = 1e5, 100.0, 2e-3, 0.05


def yielding_stop(*, speed, **b):
    """Way [m] from a speed of the train [m/s], nothing rigid and nothing decided.

    Friction at rest is that in motion.
    """
    lever, slack = b["lever"], b["lost_motion"]

    def rates(_, s):
        _, v, w, gap = s
        closing = v - lever * w
        pressed = min(gap, 0.0) + max(gap - slack, 0.0)
        force = -TOOTH * pressed * max(1 + DAMPING * closing * np.sign(pressed), 0.0)
        creep = np.sign(force) * max(abs(force) - b["limit"], 0.0) / CREEP
        felt = force * lever * (b["gain"] if force > 0 else b["back"])
        resists = b["friction"] * np.tanh(w / FADES) + b["damping"] * w + felt
        rolls = b["rolling"] * np.tanh(v / (lever * FADES))
        return [v, (force - rolls) / b["mass"], -resists / b["inertia"], closing + creep]

    stands = _ending(lambda s: max(s[1], 3 * lever * s[2]) - 1e-4 * speed)
    start = [0.0, speed, speed / lever, 0.0]
    run = solve_ivp(rates, (0, 60), start, "LSODA", rtol=1e-6, atol=1e-9, events=stands)
    assert run.status == 1
    return run.y[0, -1]
