"""A stack that is as high as what stands in front, and as wide as the widest of all.

A page writes `bars = FrontStack(bar, other)` and `bars.setCurrentWidget(other)`: what waits
behind takes no room from the evidence above.
"""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QStackedWidget, QWidget


class FrontStack(QStackedWidget):
    """One of several widgets."""

    def __init__(self, *widgets: QWidget) -> None:
        super().__init__()
        for widget in widgets:
            self.addWidget(widget)
        self.currentChanged.connect(lambda _: self.updateGeometry())

    # Qt's interface: Qt's names.

    def sizeHint(self) -> QSize:
        """Ask for the height of what is in front."""
        front, all_ = self.currentWidget(), super().sizeHint()
        return QSize(all_.width(), front.sizeHint().height()) if front else all_

    def minimumSizeHint(self) -> QSize:
        """Ask for no less than what is in front needs."""
        front, all_ = self.currentWidget(), super().minimumSizeHint()
        return QSize(all_.width(), front.minimumSizeHint().height()) if front else all_

    def hasHeightForWidth(self) -> bool:
        """Say no: what is inside asks for its height itself."""
        return False
