"""results.json is written as Python's own writer has it, only faster."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.scoring.document import indented

LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text()
)
TREES = st.recursive(
    LEAVES,
    lambda own: (
        st.lists(own, max_size=4)
        | st.tuples(own, own)
        | st.dictionaries(st.text() | st.integers(), own, max_size=4)
    ),
    max_leaves=25,
)


@settings(max_examples=150, deadline=None)
@given(TREES)
def test_the_text_is_that_of_the_standard_library(tree):
    """Source: json of Python's standard library, whose bytes were published so far."""
    usual = json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False)
    assert indented(tree) == usual
