"""An evening at the track: what was run, started, pulled and rolled, as the hand wrote it."""

from tests.engines.hand import MM, Hand
from tests.engines.parts import Engine, Motor, State
from tests.engines.rolling import coast
from tests.engines.steady import Works

#: What a mechanism scatters from one try to the next, standard errors.
BREAKAWAY, FRICTION, ROLLS, PLACE = 0.03, 0.005, 0.02, 0.05


def motor_table(hand: Hand, motor: Motor, name: str) -> list[str]:
    """The readings of a motor alone, and its sizes."""
    chance, bench = hand.chance, hand.bench
    few = bench.kind == "sloppy"
    count = 1 if few and chance.yes(0.5) else chance.whole(2, 4)
    ohms = ", ".join(hand.ohms(motor.resistance) for _ in range(count))
    volts = motor.rated * chance.between(0.97, 1.02)
    speed, current = motor.free(volts)
    rpm = speed * 30 / 3.141592653589793 * (1 + chance.normal(0.005))
    lines = [
        f"[{name}]",
        f'kind = "{motor.kind}"',
        f"resistance = [{ohms}]",
        f"no_load = {{ voltage = {hand.volts(volts)}, current = {hand.amps(current, FRICTION)}, "
        f'speed = "{round(rpm, -1):.0f} rpm" }}',
    ]
    if chance.yes(0.5):
        low = min(0.25 * motor.rated, 3.0) + motor.brush_drop
        held = (low - motor.brush_drop) / motor.resistance
        lines.append(
            f"stall = {{ voltage = {hand.volts(low)}, current = {hand.amps(held, 0.02)} }}"
        )
    if chance.yes(0.5):
        start = (
            motor.brush_drop + motor.resistance * motor.friction * motor.stiction / motor.constant
        )
        if start > 2 * bench.volts_digit:
            lines.append(f"starting_voltage = {hand.volts(start, BREAKAWAY)}")
    if chance.yes(0.3):
        lines.append(f'inductance = "{motor.inductance * 1e3:.3g} mH"')
    if motor.kind == "ironless" and chance.yes(0.7):
        inertia = motor.rotor_inertia * (1 + chance.normal(0.02)) * 1e7
        lines.append(f'rotor_inertia = "{inertia:.3g} g*cm^2"')
    elif chance.yes(0.6):
        lines.append(f"rotor_diameter = {hand.length(motor.rotor_diameter, 0.2 * MM, inch=False)}")
        lines.append(f"rotor_length = {hand.length(motor.rotor_length, 0.2 * MM, inch=False)}")
    if chance.yes(0.6):
        lines.append(f"thermal_resistance = {motor.thermal * (1 + chance.normal(0.05)):.0f}")
    return [
        *lines,
        f"body_diameter = {hand.length(motor.body_diameter)}",
        f"body_length = {hand.length(motor.body_length)}",
        f"shaft_diameter = {hand.stock_size(motor.shaft)}",
        f"insulated = {str(motor.insulated).lower()}",
    ]


def throttles(works: Works, count: int, warmth: float) -> list[float]:
    """Settings between a crawl and full throttle at which it runs on."""
    full = works.engine.voltage
    low = min(1.15 * works.starting_voltage, 0.8 * full)
    steps = [low + (full - low) * n / max(count - 1, 1) for n in range(count)]
    return [volts for volts in steps if works.running(volts, warmth=warmth)]


def track(hand: Hand, engine: Engine, state: State, name: str) -> list[str]:
    """Everything that was read on the track in one state."""
    chance, bench = hand.chance, hand.bench
    works = Works(engine, state)
    starts = ", ".join(hand.volts(works.starting_voltage, BREAKAWAY) for _ in range(bench.starts))
    lines = [f"[{name}]", *([f"starting_voltage = [{starts}]"] if starts else [])]
    if works.stall_margin(engine.voltage) > 1.1 and chance.yes(0.9):
        here = engine.pull_at_slip * (1 + chance.normal(PLACE))
        # A careful man pulls at several places, and bets on what he saw them scatter.
        good_to = max(bench.spring_scale, 2 * PLACE * engine.pull_at_slip if bench.writes else 0)
        read = hand.force(here, bench.spring_scale, written=False).strip('"').removesuffix(" N")
        spread = f" +/- {good_to:.3f}" if bench.writes else ""
        lines.append(f'drawbar_pull = "{read}{spread} N"')
    lines += runs(hand, works, f"{name}.runs")
    lines += coasts(hand, works, f"{name}.coasts")
    return lines


def runs(hand: Hand, works: Works, name: str) -> list[str]:
    """Steady runs: throttle settings alone, then some with a weight on a string."""
    chance, bench, engine = hand.chance, hand.bench, works.engine
    plain = max(bench.runs - bench.pulls, 0)
    tries = [(volts, 0.0, True) for volts in throttles(works, plain, bench.warmth)]
    for n in range(bench.pulls):
        volts = engine.voltage * (0.7 + 0.3 * n / max(bench.pulls, 1))
        for part in (0.55, 0.35, 0.2, 0.1):
            pull = part * (1 - 0.25 * n) * engine.pull_at_slip
            slack = works.running(volts, 1.3 * pull, bench.warmth)
            if slack and engine.rolling_force + pull < 0.8 * engine.rim_limit:
                tries.append((volts, pull, True))
                break
    tries += [(engine.voltage, 0.0, False) for _ in range(bench.unmetered)]
    lines = []
    for volts, pull, metered in tries:
        volts *= chance.between(0.985, 1.01)
        weight = pull * (1 + chance.normal(0.005))
        found = works.running(volts, weight, bench.warmth * chance.between(0.8, 1.0))
        if not found:
            continue
        speed, current = found
        rail = works.rail(speed) * (1 + chance.normal(0.002))
        said = 0.25 * max(1, round(rail * 9 / 0.25)) if rail < 0.6 else 6.0
        far = min(said, 6.0) + hand.off(2 * bench.ruler)
        lines += ["", f"[[{name}]]", f"voltage = {hand.volts(volts)}"]
        if metered:
            lines.append(f"current = {hand.amps(current, FRICTION)}")
        lines += [
            f'distance = "{min(said, 6.0) * 1e3:.0f} mm"',
            f"time = {hand.seconds(far / rail)}",
        ]
        if pull:
            lines.append(f'pull = "{pull:.3f} N"')
    return lines


def coasts(hand: Hand, works: Works, name: str) -> list[str]:
    """Power cut from full or half throttle, rails open or shorted."""
    chance, bench, engine = hand.chance, hand.bench, works.engine
    order = [(1.0, "open"), (1.0, "shorted"), (0.5, "open"), (0.7, "shorted")]
    lines = []
    for part, rails in order[: bench.coasts]:
        volts = part * engine.voltage
        found = works.running(volts, warmth=bench.warmth)
        if not found:
            continue
        stop = coast(works, works.rail(found[0]), rails == "shorted")
        scatter = 1 + chance.normal(ROLLS)
        lines += ["", f"[[{name}]]", f"voltage = {hand.volts(volts)}", f'rails = "{rails}"']
        far = max(stop.distance * scatter + hand.off(bench.ruler), 0.0)
        lines.append(f'distance = "{round(far / MM):.0f} mm"')
        if bench.frame_rate and chance.yes(0.4):
            frames = max(round(stop.time * scatter * bench.frame_rate + chance.normal(0.5)), 1)
            lines.append(f"frames = {frames}")
        elif stop.time > 2.0 and chance.yes(0.5):
            lines.append(f"time = {hand.seconds(stop.time * scatter)}")
    return lines
