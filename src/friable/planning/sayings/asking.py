"""Read what a saying is asked of from typed texts; what is left empty is as usual."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from friable.errors import Refused
from friable.planning.container_text import parse_container
from friable.planning.mix_parts import mix_parts
from friable.planning.notation import parse_recipe
from friable.planning.recipe import book_of
from friable.planning.sayings.registry import asked_of
from friable.planning.sayings.values import Asked, Medium, SayingCase
from friable.planning.typed_text import one_cell, plain
from friable.planning.units_in import centimetres, fraction, kilograms, litres
from friable.reference.materials import Material, find_material
from friable.reference.sayings import Saying
from friable.science.containers import Container
from friable.wording import gettext as _

SAMPLES = 256
LONGEST_NAME = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What was typed, each as text; empty is as usual."""

    media: Sequence[str] = ()
    container: str = ""
    headspace: str = ""
    other: str = ""
    share: str = ""
    layer: str = ""
    need: str = ""
    pack: str = ""
    pot_name: str = ""


def medium_named(text: str, find: Callable[[str], Material] = find_material) -> Medium:
    """Return a material by its name, or a mix by its recipe written out.

    Raises
    ------
    BadText, BadRecipe, UnknownName, AmbiguousName
        If it is neither.
    """
    name = " ".join(plain(text, _("material"), LONGEST_NAME).split())
    if name[0].isdigit() or not name[0].isalnum():
        parts = mix_parts(book_of(parse_recipe(name)), find)
        return Medium(name, tuple((material, float(volume)) for material, volume in parts))
    material = find(name)
    return Medium(material.title, ((material, 1.0),))


def read_case(
    saying: Saying,
    typed: Typed,
    *,
    medium: Callable[[str], Medium] = medium_named,
    container: Callable[[str], Container] = parse_container,
    samples: int = SAMPLES,
) -> SayingCase:
    """Return what a saying is asked of.

    Parameters
    ----------
    saying : Saying
    typed : Typed
    medium, container : callable
        What finds a material or mix, and a container, by what was typed.
    samples : int
        Draws for the ranges.

    Raises
    ------
    Refused
        If something is given that the saying has no use for.
    FriableError
        If something cannot be read.
    """
    asked = asked_of(saying)
    _refuse_idle(saying, asked, typed)
    media = tuple(typed.media) or tuple(role.usual for role in asked.media)
    pot = _pot(asked.container, typed.container, container)
    if pot is not None and typed.headspace:
        pot = pot.with_headspace(centimetres(typed.headspace, "--headspace").value)
    share, layer = typed.share or asked.share, typed.layer or asked.layer
    need = typed.need or asked.need
    by_volume, by_mass = asked.pack_l is not None, asked.pack_kg is not None
    pack = typed.pack or asked.pack_l or asked.pack_kg or ""
    return SayingCase(
        media=tuple(medium(one) for one in media),
        container=pot,
        other=_pot(asked.other, typed.other, container),
        share=fraction(share, _("the share")).value if share else None,
        drainage_layer_cm=centimetres(layer, _("the layer")).value if layer else None,
        need_l=litres(need, _("the need")).value if need else None,
        pack_l=litres(pack, _("the pack")).value if by_volume else None,
        pack_kg=kilograms(pack, _("the pack")).value if by_mass else None,
        pot_name=one_cell(typed.pot_name or asked.pot_name or "", _("the name of the pot"))
        if asked.pot_name is not None
        else "",
        samples=samples,
    )


def usual_case(saying: Saying, samples: int = SAMPLES) -> SayingCase:
    """Return what a saying is asked of if nobody says anything."""
    return read_case(saying, Typed(), samples=samples)


def _pot(usual: str | None, typed: str, find: Callable[[str], Container]) -> Container | None:
    text = typed or usual or ""
    return find(text) if usual is not None and text else None


def _refuse_idle(saying: Saying, asked: Asked, typed: Typed) -> None:
    """Refuse what was typed and would make no difference."""
    idle = {
        _("materials"): bool(typed.media) and not asked.media,
        _("a container"): bool(typed.container) and asked.container is None,
        _("a headspace"): bool(typed.headspace) and asked.container is None,
        _("a second container"): bool(typed.other) and asked.other is None,
        _("a share"): bool(typed.share) and asked.share is None,
        _("a layer"): bool(typed.layer) and asked.layer is None,
        _("a need"): bool(typed.need) and asked.need is None,
        _("a pack"): bool(typed.pack) and asked.pack_l is None and asked.pack_kg is None,
        _("a name of a pot"): bool(typed.pot_name) and asked.pot_name is None,
    }
    for what, is_idle in idle.items():
        if is_idle:
            raise Refused(
                _("The saying {name} has no use for {what}; leave it out.").format(name=saying.key, what=what)
            )
