"""The bench card: one mix on the wall, read with wet gloves at arm's length."""

from dataclasses import dataclass

from friable.errors import BadText
from friable.sheets.cautions import Caution, follow_local_rules
from friable.sheets.printed import day_in_words, printable
from friable.sheets.squeeze import SQUEEZE_STATES, squeeze_in_words, squeeze_verdict
from friable.sheets.typesetting import paper_name, typeset
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPart:
    """One component: its parts as text ("5", "1/2"), its name, and the state in which it is measured."""

    parts: str
    name: str
    state: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchCard:
    """What a bench card says. The date is written 2026-11-25."""

    mix_name: str
    mix_version: str
    parts: tuple[CardPart, ...]
    day: str = ""
    amendments: tuple[str, ...] = ()
    used_for: tuple[str, ...] = ()
    not_for: tuple[str, ...] = ()
    dampen: tuple[str, ...] = ()
    squeeze: str = "holds"  # the state wanted, one of SQUEEZE_STATES
    cautions: tuple[Caution, ...] = ()


def bench_card_pdf(card: BenchCard, paper: str = "a4") -> bytes:
    """Return the bench card as PDF, in the largest type (14 to 20 pt) that keeps it on one page.

    A card that does not fit at 14 pt runs on to further pages.
    """
    if card.squeeze not in SQUEEZE_STATES:
        raise BadText(
            _("squeeze state"), card.squeeze, _("is not known here"), _("Choose crumbles, holds or runs.")
        )
    name = printable(card.mix_name, 120)
    values = {
        "paper": paper_name(paper),
        "language": "en",
        "title": _("Bench card: {mix}").format(mix=name),
        "name": name,
        "short": printable(card.mix_name, 48),
        "version": ", ".join(
            x
            for x in (
                _("version {number}").format(number=printable(card.mix_version, 20)),
                day_in_words(card.day),
            )
            if x
        ),
        "parts": [
            {"parts": printable(p.parts, 12), "name": printable(p.name, 120), "state": printable(p.state, 60)}
            for p in card.parts
        ],
        "lists": [
            {"title": title, "lines": [printable(x) for x in lines], "bold": bold}
            for title, lines, bold in (
                (_("Add to the finished mix"), card.amendments, False),
                (_("Dampen before pouring"), card.dampen, False),
                (_("Used for"), card.used_for, False),
                (_("NOT for"), card.not_for, True),
            )
            if lines
        ],
        "squeeze": [
            {
                "state": state,
                "words": squeeze_in_words(state),
                "verdict": squeeze_verdict(state, card.squeeze),
                "wanted": state == card.squeeze,
            }
            for state in SQUEEZE_STATES
        ],
        "cautions": [{"text": printable(c.text), "source": printable(c.source)} for c in card.cautions],
        "words": {
            "parts": _("buckets"),
            "material": _("material, filled loose and levelled off"),
            "squeeze": _("Squeeze a handful"),
            "cautions": _("Take care"),
            "rules": follow_local_rules(),
            "source": _("Source"),
            "page": _("page"),
            "of": _("of"),
        },
    }
    return typeset("bench_card", values)
