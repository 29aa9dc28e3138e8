"""Winds as flown: the table and the hodograph, for pages and terminal alike.

A hodograph draws the wind of each layer as a point: how fast, and where to, a balloon was
carried there.  The line joins the layers from the ground up.
"""

import math
from collections.abc import Sequence

from scorer.event.model import Units
from scorer.facts import (
    Value,
    bearing,
    count,
    day,
    fact,
    flight,
    inner,
    number,
    term,
    words,
)
from scorer.rounding import half_up
from scorer.scoring.results import FlightResult, WindLayer
from scorer.sheets.scene import Dot, Label, Line, Point, Scene, Shape, nice_step
from scorer.words.voice import Voice

SPEEDS = {Units.METRIC: ("m/s", 1.0), Units.IMPERIAL: ("kt", 1852 / 3600)}
"""What a speed of the wind is read in, and that in metres a second."""
FEW = 3
"""Winds of fewer balloons are drawn hollow: these cannot correct each other."""
HPA_M = 0.12
"""Pressure of a metre of air near sea level, hPa (g p / R T)."""
MARGIN = 16.0
RINGS = 4
APART = 8.0
"""Heights are written beside points that are so far apart, in points."""


def wind_heads(voice: Voice) -> tuple[str, ...]:
    """Return the headings of the table; all its columns are numbers."""
    unit = words(SPEEDS[voice.units][0])
    return (
        voice.word("head-height"),
        voice.word("head-wind-from"),
        voice.say(fact("head-wind-speed", unit=unit)),
        voice.say(fact("head-wind-spread", unit=unit)),
        voice.word("head-wind-minutes"),
        voice.word("head-wind-balloons"),
    )


def wind_row(layer: WindLayer, voice: Voice) -> tuple[str, ...]:
    """Return one layer as people read it."""
    one_m_s = SPEEDS[voice.units][1]
    return (
        voice.length(layer.height_m, 0),
        voice.value(bearing(layer.from_deg)),
        voice.number(layer.speed_m_s / one_m_s, 1),
        voice.number(layer.spread_m_s / one_m_s, 1),
        voice.number(layer.seconds / 60, 0),
        voice.number(layer.balloons),
    )


def wind_title(own: FlightResult, voice: Voice) -> str:
    """Return what the table of a flight is called."""
    return voice.say(fact("title-winds", flight=flight(own.id), day=day(own.date)))


def air_lines(own: FlightResult, voice: Voice) -> tuple[str, ...]:
    """Return what is said of the air that the logs of a flight were read with."""
    air = own.air
    if air is None:
        return (voice.say(fact("air-none", flight=flight(own.id))),)
    warm, near, rise = (float(part) for part in air.mean)
    trend = fact("air-pressure-fell", by=_tenths(abs(rise) * HPA_M))
    if rise > 0.0:
        trend = fact("air-pressure-rose", by=_tenths(rise * HPA_M))
    told = fact(
        "air-told",
        logs=count(air.logs),
        warmer=_tenths(abs(warm)),
        way=term("air-warmer" if warm > 0.0 else "air-colder"),
        sigma=_tenths(float(air.cov[0, 0]) ** 0.5),
        inversion=_tenths(abs(near)),
        lower=term("air-ground-warmer" if near > 0.0 else "air-ground-colder"),
        trend=inner(trend),
        scale=_tenths(air.scale),
    )
    kept = voice.word("air-is-kept" if own.air_kept else "air-is-open")
    return voice.say(told), kept


def _tenths(amount: float) -> Value:
    return number(float(half_up(amount, 1)))


def hodograph(own: FlightResult, voice: Voice, size: float = 300.0) -> Scene | None:
    """Draw the winds of a flight, north up; None where no log shows any."""
    if not own.winds:
        return None
    unit, one_m_s = SPEEDS[voice.units]
    speeds = [layer.speed_m_s / one_m_s for layer in own.winds]
    step = nice_step(max(*speeds, 1.0), RINGS)
    rings = math.ceil(max(*speeds, 1.0) / step)
    scale = (size / 2.0 - MARGIN) / (rings * step)
    middle = size / 2.0

    def at(speed: float, toward_deg: float) -> Point:
        angle = math.radians(toward_deg)
        away = speed * scale
        x, y = middle + away * math.sin(angle), middle - away * math.cos(angle)
        return round(x, 2), round(y, 2)

    tips = [
        at(speed, layer.from_deg + 180.0)
        for speed, layer in zip(speeds, own.winds, strict=True)
    ]
    shapes: list[Shape] = [
        *_rose(middle, [n * step for n in range(1, rings + 1)], scale, (voice, unit)),
        Line(points=tuple(tips), role="track"),
        *(_tip(tip, layer) for tip, layer in zip(tips, own.winds, strict=True)),
        *_heights(tips, own.winds, voice),
    ]
    title = fact("picture-hodograph", flight=flight(own.id), day=day(own.date))
    return Scene(width=size, height=size, title=voice.say(title), shapes=tuple(shapes))


def _rose(
    middle: float, rings: Sequence[float], scale: float, speaks: tuple[Voice, str]
) -> list[Shape]:
    """Draw rings of equal speed and the four winds."""
    voice, unit = speaks
    edge = rings[-1] * scale
    shapes: list[Shape] = [
        Dot(at=(middle, middle), radius=round(speed * scale, 2), role="ring")
        for speed in rings
    ]
    ends = ((0, -1, "north"), (1, 0, "east"), (0, 1, "south"), (-1, 0, "west"))
    for x, y, name in ends:
        end = middle + x * edge, middle + y * edge
        shapes.append(Line(points=((middle, middle), end), role="grid"))
        text = voice.word(f"compass-{name}")
        beside = middle + x * (edge + 8), middle + y * (edge + 8) + 2.5
        shapes.append(Label(at=beside, text=text, role="axis-text", anchor="middle"))
    for speed in rings:
        away = speed * scale * math.sqrt(0.5)
        text = f"{voice.number(speed)} {unit}" if speed == rings[-1] else ""
        label = Label(
            at=(middle + away + 1.5, middle + away + 4.0),
            text=text or voice.number(speed),
            role="faint",
            size=6,
        )
        shapes.append(label)
    return shapes


def _tip(at: Point, layer: WindLayer) -> Dot:
    role = "mark" if layer.balloons >= FEW else "mark-few"
    return Dot(at=at, radius=2.2, role=role, sign="disc")


def _heights(
    tips: Sequence[Point], layers: Sequence[WindLayer], voice: Voice
) -> list[Label]:
    """Write the height beside each point that has room for it, the lowest first."""
    taken: list[Point] = []
    labels = []
    for tip, layer in zip(tips, layers, strict=True):
        if all(math.dist(tip, one) > APART for one in taken):
            taken.append(tip)
            beside = tip[0] + 4.0, tip[1] + 2.0
            text = voice.length(layer.height_m, 0)
            labels.append(Label(at=beside, text=text, size=6.0))
    return labels
