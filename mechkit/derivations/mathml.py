"""Equations typeset as MathML, which every browser shows by itself, offline and on paper.

What comes in are lines of `tables/equations.toml` (Python's own notation, printed as it
stands), letters of the vocabulary and the few formulas inside sentences (LaTeX).
"""

import ast
import re
from html import escape

from mechkit import names

#: Letters of the Greek alphabet as they are called, where the sign's own name is no HTML name.
GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "varepsilon": "ε", "zeta": "ζ", "eta": "η",
    "theta": "θ", "vartheta": "ϑ", "lambda": "λ", "lambda_": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "omega": "ω", "Delta": "Δ", "ell": "ℓ",
}  # fmt: skip
#: What the equations call besides the vocabulary: letter and words.
CONSTANTS = {
    "g": ("g", f"standard gravity, {names.STANDARD_GRAVITY:g} m/s²"),
    "L_z": ("L_z", f"Lorenz number, {names.LORENZ_NUMBER * 1e8:g}·10⁻⁸ V²/K², of all metals alike"),
}
#: How functions are written, where not as they are called.
CALLED = {"acos": "arccos", "atan": "arctan", "asin": "arcsin", "log": "ln"}
APART = '<mspace width="0.17em"/>'
TIMES, SIGN = "<mo>·</mo>", {ast.Add: "+", ast.Sub: "−", ast.Eq: "=", ast.Gt: ">", ast.LtE: "≤", ast.Lt: "<"}  # fmt: skip
_SUM, _PRODUCT, _SIGNED, _POWER = range(4)


def _row(*parts):
    return f"<mrow>{''.join(parts)}</mrow>"


def _fenced(inner, left="(", right=")"):
    return _row(f"<mo>{left}</mo>", inner, f"<mo>{right}</mo>")


def _sign(text):
    """One letter slanted; a word or a number of letters upright."""
    text = GREEK.get(text.lstrip("\\"), text)
    if text.isdigit():
        return f"<mn>{text}</mn>"
    return f"<mi>{text}</mi>" if len(text) == 1 else f'<mi mathvariant="normal">{escape(text)}</mi>'


def letter(latex):
    """A letter of the vocabulary.

    >>> letter("F_t")
    '<msub><mi>F</mi><mi>t</mi></msub>'
    """
    base, _, below = latex.partition("_")
    below = below.strip("{}")
    before, base = ("<mi>Δ</mi>", base[6:].strip()) if base.startswith("\\Delta") else ("", base)
    sign = _sign(base.rstrip("'"))
    if base.endswith("'"):
        sign = f"<msup>{sign}<mo>′</mo></msup>"
    if below:
        marks = re.findall(r"\\?[A-Za-z]+|\d+|\+|,", below)
        under = _row(*map(_sign, marks)) if len(marks) > 1 else _sign(below)
        sign = f"<msub>{sign}{under}</msub>"
    return _row(before, sign) if before else sign


def spelled(name, topic):
    """How a name in an equation is written: the vocabulary's letter, one of its own, or words."""
    if name in CONSTANTS:
        return CONSTANTS[name][0]
    if name in names.NAMES or f"{topic}.{name}" in names.NAMES:
        return names.entry(name, topic).letter or name.replace("_", " ")
    base, _, below = name.rstrip("_").partition("_")
    if len(base) == 1 or base in GREEK:
        return f"{base}_{{{below}}}" if below else base
    return name.replace("_", " ")


