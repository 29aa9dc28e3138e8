"""Drawings on paper: vectors with the colours of our sheets."""

from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor

from scorer.sheets.paper import INK, LINE, Paper
from scorer.sheets.scene import Dot, Label, Line, Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a role is drawn; None leaves a part out."""

    stroke: Color | None = None
    fill: Color | None = None
    line: float = 0.6
    dash: tuple[float, ...] = ()


RED, BLUE, GREEN = HexColor(0xB3261E), HexColor(0x1F4E8C), HexColor(0x2E6B3E)
FAINT = HexColor(0x767C80)
LOOKS = {
    "ground": Look(fill=HexColor(0xFBF9F4)),
    "sky": Look(fill=HexColor(0xFBF9F4)),
    "edge": Look(stroke=LINE, line=0.5),
    "scoring": Look(fill=HexColor(0xE3EFE2)),
    "scoring-edge": Look(stroke=GREEN, line=0.5),
    "boundary": Look(fill=HexColor(0xF4EFE2)),
    "boundary-edge": Look(stroke=HexColor(0x8A7346), line=0.6, dash=(3, 2)),
    "launch": Look(fill=HexColor(0xE8EEF4)),
    "launch-edge": Look(stroke=BLUE, line=0.5),
    "prohibited": Look(fill=HexColor(0xF6DEDA)),
    "prohibited-edge": Look(stroke=RED, line=0.6),
    "area": Look(fill=HexColor(0xEFEFEF)),
    "area-edge": Look(stroke=FAINT, line=0.5),
    "ring": Look(stroke=HexColor(0xD5CDBD), line=0.4),
    "track": Look(stroke=BLUE, line=0.9),
    "found": Look(stroke=RED, line=1.8),
    "launched": Look(fill=GREEN),
    "landed": Look(fill=INK),
    "target": Look(stroke=INK, line=1.3),
    "spot": Look(stroke=RED, line=1.0),
    "mark": Look(fill=HexColor(0xA8521C)),
    "axis": Look(stroke=INK, line=0.5),
    "grid": Look(stroke=HexColor(0xE2DCCF), line=0.4),
    "zero": Look(stroke=HexColor(0x8A7346), line=0.8),
    "breach": Look(fill=HexColor(0xF6DEDA)),
    "band": Look(fill=HexColor(0xC9D8E8)),
    "height": Look(stroke=BLUE, line=0.9),
    "limit": Look(stroke=RED, line=0.9, dash=(4, 2)),
}
TEXTS = {"label": INK, "faint": FAINT, "axis-text": INK, "limit": RED}


def place(paper: Paper, scene: Scene, x: float, top: float, scale: float = 1.0) -> None:
    """Draw a scene with its top left corner at x and `top`."""
    canvas = paper.canvas
    canvas.saveState()
    canvas.translate(x, top)
    canvas.scale(scale, scale)
    for shape in scene.shapes:
        match shape:
            case Line():
                _line(paper, shape)
            case Dot():
                _dot(paper, shape)
            case Label():
                _label(paper, shape)
    canvas.restoreState()


def _set(paper: Paper, role: str) -> tuple[int, int]:
    look = LOOKS[role]
    canvas = paper.canvas
    canvas.setLineWidth(look.line)
    canvas.setDash(*((list(look.dash), 0) if look.dash else ([], 0)))
    canvas.setLineJoin(1)
    if look.stroke is not None:
        canvas.setStrokeColor(look.stroke)
    if look.fill is not None:
        canvas.setFillColor(look.fill)
    return int(look.stroke is not None), int(look.fill is not None)


def _line(paper: Paper, line: Line) -> None:
    stroke, fill = _set(paper, line.role)
    path = paper.canvas.beginPath()
    (x, y), *others = line.points
    path.moveTo(x, -y)
    for x, y in others:
        path.lineTo(x, -y)
    if line.closed:
        path.close()
    paper.canvas.drawPath(path, stroke=stroke, fill=fill)


def _dot(paper: Paper, dot: Dot) -> None:
    stroke, fill = _set(paper, dot.role)
    (x, y), r, canvas = dot.at, dot.radius, paper.canvas
    if dot.sign == "cross":
        canvas.line(x - r, -y - r, x + r, -y + r)
        canvas.line(x - r, -y + r, x + r, -y - r)
    else:
        canvas.circle(x, -y, r, stroke=stroke, fill=fill)


def _label(paper: Paper, label: Label) -> None:
    align = {"start": "left", "middle": "center", "end": "right"}[label.anchor]
    paper.text(
        label.at[0],
        -label.at[1],
        label.text,
        size=label.size,
        colour=TEXTS[label.role],
        align=align,
        halo=True,
    )
