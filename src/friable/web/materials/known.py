"""A material as its page shows it, whether it is stored here already or stands only in the table."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import Http404
from django.utils.translation import gettext as _

from friable.errors import AmbiguousName, FriableError, UnknownName
from friable.records import plain
from friable.records.actions.materials import use_material
from friable.records.models import Material
from friable.records.queries.measurements import measurements_of_material
from friable.records.queries.mixes import material_named
from friable.records.queries.stores import materials_in_use, packs_of
from friable.reference import materials as table
from friable.science.estimate import Estimate


@dataclass(frozen=True, slots=True)
class Known:
    """A stored material, a material of the table, or both in one."""

    key: str
    name: str
    row: Material | None
    value: table.Material | None  # None: our own, resting on no row of the table

    @property
    def is_own(self) -> bool:
        """True for a name of our own."""
        return self.row is not None and self.row.is_own

    def stored(self, by: str) -> Material:
        """Return its row, storing it at its first use."""
        return self.row or use_material(self.key, by=by)


@dataclass(frozen=True, slots=True)
class Answered:
    """What a name that was typed stands for."""

    hit: Known | None = None
    sentence: str = ""
    choices: Sequence[Known] = ()


def known_material(key: str) -> Known:
    """Return the material of an address; 404 if there is none."""
    if key.startswith("OWN_"):
        row = Material.objects.filter(pk=key[4:] if key[4:].isdecimal() and len(key) < 20 else 0).first()
        if row is None or not row.is_own:
            raise Http404
        return _of_row(row)
    value = {material.key: material for material in table.all_materials()}.get(key)
    if value is None:
        raise Http404
    row = Material.objects.filter(table_key=key, is_own=False).first()
    return _of_row(row) if row else Known(key, value.title, None, value)


def all_known() -> list[Known]:
    """Return our own materials, then those of the table with what was measured here over them."""
    rows = list(materials_in_use())
    based = [row for row in rows if row.table_key]
    values = plain.materials(based)
    stored = {row.table_key: row for row in based if not row.is_own}
    own = [Known(plain.material_key(row), row.name, row, values.get(row.pk)) for row in rows if row.is_own]
    of_table = []
    for material in table.all_materials():
        row = stored.get(material.key)
        of_table.append(Known(material.key, material.title, row, values[row.pk] if row else material))
    return [*own, *of_table]


def found(text: str) -> tuple[list[Known], Answered]:
    """Return the materials that a typed text leads to, and what it stands for as a name."""
    everything = all_known()
    by_key = {known.key: known for known in everything}
    wanted = text.casefold()
    keys = {material.key for material in table.search(text)}
    rows = [known for known in everything if known.key in keys or wanted in known.name.casefold()]
    stored = material_named(text)
    if stored is not None:
        hit = by_key.get(plain.material_key(stored)) or _of_row(stored)
        return [known for known in rows if known.key != hit.key], Answered(hit=hit)
    try:
        hit = by_key[table.find_material(text).key]
    except AmbiguousName as several:
        named = {known.name: known for known in everything}
        choices = [named[title] for title in several.choices if title in named]
        sentence = _("“{name}” can mean more than one material. Which one is meant?").format(name=text[:60])
        return [known for known in rows if known not in choices], Answered(sentence=sentence, choices=choices)
    except UnknownName as unknown:
        near = [known for known in everything if known.name in unknown.near]
        return rows, Answered() if rows else Answered(sentence=str(unknown), choices=near)
    return [known for known in rows if known.key != hit.key], Answered(hit=hit)


def figures(known: Known) -> list[tuple[str, Estimate, bool]]:
    """Return what is known of a material: label, figure, and whether it is a share of the volume."""
    if known.value is None:
        return []
    value = known.value
    return [
        (_("Dry bulk density, loose, g/cm³"), value.dry_bulk_density_g_cm3, False),
        (_("Total porosity"), value.total_porosity, True),
        (_("Water at 10 cm suction"), value.water_at_10cm, True),
        (_("Water at 100 cm suction"), value.water_at_100cm, True),
        (_("Water at 15,000 cm suction"), value.water_at_15000cm, True),
        (_("Container capacity, 7.6 cm deep"), value.container_capacity_7p6cm, True),
        (_("Air space, 7.6 cm deep"), value.air_space_7p6cm, True),
    ]


def measured(known: Known):
    """Return what was measured here, and the packs with their yields."""
    if known.row is None:
        return [], []
    packs = packs_of(known.row)
    return list(measurements_of_material(known.row)), [
        (pack, plain.pack_yield(pack, pack.measured)) for pack in packs
    ]


def as_typed(known: Known) -> dict[str, object]:
    """Return a material of our own as one would type it into a form."""
    titles = {material.key: material.title for material in table.all_materials()}
    row = known.row
    return {
        "name": row.name,
        "rests_on": titles.get(row.table_key, ""),
        "note": row.note,
        "in_use": row.in_use,
    }


def _of_row(row: Material) -> Known:
    try:
        value = plain.material(row)
    except FriableError:
        value = None
    return Known(plain.material_key(row), row.name, row, value)
