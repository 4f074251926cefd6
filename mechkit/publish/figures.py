"""The pictures in ``figures/``: ``python3 -m mechkit.publish.figures`` makes every one again."""

from collections.abc import Callable, Iterator
from functools import partial
from importlib import import_module
from pathlib import Path

from mechkit.drawings.elevation import elevation
from mechkit.drawings.picture import png
from mechkit.drawings.style import Look
from mechkit.drawings.turned import part_drawing
from mechkit.drive import sheet
from mechkit.drive.decisions.rebuild import rebuild

FOLDER = Path(__file__).parents[2] / "figures"
PANELS = ("flywheel", "wear", "gears", "fits", "springs", "motion", "diagnose", "choose", "rebuild")


def pictures() -> Iterator[tuple[str, Callable[[], bytes]]]:
    """Name and maker of every picture, from the demo's sheet."""
    bench = sheet.demo()

    def panel(name, look):
        return import_module(f"mechkit.panels.{name}").show(bench, look=look).still()

    for name in PANELS:
        yield name, partial(panel, name, Look())
    yield "flywheel-hall", partial(panel, "flywheel", Look(True, "hall", "inch"))
    yield "elevation", partial(png, partial(elevation, bench.data, Look()))
    yield "elevation-before", partial(png, partial(elevation, bench.data, Look(), "as_is"))
    for part in rebuild(bench.data).parts:
        name = f"part-{part.name.lower().replace(' ', '-')}"
        yield name, partial(png, partial(part_drawing, part, Look()))


def main() -> None:
    """Write every picture, and say so."""
    FOLDER.mkdir(exist_ok=True)
    for name, make in pictures():
        path = FOLDER / f"{name}.png"
        path.write_bytes(make())
        print(f"{path.name}: {path.stat().st_size // 1024} kB", flush=True)


if __name__ == "__main__":
    main()
