"""Drawings for the web: inline SVG whose colours come from the page's style."""

from collections.abc import Sequence
from html import escape

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
