"""Drawings as SVG: within a page its style gives the colours, alone they are put in.

`static/board.css` is the one place that says how a role looks.
"""

import re
from collections.abc import Sequence
from functools import cache
from html import escape
from importlib.resources import files

from markupsafe import Markup

from scorer.sheets.scene import Dot, Label, Line, Point, Scene, Shape


def svg(scene: Scene) -> Markup:
    """Return a drawing as an SVG element; every role is a class `d-…`."""
    size = f"0 0 {scene.width:g} {scene.height:g}"
    title = escape(scene.title)
    shapes = "".join(_shape(shape) for shape in scene.shapes)
    return Markup(  # noqa: S704 - everything entered is escaped here
        f'<svg class="drawing" viewBox="{size}" role="img" aria-label="{title}">'
        f"<title>{title}</title>{shapes}</svg>"
    )


def standing_svg(scene: Scene) -> str:
    """Return a drawing as an SVG document of its own, for paper and export."""
    size = f'width="{scene.width:g}" height="{scene.height:g}"'
    box = f'viewBox="0 0 {scene.width:g} {scene.height:g}"'
    shapes = "".join(_shape(shape) for shape in scene.shapes)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" {size} {box}>'
        f"<title>{escape(scene.title)}</title><style>{_style(scene)}</style>{shapes}</svg>"
    )


def _style(scene: Scene) -> str:
    """Return the rules that a drawing needs."""
    roles = {f"d-{shape.role}" for shape in scene.shapes}
    return "".join(rule for own, rule in _rules() if not own or own & roles)


@cache
def _rules() -> tuple[tuple[frozenset[str], str], ...]:
    """Return the rules of drawings from the pages' style, in the colours of daylight.

    Each comes with the roles it is for, none of them where it is for all.
    """
    style = (files("scorer.sheets") / "static" / "board.css").read_text("utf-8")
    colours = dict(re.findall(r"(--[\w-]+): ([^;]+);", style[: style.index("@media")]))
    rules = re.findall(r"^\.drawing [^{]*{[^}]*}", style, re.MULTILINE)
    plain = (_VARIABLE.sub(lambda f: colours[f[1]], rule) for rule in rules)
    return tuple(
        (frozenset(re.findall(r"d-[\w-]+", rule)), rule.replace(".drawing ", ""))
        for rule in plain
    )


_VARIABLE = re.compile(r"var\((--[\w-]+)\)")


def _shape(shape: Shape) -> str:
    match shape:
        case Line():
            return _line(shape)
        case Dot():
            return _dot(shape)
        case Label():
            return _label(shape)


def _line(line: Line) -> str:
    end = "Z" if line.closed else ""
    return f'<path class="d-{line.role}" d="{_path(line.points)}{end}"/>'


def _path(points: Sequence[Point]) -> str:
    return "M" + " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


def _dot(dot: Dot) -> str:
    (x, y), r = dot.at, dot.radius
    if dot.sign == "cross":
        d = f"M{x - r:.1f},{y - r:.1f} l{2 * r:g},{2 * r:g}"
        d += f" M{x - r:.1f},{y + r:.1f} l{2 * r:g},{-2 * r:g}"
        return f'<path class="d-{dot.role}" d="{d}"/>'
    return f'<circle class="d-{dot.role}" cx="{x:.1f}" cy="{y:.1f}" r="{r:g}"/>'


def _label(label: Label) -> str:
    x, y = label.at
    return (
        f'<text class="d-{label.role}" x="{x:.1f}" y="{y:.1f}" '
        f'font-size="{label.size:g}" text-anchor="{label.anchor}">'
        f"{escape(label.text)}</text>"
    )
