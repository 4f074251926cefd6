"""How the kit's pages are set and dressed: templates, the house style, everything in one file."""

import base64
from pathlib import Path

import jinja2

from mechkit.drawings.style import FAMILY, FONTS, GROUND, PALETTE

HERE = Path(__file__).parent


def environment() -> jinja2.Environment:
    """The templates beside this file; a name that they miss is an error."""
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(HERE),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )


def inlined(file: Path) -> str:
    """A file as an address that holds all of it, so that the page needs no other."""
    kind = {".woff2": "font/woff2", ".png": "image/png"}[file.suffix]
    return f"data:{kind};base64,{base64.b64encode(file.read_bytes()).decode('ascii')}"


def stylesheet(rules: str) -> str:
    """A page's rules, its typeface and the palette, in one piece."""
    faces = "".join(
        f"@font-face{{font-family:'{FAMILY}';font-weight:{weight};"
        f"src:url({inlined(FONTS / file)}) format('woff2')}}\n"
        for file, weight in (
            ("BarlowSemiCondensed-Regular.woff2", 400),
            ("BarlowSemiCondensed-SemiBold.woff2", 600),
        )
    )
    tones = "".join(f"--{name}:{tone.paper};" for name, tone in (PALETTE | GROUND).items())
    return f"{faces}:root{{{tones}}}\n{(HERE / rules).read_text('utf-8')}"
