"""What a breach costs: the same four answers for every rule, with their figures."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from gui.flow import Flow
from gui.parts.kept import put_text, text_of
from gui.widgets import choice, choose, field, held, label, say_or_hide
from scorer.event.answering import Cost, Costs
from scorer.event.model import PenaltyUnit, Units
from scorer.event.questions import BreachMeasure
from scorer.event.rulebook import Count
from scorer.words.voice import Voice

COUNTED = (PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS, PenaltyUnit.METRES)
ENDING = (PenaltyUnit.NO_RESULT, PenaltyUnit.DISQUALIFIED)

WAY = "cost"
"""By which name the way is kept that is chosen."""


def units_of(worked: BreachMeasure, units: Units) -> tuple[str, ...]:
    """Return in what a breach may be counted, the event's own unit first."""
    if worked is BreachMeasure.NONE:
        return ()
    if worked is BreachMeasure.LATE:
        return ("min", "s", "h")
    if units is Units.IMPERIAL:
        return ("ft", "mi", "m", "km")
    return ("m", "km", "ft", "mi")


class CostsForm(QWidget):
    """Four rows; the fields of a row stand in its sentence."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("What it costs")
        self._voice = Voice()
        self.bare = "m"
        self._kept = Costs(way=Cost.DECIDED)
        self.ways = QButtonGroup(self)
        self.radios: dict[Cost, QRadioButton] = {}
        self.ending = choice("What it ends")
        self.unit = choice("Paid in")
        self.step_unit = choice("Steps paid in")
        self.base = self._number("Fixed amount")
        self.per = self._number("Amount for each")
        self.of = choice("Counted in")
        self.most = self._number("At most")
        self.steps = field("Steps", "50 from 0, 200 from 9", letters=36)
        self.steps.textEdited.connect(lambda _: self._touched(Cost.BY_STEPS))
        self.fault = label(look="bad", wrap=True)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self._row(Cost.NO_RESULT, "1", self.ending))
        self._each = (label("fixed, and"), label("for each"))
        first = (self.unit, self.base, self._each[0], self.per, self._each[1])
        amount: tuple[QWidget, ...] = (*first, self.of, label("at most"), self.most)
        rows.addWidget(self._row(Cost.BY_AMOUNT, "2", *amount))
        steps = (self.step_unit, self.steps)
        self._by_steps = self._row(Cost.BY_STEPS, "3", *steps)
        rows.addWidget(self._by_steps)
        rows.addWidget(self._row(Cost.DECIDED, "4"))
        rows.addWidget(self.fault)
        self.fault.hide()
        boxes: tuple[tuple[QComboBox, Cost], ...] = (
            (self.ending, Cost.NO_RESULT),
            (self.unit, Cost.BY_AMOUNT),
            (self.of, Cost.BY_AMOUNT),
            (self.step_unit, Cost.BY_STEPS),
        )
        for box, way in boxes:
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.activated.connect(self._touching(way))

    def _number(self, name: str) -> QLineEdit:
        box = field(name, letters=6)
        box.textEdited.connect(lambda _: self._touched(Cost.BY_AMOUNT))
        return box

    def _touching(self, way: Cost) -> Callable[[int], None]:
        return lambda _: self._touched(way)

    def _row(self, way: Cost, key: str, *fields: QWidget) -> QWidget:
        radio = QRadioButton(f"{key}   {self._voice.word(f'cost-{way}')}")
        radio.setAccessibleDescription(f"Key: {key}")
        self.radios[way] = radio
        self.ways.addButton(radio)
        radio.clicked.connect(lambda _=False: self.edited.emit())
        if not fields:
            return radio
        flow = Flow()
        flow.addWidget(radio)
        for one in fields:
            flow.addWidget(one)
        return held(flow)

    def _touched(self, way: Cost) -> None:
        """What is filled in is chosen."""
        self.radios[way].setChecked(True)
        self._kept = Costs(way=Cost.DECIDED)
        self.edited.emit()

    def show_rule(self, worked: BreachMeasure, units: Units, voice: Voice) -> None:
        """Offer what fits a rule: in what its breach is counted."""
        self._voice = voice
        offered = units_of(worked, units)
        self.bare = offered[0] if offered else ""
        _fill(self.ending, [(voice.term(f"unit-{u}"), str(u)) for u in ENDING])
        paid = [(voice.term(f"unit-{u}"), str(u)) for u in COUNTED]
        _fill(self.unit, paid)
        _fill(self.step_unit, paid)
        pairs = [(count, of) for of in offered for count in Count]
        _fill(
            self.of,
            [(voice.term(f"{count}-{of}"), f"{count} {of}") for count, of in pairs],
        )
        for one in (*self._each, self.per, self.of):
            one.setVisible(bool(offered))
        self._by_steps.setVisible(bool(offered))
        self.steps.setPlaceholderText(f"50 from 0 {self.bare}, 200 from 9 {self.bare}")
        self.refuse("")

    def put(self, costs: Costs) -> None:
        """Fill in what a book says."""
        self._kept = costs
        self.radios[costs.way].setChecked(True)
        ends = costs.unit in ENDING
        choose(self.ending, str(costs.unit if ends else PenaltyUnit.NO_RESULT))
        paid = str(PenaltyUnit.TASK_POINTS if ends else costs.unit)
        choose(self.unit, paid)
        choose(self.step_unit, paid)
        choose(self.of, f"{costs.count} {costs.of or self.bare}")
        for box, text in (
            (self.base, costs.base),
            (self.per, costs.per),
            (self.most, costs.most),
            (self.steps, costs.steps),
        ):
            box.setText(text)

    def take(self, way: Cost) -> None:
        """Choose one of the four, as its number does."""
        radio = self.radios[way]
        if radio.isVisibleTo(self):
            radio.setChecked(True)
            if way is Cost.BY_AMOUNT:
                (self.per if self.per.isVisibleTo(self) else self.base).setFocus()
            elif way is Cost.BY_STEPS:
                self.steps.setFocus()
            else:
                radio.setFocus()
            self.edited.emit()

    @property
    def costs(self) -> Costs:
        """What is filled in."""
        way = next(w for w, radio in self.radios.items() if radio.isChecked())
        if self._kept.kept and way is self._kept.way:
            return self._kept
        boxes = {Cost.NO_RESULT: self.ending, Cost.BY_STEPS: self.step_unit}
        count, _, of = str(self.of.currentData() or f"{Count.EXACT} ").partition(" ")
        return Costs(
            way=way,
            unit=PenaltyUnit(boxes.get(way, self.unit).currentData()),
            base=self.base.text(),
            per=self.per.text() if self.bare else "",
            of=of if way is Cost.BY_AMOUNT else self.bare,
            count=Count(count),
            most=self.most.text(),
            steps=self.steps.text(),
        )

    @property
    def _boxes(self) -> dict[str, QLineEdit | QComboBox]:
        return {
            "ending": self.ending,
            "unit": self.unit,
            "step unit": self.step_unit,
            "of": self.of,
            "base": self.base,
            "per": self.per,
            "most": self.most,
            "steps": self.steps,
        }

    @property
    def texts(self) -> dict[str, str]:
        """What is filled in, to be kept as it stands; nothing where a book says it."""
        way = next(w for w, radio in self.radios.items() if radio.isChecked())
        if self._kept.kept and way is self._kept.way:
            return {}
        filled = {f"cost {name}": text_of(box) for name, box in self._boxes.items()}
        return {**filled, WAY: str(way)}

    def put_texts(self, texts: Mapping[str, str]) -> None:
        """Put back what was kept."""
        if WAY not in texts:
            return
        self._kept = Costs(way=Cost.DECIDED)
        self.radios[Cost(texts[WAY])].setChecked(True)
        for name, box in self._boxes.items():
            put_text(box, texts.get(f"cost {name}", ""))

    def refuse(self, fault: str) -> None:
        """Say what is wrong; nothing = all is well."""
        say_or_hide(self.fault, fault, "bad")


def _fill(box: QComboBox, options: list[tuple[str, str]]) -> None:
    box.blockSignals(True)
    box.clear()
    for text, value in options:
        box.addItem(text, value)
    box.blockSignals(False)
