"""What a table is written as is read back cell by cell."""

import pytest

from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.event.tables import read_csv, write_csv


@pytest.mark.parametrize(
    "cell", ["a\rb", "a\r\nb", "a\nb", "# no comment", "a,b;c", '"', "a\u2028b\x0bc"]
)
def test_a_cell_comes_back_whatever_stands_in_it(cell):
    rows = [
        RawRow(fields={"one": cell, "two": "x"}),
        RawRow(fields={"one": "y", "two": cell}),
    ]
    faults = Faults()

    again = read_csv(write_csv(rows, ("one", "two")), "t.csv", ("one", "two"), faults)

    assert faults.found == []
    assert [row.fields for row in again] == [row.fields for row in rows]
