"""Materials, their aliases and mixes share one set of names, so that a recipe can be read one way only."""

from friable.errors import Refused, shown
from friable.records.models import Material, MaterialAlias, Mix
from friable.records.text import tidy
from friable.reference.materials import all_materials
from friable.wording import gettext as _


def refuse_taken(name: str, besides: Material | Mix | None = None) -> None:
    """Refuse a name that a material, an alias or a mix has already, whatever its capitals.

    Raises
    ------
    Refused
        Says what has the name.
    """
    wanted = tidy(name).casefold()
    own = besides.pk if isinstance(besides, Material) else None
    mix = besides.pk if isinstance(besides, Mix) else None
    taken = [
        (_("a material"), Material.objects.exclude(pk=own).values_list("name", flat=True)),
        (_("an alias of a material"), MaterialAlias.objects.values_list("name", flat=True)),
        (_("a mix"), Mix.objects.exclude(pk=mix).values_list("name", flat=True)),
        (_("a material of the table"), [] if _is_table_row(besides) else [m.title for m in all_materials()]),
    ]
    for what, names in taken:
        if any(other.casefold() == wanted for other in names):
            raise Refused(
                _("“{name}” is the name of {what} already; choose another, or use what is there.").format(
                    name=shown(name), what=what
                )
            )


def _is_table_row(thing) -> bool:
    return isinstance(thing, Material) and not thing.is_own
