"""Writing down materials, aliases and packs."""

from friable.errors import Refused, UnknownName
from friable.records.actions.act import act, keep, refuse_unknown
from friable.records.actions.names import refuse_taken
from friable.records.models import Material, MaterialAlias, Pack
from friable.reference.materials import all_materials, find_material
from friable.wording import gettext as _


@act
def add_material(name, *, by, table_key="", note="", aliases=()):
    """Add our own material; `table_key` names the row of the table whose figures it rests on."""
    refuse_taken(name)
    material = keep(Material(name=name, table_key=_known_key(table_key), is_own=True, note=note))
    for alias in aliases:
        add_alias(material, alias, by=by)
    return material


@act
def use_material(name):
    """Return the stored material for a material of the table, storing it at the first use.

    Raises
    ------
    UnknownName, AmbiguousName
        If the table has none of that name, or several.
    """
    known = find_material(name)
    row = Material.objects.filter(table_key=known.key, is_own=False).first()
    return row or keep(Material(name=known.title, table_key=known.key, is_own=False))


@act
def change_material(material, **changes):
    """Change name, note, row of the table, or whether it is in use. A row of the table keeps its name."""
    refuse_unknown(changes, {"name", "note", "table_key", "in_use"})
    if not material.is_own and {"name", "table_key"} & set(changes):
        raise Refused(
            _(
                "{name} is a material of the table and keeps its name; add an alias, or one of your own."
            ).format(name=material.name)
        )
    if "name" in changes:
        refuse_taken(changes["name"], besides=material)
    if "table_key" in changes:
        changes["table_key"] = _known_key(changes["table_key"])
    return keep(material, **changes)


@act
def add_alias(material, name):
    """Add another word for a material."""
    refuse_taken(name)
    return keep(MaterialAlias(material=material, name=name))


@act
def drop_alias(alias):
    """Take an alias away; its history stays."""
    alias.delete()


@act
def add_pack(material, name, *, declared_l, yield_low=None, yield_high=None, yield_source="", note=""):
    """Add a pack of a material, with the range its yield is thought to lie in."""
    return keep(
        Pack(
            material=material,
            name=name,
            declared_l=declared_l,
            yield_low=yield_low,
            yield_high=yield_high,
            yield_source=yield_source,
            note=note,
        )
    )


@act
def change_pack(pack, **changes):
    """Change what a pack declares, or whether it is in use."""
    refuse_unknown(
        changes, {"name", "declared_l", "yield_low", "yield_high", "yield_source", "note", "in_use"}
    )
    return keep(pack, **changes)


def _known_key(key: str) -> str:
    if key and key not in {material.key for material in all_materials()}:
        raise UnknownName(_("row of the material table"), key)
    return key
