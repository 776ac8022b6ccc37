"""Cautions that stand on paper wherever someone can get hurt, each with its source."""

from dataclasses import dataclass

from friable.wording import gettext as _

# What the squeeze of a handful shows. Common practice, no source.
SQUEEZE_STATES = ("crumbles", "holds", "runs")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution and where it comes from."""

    text: str
    source: str


def dust_and_moulds() -> Caution:
    """Return the caution for opening and moving dry or composted materials."""
    return Caution(
        _(
            "Dust and moulds: open bags slowly and away from the face, dampen dry material, air the room, "
            "wear gloves and a fitting mask, wash hands before eating or smoking."
        ),
        _("Workplace Health and Safety Queensland, Legionella risks from work with potting mix and compost"),
    )


def lifting(mass_kg: float | None = None) -> Caution:
    """Return the caution for lifting, with the mass where it is known. [kg]"""
    advice = _("share heavy loads, use a trolley, keep the load close, do not twist.")
    if mass_kg is None:
        text = _("Lifting: {advice}").format(advice=advice)
    else:
        text = _("Lifting: a full bucket weighs about {mass} kg; {advice}").format(
            mass=f"{mass_kg:.0f}", advice=advice
        )
    return Caution(text, _("common practice, no source"))


def follow_local_rules() -> str:
    """Return the sentence under every list of cautions."""
    return _("Follow your local rules and the advice of the person responsible for safety where you work.")


def squeeze_in_words(state: str) -> str:
    """Return what the hand sees in one of `SQUEEZE_STATES`."""
    return {
        "crumbles": _("crumbles: falls apart as the hand opens"),
        "holds": _("holds: keeps its shape, a drop or two at most"),
        "runs": _("runs: water comes out between the fingers"),
    }[state]


def squeeze_verdict(state: str, wanted: str) -> str:
    """Return what to do when a handful shows `state` and `wanted` is right."""
    order = SQUEEZE_STATES.index(state) - SQUEEZE_STATES.index(wanted)
    return _("right") if order == 0 else _("too dry: add water") if order < 0 else _("too wet: add dry mix")
