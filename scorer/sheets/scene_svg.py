"""Drawings as SVG: within a page its style gives the colours, alone they are put in.

`static/board.css` is the one place that says how a role looks.
"""

import re
from collections.abc import Callable, Sequence
from functools import cache
from html import escape
from importlib.resources import files

from markupsafe import Markup

from scorer.sheets.scene import Dot, Label, Line, Point, Scene, Shape

Look = Callable[[str, str], str]
"""The attributes of an element for a role."""


def svg(scene: Scene) -> Markup:
    """Return a drawing as an SVG element; every role is a class `d-…`."""
    size = f"0 0 {scene.width:g} {scene.height:g}"
    title = escape(scene.title)
    return Markup(  # noqa: S704 - everything entered is escaped here
        f'<svg class="drawing" viewBox="{size}" role="img" aria-label="{title}">'
        f"<title>{title}</title>{_drawn(scene, _classed)}</svg>"
    )


def standing_svg(scene: Scene) -> str:
    """Return a drawing as an SVG document of its own, for paper and export."""
    size = f'width="{scene.width:g}" height="{scene.height:g}"'
    box = f'viewBox="0 0 {scene.width:g} {scene.height:g}" font-family="Noto Sans"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box}>'
        f"<title>{escape(scene.title)}</title>{_drawn(scene, _coloured)}</svg>"
    )


def label_fill(label: Label) -> str:
    """Return the colour of a label in daylight, as `#rrggbb`."""
    return _coloured("text", label.role).removeprefix('fill="').removesuffix('"')


def _drawn(scene: Scene, look: Look) -> str:
    return "".join(_shape(shape, look) for shape in scene.shapes)


def _classed(_element: str, role: str) -> str:
    return f'class="d-{role}"'


@cache
def _coloured(element: str, role: str) -> str:
    """Return the look of a role in the colours of daylight, as attributes.

    They are faster to set than a style, which every picture would bring along.  The
    light edge of letters is left out: paper would draw each of them twice.
    """
    own = {element, f".d-{role}", f"{element}.d-{role}"}
    look: dict[str, str] = {}
    for selectors, declared in _rules():
        look |= declared if own & selectors else {}
    kept = ("fill",) if element == "text" else look
    return " ".join(f'{name}="{look[name]}"' for name in kept)


@cache
def _rules() -> tuple[tuple[frozenset[str], dict[str, str]], ...]:
    """Return the rules of drawings from the pages' style: selectors and declarations.

    They stand from the most general to the most special.
    """
    style = (files("scorer.sheets") / "static" / "board.css").read_text("utf-8")
    colours = dict(re.findall(r"(--[\w-]+): ([^;]+);", style[: style.index("@media")]))
    rules = re.findall(r"^(\.drawing [^{]*){([^}]*)}", style, re.MULTILINE)
    return tuple(
        (
            frozenset(s.strip().removeprefix(".drawing ") for s in wanted.split(",")),
            dict(_DECLARED.findall(_VARIABLE.sub(lambda f: colours[f[1]], declared))),
        )
        for wanted, declared in rules
    )


_VARIABLE = re.compile(r"var\((--[\w-]+)\)")
_DECLARED = re.compile(r"([\w-]+): ([^;]+);")


def _shape(shape: Shape, look: Look) -> str:
    match shape:
        case Line():
            return _line(shape, look)
        case Dot():
            return _dot(shape, look)
        case Label():
            return _label(shape, look)


def _line(line: Line, look: Look) -> str:
    end = "Z" if line.closed else ""
    return f'<path {look("path", line.role)} d="{_path(line.points)}{end}"/>'


def _path(points: Sequence[Point]) -> str:
    return "M" + " ".join([f"{x:.1f},{y:.1f}" for x, y in points])


def _dot(dot: Dot, look: Look) -> str:
    (x, y), r = dot.at, dot.radius
    if dot.sign == "cross":
        d = f"M{x - r:.1f},{y - r:.1f} l{2 * r:g},{2 * r:g}"
        d += f" M{x - r:.1f},{y + r:.1f} l{2 * r:g},{-2 * r:g}"
        return f'<path {look("path", dot.role)} d="{d}"/>'
    own = look("circle", dot.role)
    return f'<circle {own} cx="{x:.1f}" cy="{y:.1f}" r="{r:g}"/>'


def _label(label: Label, look: Look) -> str:
    x, y = label.at
    return (
        f'<text {look("text", label.role)} x="{x:.1f}" y="{y:.1f}" '
        f'font-size="{label.size:g}" text-anchor="{label.anchor}">'
        f"{escape(label.text)}</text>"
    )
