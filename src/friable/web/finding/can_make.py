"""How much of each kept mix can be made from what is here."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.records.queries.mixes import mixes_in_use
from friable.web.forms import PlainForm, QuantityField
from friable.web.mixes import poured
from friable.web.mixes.forms import PotField

if TYPE_CHECKING:
    from friable.planning.can_make import CanMake
    from friable.reference.materials import Material

    Mixes = list[tuple[str, tuple[tuple[Material, float], ...], float | None]]


class CanMakeForm(PlainForm):
    """How much is wanted of each, and in which pot a stand-in is judged."""

    litres = QuantityField(
        units_in.litres,
        label=_("Wanted of each"),
        required=False,
        help_text=_("Such as 60 L. Empty: only what is there is told."),
    )
    container = PotField(label=_("A stand-in is judged in"))

    @property
    def wanted_l(self) -> float | None:
        """Litres wanted of each mix."""
        litres = self.cleaned_data.get("litres")
        return litres.value if litres else None


@dataclass(frozen=True, slots=True)
class KeptMixes:
    """The mixes that can be reckoned, their pks by name, and those of which something is not known."""

    mixes: "Mixes"
    pks: dict[str, int]
    unknown: list[tuple[str, str]]


def kept_mixes() -> KeptMixes:
    """Return the mixes in use, each in its newest version; notes that are not for use are left out."""
    found: Mixes = []
    pks, unknown = {}, []
    for mix in mixes_in_use():
        if not mix.newest or mix.newest[0].incomplete:
            continue
        version = mix.newest[0]
        pks[mix.name] = mix.pk
        try:
            found.append((mix.name, poured.of_version(version).parts, version.shrinkage))
        except FriableError as problem:
            unknown.append((mix.name, str(problem)))
    return KeptMixes(found, pks, unknown)


def made_now(kept: KeptMixes, at_hand: Sequence, wanted_l: float | None) -> "Sequence[CanMake]":
    """Return what can be made of each mix.

    Raises
    ------
    FriableError
        If the litres are impossible.
    """
    from friable.planning.can_make import can_make

    return can_make(kept.mixes, at_hand, wanted_l=wanted_l)
