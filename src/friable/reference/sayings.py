"""What growers say of media, and what is published for and against it."""

from dataclasses import dataclass
from functools import cache

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.words import corrected, nearest, tokens
from friable.wording import gettext as _

SIDES = ("for", "against", "both")
YES, NO = "yes", "no"
MOST_NEAR = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """One claim of growers; `why_not` says why it cannot be computed, and is empty where it can."""

    key: str
    topic: str
    claim: str
    also_called: tuple[str, ...]
    why_not: str
    how_known: str
    source: str  # who says so

    @property
    def is_computed(self) -> bool:
        """Whether it is answered by computation."""
        return not self.why_not


@dataclass(frozen=True, slots=True, kw_only=True)
class SayingEvidence:
    """What one source says of a saying, in our words; it speaks for it, against it, or to both sides."""

    saying: str
    side: str
    text: str
    how_known: str
    source: str


@cache
def all_sayings() -> tuple[Saying, ...]:
    """Return every saying, in the order of the table.

    Raises
    ------
    LookupError
        If a key stands twice, or a row does not say whether and why it cannot be computed.
    """
    found: dict[str, Saying] = {}
    for row in read_table("sayings"):
        saying = _saying(row)
        if saying.key in found:
            raise row.refused(_("the saying stands twice"))
        found[saying.key] = saying
    return tuple(found.values())


def _saying(row: Row) -> Saying:
    if row["computed"] not in (YES, NO):
        raise row.refused(_("computed must be yes or no"))
    if (row["computed"] == NO) != row.has("why_not"):
        raise row.refused(_("why_not is for what is not computed, and only for that"))
    if not row.has("claim"):
        raise row.refused(_("there is no claim"))
    return Saying(
        key=row["key"],
        topic=row["topic"],
        claim=row["claim"],
        also_called=row.list("also_called"),
        why_not=row["why_not"],
        how_known=row["how_known"],
        source=row["source"],
    )


@cache
def _evidence() -> tuple[SayingEvidence, ...]:
    keys = {saying.key for saying in all_sayings()}
    found = []
    for row in read_table("sayings_evidence"):
        if row["saying"] not in keys:
            raise row.refused(_("there is no saying “{key}”").format(key=row["saying"]))
        if row["side"] not in SIDES:
            raise row.refused(_("side must be one of: {sides}").format(sides=", ".join(SIDES)))
        found.append(
            SayingEvidence(
                saying=row["saying"],
                side=row["side"],
                text=row["text"],
                how_known=row["how_known"],
                source=row["source"],
            )
        )
    return tuple(found)


def evidence_for(key: str) -> tuple[SayingEvidence, ...]:
    """Return what is published on one saying, by its key."""
    return tuple(one for one in _evidence() if one.saying == key)


def find_saying(text: str) -> Saying:
    """Return the one saying that a text names: its key, its claim, or words of these.

    Raises
    ------
    UnknownName, AmbiguousName
        If no saying, or more than one, is called so; the nearest names are given.
    """
    asked = tokens(text)
    every = all_sayings()
    for saying in every:
        if asked and any(asked == tokens(name) for name in _names(saying)):
            return saying
    for words_of in (_names_apart, _words_together):
        found = [s for s in every if asked and any(asked <= words for words in words_of(s))]
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousName(_("saying"), text, [saying.key for saying in found])
    raise UnknownName(_("saying"), text, _near(text))


def _near(text: str) -> list[str]:
    """Return the names of the sayings that may be meant: by words spelt alike, else by the whole."""
    if not tokens(text):
        return []
    every = all_sayings()
    vocabulary = frozenset(word for saying in every for words in _words_together(saying) for word in words)
    words = corrected(tokens(text), vocabulary)
    meant = [s.key for s in every if any(words <= known for known in _words_together(s))]
    spellings = {name: saying.key for saying in every for name in _names(saying)}
    return meant[:MOST_NEAR] or nearest(text, spellings)


def _names(saying: Saying) -> tuple[str, ...]:
    return (saying.key, saying.claim, *saying.also_called)


def _names_apart(saying: Saying) -> list[frozenset[str]]:
    return [tokens(name) for name in _names(saying)]


def _words_together(saying: Saying) -> list[frozenset[str]]:
    return [frozenset().union(*_names_apart(saying))]
