"""How much of each kept mix can be made from what is here."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.known_names import loose_factor
from friable.planning.quantities import job_amounts
from friable.records import plain
from friable.records.queries.mixes import mixes_in_use, versions_with_lines
from friable.reference.materials import find_material
from friable.web.forms import PlainForm, QuantityField
from friable.web.mixes.forms import PotField

if TYPE_CHECKING:
    from friable.planning.can_make import CanMake
    from friable.planning.job_values import MaterialAmount
    from friable.records.models import MixVersion
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
    versions = [mix.newest[0] for mix in mixes_in_use() if mix.newest and not mix.newest[0].incomplete]
    loaded = _loaded(versions)
    rows = plain.material_rows(loaded)
    known = plain.materials(row for row in rows.values() if row.table_key)

    def find(name: str) -> "Material":
        row = rows.get(name)
        if row is None:
            return find_material(name)
        return known[row.pk] if row.pk in known else plain.table_material(row)

    found: Mixes = []
    unknown = []
    for version in versions:
        try:
            book = plain.book(_inside(version, loaded), version)
            poured = job_amounts([], book, litres=1, find=find).parts
            found.append((version.name, tuple(_loose(part, find) for part in poured), version.shrinkage))
        except FriableError as problem:
            unknown.append((version.name, str(problem)))
    return KeptMixes(found, {version.name: version.mix_id for version in versions}, unknown)


def _loaded(versions: "Sequence[MixVersion]") -> "dict[int, MixVersion]":
    """Return versions and what they contain at any depth, by pk, with a few queries however many."""
    loaded = {version.pk: version for version in versions}
    while missing := _contained(loaded.values()) - loaded.keys():
        loaded.update({row.pk: row for row in versions_with_lines().filter(pk__in=missing)})
    return loaded


def _inside(version: "MixVersion", loaded: "Mapping[int, MixVersion]") -> "dict[int, MixVersion]":
    inside = {version.pk: version}
    while missing := _contained(inside.values()) - inside.keys():
        inside.update({pk: loaded[pk] for pk in sorted(missing)})
    return inside


def _contained(versions: "Iterable[MixVersion]") -> set[int]:
    return {line.sub_mix_id for version in versions for line in version.lines.all() if line.sub_mix_id}


def _loose(part: "MaterialAmount", find: "Callable[[str], Material]") -> "tuple[Material, float]":
    material = find(part.material)
    return material, part.volume_l * float(loose_factor(material, part.state) or 1)


def made_now(kept: KeptMixes, at_hand: Sequence, wanted_l: float | None) -> "Sequence[CanMake]":
    """Return what can be made of each mix.

    Raises
    ------
    FriableError
        If the litres are impossible.
    """
    from friable.planning.can_make import can_make

    return can_make(kept.mixes, at_hand, wanted_l=wanted_l)
