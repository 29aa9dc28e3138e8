"""Entries: one act of one official, sealed by a hash into its desk's chain.

The hash covers a header (canonical JSON of text and whole numbers only) and the payload
text as stored, so that anybody can check a chain without knowing what payloads mean.
The first entry of an event is its root; each desk's first entry names the root as the
one before, every later entry names its desk's last one.

`tick` orders entries across desks: one more than the greatest tick the writing desk had
seen.  So an entry always comes after all that its author could know of, whatever the
clocks say; `when` is for people only.
"""

import hashlib
import json
import secrets
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from scorer.event.model import SetAside
from scorer.ledger.acts import (
    Act,
    Aside,
    DeskId,
    EntryId,
    Published,
    Sha256,
    to_payload,
)
from scorer.ledger.faults import LedgerError
from scorer.ledger.files import Content
from scorer.ledger.gate import UnfitError, check_act, read_act

NO_ENTRY = EntryId("0" * 64)
"""What the root of an event names as the one before."""
UNWRITTEN = DeskId("tried-000000")
"""Desk of entries that are tried out, and perhaps never written."""


def new_token() -> str:
    """Return a token that makes writing the same draft twice harmless."""
    return secrets.token_hex(12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An act to be written; the ledger adds the desk, its number and the hash."""

    act: Act
    why: str = ""
    replaces: tuple[EntryId, ...] = ()
    """Entries that this one takes the place of."""
    files: Mapping[Sha256, Content] = field(default_factory=dict)
    """Content of files that the act names and the ledger may not hold yet."""
    token: str = field(default_factory=new_token)
    """A draft of the same desk and content whose token is in the ledger already is not
    written again; with other content it is refused."""


Order = tuple[int, str, int, str]
"""What sorts entries: tick, desk, number, hash."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One sealed entry, as stored."""

    desk: DeskId
    number: int
    """Counts from 1 within the desk."""
    tick: int
    kind: str
    payload: str
    """The act as canonical JSON."""
    who: str
    at: str
    """The desk's wall clock, ISO 8601 UTC."""
    why: str = ""
    replaces: tuple[EntryId, ...] = ()
    token: str = ""
    prev: EntryId
    hash: EntryId

    @property
    def id(self) -> EntryId:
        """The entry's hash, by which other entries name it."""
        return self.hash

    @property
    def label(self) -> str:
        """Name for people: desk and number; one that is only tried out has neither."""
        if self.desk == UNWRITTEN:
            return "the new entry"
        return f"{self.desk} #{self.number}"

    @property
    def when(self) -> datetime:
        """The desk's wall clock when the entry was written; 1970 where `at` is no moment.

        A time without a zone is no moment; such an entry is set aside.
        """
        try:
            written = datetime.fromisoformat(self.at)
        except ValueError:
            written = None
        if written is None or written.tzinfo is None:
            return datetime.fromtimestamp(0, UTC)
        return written

    @property
    def act(self) -> Act:
        """The act, read anew at each call; `Aside` where it does not pass the gate."""
        try:
            return read_act(self.kind, self.payload)
        except UnfitError as error:
            return set_aside(self, error)

    @property
    def order(self) -> Order:
        """Key that sorts entries of all desks in the one order of replay."""
        return (self.tick, self.desk, self.number, self.hash)


RawRow = bytes
"""An entry as a file holds it: all but its payload as a JSON list, in which no line feed
stands, a line feed, and the payload."""
HEAD = (
    "hash",
    "prev",
    "token",
    "kind",
    "desk",
    "who",
    "at",
    "why",
    "replaces",
    "seq",
    "number",
    "tick",
)
"""What stands in that list, text first."""
NAME_AT, TOKEN_AT = slice(2, 66), 136
"""Where in it the hash stands, and where the token begins, as a desk writes them."""


def text_of(data: bytes) -> str:
    """Return a text as it is read from an event file; a flipped bit is not lost."""
    return data.decode("utf-8", "surrogateescape")


def of_raw(row: RawRow) -> Entry:
    """Make the entry of a row that was found sound before."""
    head, _, payload = row.partition(b"\n")
    own = dict(zip(HEAD, json.loads(text_of(head)), strict=False))
    return Entry(
        desk=DeskId(own["desk"]),
        number=own["number"],
        tick=own["tick"],
        kind=own["kind"],
        payload=text_of(payload),
        who=own["who"],
        at=own["at"],
        why=own["why"],
        replaces=tuple(map(EntryId, own["replaces"].split())),
        token=own["token"],
        prev=EntryId(own["prev"]),
        hash=EntryId(own["hash"]),
    )


def set_aside(entry: Entry, error: UnfitError) -> Aside:
    """Return what stands in the place of an act that cannot be applied."""
    desk, who, kind = (plain(text) for text in (entry.desk, entry.who, entry.kind))
    record = SetAside(
        entry=entry.hash,
        label=f"{desk} #{entry.number}",
        desk=desk,
        who=who,
        kind=kind,
        field=error.field,
        found=error.found,
        allowed=error.allowed,
    )
    return Aside(record=record)


def plain(text: str, most: int = 80) -> str:
    """Return as much of a foreign text as a message can show on one line."""
    some = "".join(c if c.isprintable() else "?" for c in text[:most])
    return some.encode("utf-8", "replace").decode()


def utc_text(moment: datetime) -> str:
    """Write a moment as ISO 8601 in UTC with microseconds, always 27 characters."""
    if moment.tzinfo is None:
        raise LedgerError(f"the clock gave {moment} without a time zone")
    return moment.astimezone(UTC).isoformat(timespec="microseconds")[:26] + "Z"


def same_act(entry: Entry, other: Entry) -> bool:
    """Tell whether two entries are one draft of one official at one desk."""
    return all(
        getattr(entry, name) == getattr(other, name)
        for name in ("desk", "kind", "payload", "who", "why", "replaces", "token")
    )


def hash_of(entry: Entry) -> EntryId:
    """Return the hash that an entry's content must have."""
    header = json.dumps(
        {
            "at": entry.at,
            "desk": entry.desk,
            "kind": entry.kind,
            "number": entry.number,
            "prev": entry.prev,
            "replaces": list(entry.replaces),
            "tick": entry.tick,
            "token": entry.token,
            "who": entry.who,
            "why": entry.why,
        },
        sort_keys=True,
        ensure_ascii=False,
        separators=(",", ":"),
    )
    content = f"{header}\n{entry.payload}".encode("utf-8", "surrogateescape")
    return EntryId(hashlib.sha256(content).hexdigest())


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Where a desk's next entry goes."""

    desk: DeskId
    number: int
    tick: int
    prev: EntryId


def seal(draft: Draft, link: Link, *, who: str, when: datetime) -> Entry:
    """Make the entry of a draft."""
    if not who.strip():
        raise LedgerError("an entry needs a name: say who is at this desk")
    try:
        check_act(draft.act)
    except UnfitError as error:
        where = getattr(draft.act, "source", "") or "this"
        raise LedgerError(f"{where} cannot be written down: {error}") from error
    unsealed = Entry(
        desk=link.desk,
        number=link.number,
        tick=link.tick,
        kind=str(draft.act.kind),
        payload=to_payload(draft.act),
        who=_plain_text(who),
        at=utc_text(when),
        why=_plain_text(draft.why),
        replaces=tuple(sorted(set(draft.replaces))),
        token=draft.token,
        prev=link.prev,
        hash=NO_ENTRY,
    )
    return replace(unsealed, hash=hash_of(unsealed))


def heads_of(entries: Iterable[Entry]) -> tuple[EntryId, ...]:
    """Return the last entry of every chain, sorted."""
    every = tuple(entries)
    before = {entry.prev for entry in every}
    return tuple(sorted(entry.hash for entry in every if entry.hash not in before))


def ancestors(entries: Iterable[Entry], heads: Iterable[EntryId]) -> set[EntryId]:
    """Return some entries and all that stand before them in their chains."""
    before = {entry.hash: entry.prev for entry in entries}
    found: set[EntryId] = set()
    for head in heads:
        name = head
        while name in before and name not in found:
            found.add(name)
            name = before[name]
    return found


def publications(entries: Iterable[Entry]) -> Iterator[tuple[Entry, Published]]:
    """Yield all publications in the order of entries, withdrawn ones too."""
    acts = ((entry, entry.act) for entry in entries if entry.kind == Published.kind)
    return ((entry, act) for entry, act in acts if isinstance(act, Published))


_NAMING = ("complaint", "against", "about")
"""Fields of acts that name an entry."""
_DRAFT = "draft "


def to_come(draft: Draft) -> EntryId:
    """Name the entry that a draft of the same batch will become."""
    return EntryId(_DRAFT + draft.token)


def named(draft: Draft, done: Mapping[str, Entry]) -> Draft:
    """Put entries in the place of drafts before it in the batch that an act names.

    `done` is by token.
    """
    found = {name: done[token].hash for name, token in _naming(draft).items()}
    return replace(draft, act=replace(draft.act, **found)) if found else draft


def as_if_named(draft: Draft) -> Act:
    """Return the act of a draft as it will be, some entry in the place of drafts."""
    return replace(draft.act, **dict.fromkeys(_naming(draft), SOME_ENTRY))


SOME_ENTRY = EntryId("0" * 64)


def _naming(draft: Draft) -> dict[str, str]:
    """Return the tokens of the drafts that an act names, by field."""
    values = {name: str(getattr(draft.act, name, "")) for name in _NAMING}
    return {
        name: value.removeprefix(_DRAFT)
        for name, value in values.items()
        if value.startswith(_DRAFT)
    }


def sha256_of(data: bytes) -> Sha256:
    """Return the content address of a file."""
    return Sha256(hashlib.sha256(data).hexdigest())


def _plain_text(text: str) -> str:
    """Refuse what a database cannot hold or give back unchanged."""
    if "\0" in text or any("\ud800" <= letter <= "\udfff" for letter in text):
        raise LedgerError(f"found a broken character in {text!r}; type the text again")
    return text