class _Line(ast.NodeVisitor):
    """Prints one line; each part comes with how tightly it holds together."""

    def __init__(self, topic):
        self.topic, self.row = topic, False

    def show(self, node, tight=_SUM):
        """A part of the line, in parentheses where it would fall apart."""
        shown, holds = self.visit(node)
        return _fenced(shown) if holds < tight else shown

    def visit_Name(self, node):
        latex = spelled(node.id, self.topic)
        if self.row and node.id in names.ROWS and not latex.endswith("_i"):
            latex += "_i"
        return letter(latex), 9

    def visit_Constant(self, node):
        return f"<mn>{node.value}</mn>", 9

    def visit_UnaryOp(self, node):
        return _row("<mo>−</mo>", self.show(node.operand, _PRODUCT)), _SIGNED

    def visit_BinOp(self, node):
        if isinstance(node.op, ast.Div):
            return f"<mfrac>{self.show(node.left)}{self.show(node.right)}</mfrac>", _POWER
        if isinstance(node.op, ast.Pow):
            return self._power(node), 8
        if isinstance(node.op, ast.Mult):
            left, right = self.show(node.left, _PRODUCT), self.show(node.right, _SIGNED + 1)
            numbers = right.startswith(("<mn>", "<msup><mn>")) or (
                left.endswith("</mn>") and right.startswith("<mfrac><mn>")
            )
            return _row(left, TIMES if numbers else APART, right), _PRODUCT
        right = _PRODUCT if isinstance(node.op, ast.Sub) else _SUM
        sign = f"<mo>{SIGN[type(node.op)]}</mo>"
        return _row(self.show(node.left), sign, self.show(node.right, right)), _SUM

    def _power(self, node):
        exponent = self.show(node.right)
        base = node.left
        if isinstance(base, ast.Call):
            called = ast.unparse(base.func)
            if called in {"sin", "cos", "tan"}:
                return self._applied(f"<msup><mi>{called}</mi>{exponent}</msup>", base.args[0])
        plain = isinstance(base, ast.Name | ast.Constant)
        shown = self.show(base, 0 if plain else 9)
        if shown.startswith("<msub>"):  # both marks over one another
            return f"<msubsup>{shown[6:-7]}{exponent}</msubsup>"
        return f"<msup>{shown}{exponent}</msup>"

    def _applied(self, function, argument):
        inner = self.show(argument)
        simple = isinstance(argument, ast.Name | ast.Constant)
        return _row(function, APART, inner) if simple else _row(function, _fenced(inner))

    def visit_Call(self, node):
        name = node.func.id
        if name == "sum":
            self.row = True
            inner = self.show(node.args[0], _PRODUCT)
            self.row = False
            return _row("<munder><mo>∑</mo><mi>i</mi></munder>", inner), _PRODUCT
        inner = [self.show(argument) for argument in node.args]
        match name:
            case "sqrt":
                return f"<msqrt>{inner[0]}</msqrt>", 9
            case "exp":
                return f"<msup><mi>e</mi>{inner[0]}</msup>", 8
            case "abs":
                return _fenced(inner[0], "|", "|"), 9
            case "floor":
                return _fenced(inner[0], "⌊", "⌋"), 9
            case "min" | "max":
                return _row(f"<mi>{name}</mi>", _fenced("<mo>,</mo>".join(inner))), 9
        return self._applied(f"<mi>{CALLED.get(name, name)}</mi>", node.args[0]), _POWER

    def visit_Compare(self, node):
        sign = f"<mo>{escape(SIGN[type(node.ops[0])])}</mo>"
        return _row(self.show(node.left), sign, self.show(node.comparators[0])), _SUM

    def visit_IfExp(self, node):
        cases = []
        while isinstance(node, ast.IfExp):
            cases.append((self.show(node.body), f"<mtext>for </mtext>{self.show(node.test)}"))
            node = node.orelse
        cases.append((self.show(node), "<mtext>else</mtext>"))
        rows = "".join(f"<mtr><mtd>{one}</mtd><mtd>{when}</mtd></mtr>" for one, when in cases)
        table = f'<mtable columnalign="left left">{rows}</mtable>'
        return _fenced(table, "{", ""), _SUM


def math(inner, *, block=False, said=""):
    """A whole formula for a page."""
    how = ' display="block"' if block else ""
    alternative = f' alttext="{escape(said)}"' if said else ""
    return f"<math{how}{alternative}>{inner}</math>"


def line(text, topic):
    """One line of an equation, left and right side.

    >>> line("stall_current = voltage / resistance", "motor")
    '<mrow><msub><mi>I</mi><mi>s</mi></msub><mo>=</mo><mfrac><mi>U</mi><mi>R</mi></mfrac></mrow>'
    """
    result, _, expression = text.partition(" = ")
    shown = _Line(topic)
    right = shown.show(ast.parse(expression, mode="eval").body)
    return _row(letter(spelled(result, topic)), "<mo>=</mo>", right)


def used(lines):
    """Every name in some lines that is not a function, in the order of reading."""
    found: dict[str, None] = {}
    for text in lines:
        tree = ast.parse(text.replace(" = ", " == ", 1), mode="eval")
        called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
        for node in sorted(
            (n for n in ast.walk(tree) if isinstance(n, ast.Name) and id(n) not in called),
            key=lambda n: n.col_offset,
        ):
            found[node.id] = None
    return [name for name in found if name != "pi"]


def sentence(text):
    """A sentence whose formulas stand between dollars, as HTML.

    >>> sentence("Half a turn is $\\\\pi$.")
    'Half a turn is <math><mi>π</mi></math>.'
    """
    parts = re.split(r"\$([^$]*)\$", text)
    for n, part in enumerate(parts):
        parts[n] = math(_inline(part)) if n % 2 else escape(part, quote=False)
    return "".join(parts)


def _inline(latex):
    """A short formula of a sentence; juxtaposed letters are factors."""
    if re.fullmatch(r"\\?[A-Za-z]+(_\w)?", latex):
        return letter(latex)
    text = re.sub(r"\\tan\s*\\?(\w+)", r"tan(\1)", latex).replace("\\", " ").strip()
    text = re.sub(r"\blambda\b", "lambda_", text.replace("^", "**"))
    text = re.sub(r"(?<=[0-9A-Za-z_)])\s*\s(?=[A-Za-z(])|(?<=\d)(?=[A-Za-z])", "*", text)
    if " = " in text:
        return line(text, "")
    return _Line("").show(ast.parse(text, mode="eval").body)
