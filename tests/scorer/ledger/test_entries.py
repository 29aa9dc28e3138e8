import hashlib
from dataclasses import fields, replace
from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.ledger.acts import (
    ACTS,
    EntryId,
    EntryKind,
    MarkKeyed,
    NoteMade,
    Published,
    Stage,
    to_payload,
)
from scorer.ledger.canonical import canonical, parse
from scorer.ledger.entry import NO_ENTRY, Draft, Link, hash_of, seal, utc_text
from scorer.ledger.faults import LedgerError
from scorer.ledger.gate import UnfitError, read_act
from tests.scorer.ledger.ledger_desks import HALL, MORNING

LINK = Link(desk=HALL, number=3, tick=7, prev=EntryId("ab" * 32))


def a_draft(**more):
    return Draft(act=NoteMade(text="wind from 240°"), why="asked", token="t1", **more)


def test_the_hash_is_sha256_of_header_line_feed_and_payload():
    """Computed here by hand, as the page in every archive tells people to."""
    entry = seal(a_draft(), LINK, who="Ödön", when=MORNING)

    header = (
        '{"at":"2026-09-12T06:00:00.000000Z","desk":"hall-00000a","kind":"note",'
        f'"number":3,"prev":"{"ab" * 32}","replaces":[],"tick":7,"token":"t1",'
        '"who":"Ödön","why":"asked"}'
    )
    payload = '{"text":"wind from 240°","about":"","extra":{}}'
    assert entry.payload == payload
    assert entry.hash == hashlib.sha256(f"{header}\n{payload}".encode()).hexdigest()


def test_every_field_of_an_entry_is_under_its_hash():
    entry = seal(a_draft(replaces=(NO_ENTRY,)), LINK, who="ann", when=MORNING)

    for field in fields(entry):
        value = getattr(entry, field.name)
        if field.name != "hash":
            other = value + 1 if isinstance(value, int) else value + type(value)("x")
            assert hash_of(replace(entry, **{field.name: other})) != entry.hash


def test_the_order_of_what_an_entry_replaces_does_not_matter():
    one = seal(a_draft(replaces=("b" * 64, "a" * 64)), LINK, who="a", when=MORNING)
    other = seal(a_draft(replaces=("a" * 64, "b" * 64)), LINK, who="a", when=MORNING)

    assert one.hash == other.hash


def test_moments_are_written_in_utc_with_one_width():
    east = timezone(timedelta(hours=2))

    assert utc_text(datetime(2026, 9, 12, 8, tzinfo=east)) == (
        "2026-09-12T06:00:00.000000Z"
    )
    with pytest.raises(LedgerError, match="without a time zone"):
        utc_text(datetime(2026, 9, 12, 8))  # noqa: DTZ001


@pytest.mark.parametrize("text", ["nul \0", "half \ud83d"])
def test_text_that_no_database_holds_is_refused(text):
    with pytest.raises(LedgerError, match="type the text again"):
        seal(replace(a_draft(), why=text), LINK, who="ann", when=MORNING)
    with pytest.raises(LedgerError, match="type the text again"):
        seal(a_draft(), LINK, who=text, when=MORNING)


def test_nobody_writes_without_a_name():
    with pytest.raises(LedgerError, match="say who is at this desk"):
        seal(a_draft(), LINK, who=" ", when=MORNING)


plain = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False)
    | st.text(st.characters(codec="utf-8"))
    | st.dates()
    | st.times()
    | st.datetimes(timezones=st.just(UTC)),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text(st.characters(codec="utf-8")), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(plain)
def test_any_toml_or_json_value_comes_back_from_its_canonical_text(value):
    text = canonical(value)
    again = parse(text)

    assert again == value
    assert type(again) is type(value)
    assert canonical(again) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ({"b": 1, "a": 1.0}, '{"a":1.0,"b":1}'),
        ({"d": date(2026, 9, 12)}, '{"d":{"$date":"2026-09-12"}}'),
        (time(7, 30), '{"$time":"07:30:00"}'),
        ({"$date": "no date"}, '{"$$date":"no date"}'),
        (float("inf"), '{"$float":"inf"}'),
    ],
)
def test_canonical_text_is_what_it_was(value, text):
    """Fixed for good: hashes of every event ever kept depend on it."""
    assert canonical(value) == text
    assert parse(text) == value


def test_what_cannot_be_held_is_refused_with_what_can():
    with pytest.raises(LedgerError, match="it holds text, numbers"):
        canonical({"a": {1, 2}})
    with pytest.raises(LedgerError, match="text as keys"):
        canonical({1: "a"})


def test_columns_keep_their_order():
    act = MarkKeyed(flight="1", fields={"task": "1", "pilot": "7", "aa": "x"})

    again = read_act(EntryKind.MARK, to_payload(act))

    assert list(again.fields) == ["task", "pilot", "aa"]


def test_every_kind_has_an_act():
    assert set(ACTS) == set(EntryKind)


def test_a_publication_names_all_its_files():
    act = Published(
        stage=Stage.OFFICIAL, version=2, results="a" * 64, heads=("b" * 64,)
    )

    again = read_act(act.kind, to_payload(act))

    assert again == act
    assert again.files == ("a" * 64,)


def test_a_kind_from_the_future_is_named_as_such():
    with pytest.raises(
        UnfitError, match=r"teleport.*this version of the program knows"
    ):
        read_act("teleport", "{}")


@pytest.mark.parametrize("payload", ["{", "[]", '{"flight":"1"}', '{"x":1}', "3"])
def test_a_payload_that_cannot_be_read_says_what_stands_there_and_what_may(payload):
    with pytest.raises(UnfitError, match=r"found .*; allowed: "):
        read_act(EntryKind.MARK, payload)


def test_payloads_are_plain_json_for_anybody():
    act = MarkKeyed(flight="1", fields={"task": "1"})

    assert to_payload(act) == '{"flight":"1","fields":{"task":"1"},"source":""}'
