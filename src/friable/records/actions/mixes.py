"""Writing mixes and their versions."""

from collections.abc import Iterator
from decimal import Decimal

from friable.errors import BadRecipe, Refused, shown
from friable.planning.recipe import Component, Recipe
from friable.records.actions.act import act, drop, keep, keep_lines, refuse_unknown
from friable.records.actions.materials import use_material
from friable.records.actions.names import refuse_taken
from friable.records.models import Material, Mix, MixAmendment, MixCaution, MixLine, MixVersion
from friable.records.parts import STEP, stored
from friable.records.queries import mixes as read
from friable.records.text import tidy
from friable.wording import gettext as _


@act
def write_mix(recipe, *, by, plant_group="", note="", version_note=""):
    """Write a new mix down and return its first version.

    Parameters
    ----------
    recipe : planning.recipe.Recipe
        Its name is the name of the mix; a component is a stored material or alias, a mix, or a material of
        the table, which is stored at its first use.

    Raises
    ------
    Refused, BadRecipe, UnknownName, AmbiguousName
        If the name is taken, a component is unknown or listed twice.
    """
    refuse_taken(recipe.name)
    mix = keep(Mix(name=recipe.name, plant_group=plant_group, note=note))
    return _write_version(mix, 1, recipe, by, version_note)


@act
def new_mix_version(mix, recipe, *, by, note=""):
    """Write the next version of a mix; earlier ones stay as they are."""
    newest = mix.versions.order_by("-number").first()
    return _write_version(mix, newest.number + 1 if newest else 1, recipe, by, note)


@act
def change_mix_version(version, recipe, *, by, note=None):
    """Change a version that nothing has used yet.

    Raises
    ------
    Refused
        If a job or a batch uses it, by itself or inside another mix.
    """
    refuse_frozen(version)
    for lines in (version.lines, version.amendments, version.cautions):
        drop(lines.all())
    keep(version, **_columns(recipe), **({} if note is None else {"note": note}))
    _write_lines(version, recipe, by)
    return version


@act
def change_mix(mix, **changes):
    """Change name, plants, note of a mix, or whether it is in use."""
    refuse_unknown(changes, {"name", "plant_group", "note", "in_use"})
    if "name" in changes:
        refuse_taken(changes["name"], besides=mix)
    return keep(mix, **changes)


def refuse_frozen(version: MixVersion) -> None:
    """Refuse to touch a version that something was made or planned with."""
    used = read.use_of(version)
    if used:
        raise Refused(
            _("{version} is used by {use} and stays as it is; write a new version.").format(
                version=version, use=used
            )
        )


def refuse_unusable(version: MixVersion) -> None:
    """Refuse to plan with an incomplete recipe, or with one that contains an incomplete one."""
    for part in read.versions_below(version):
        if part.incomplete:
            raise BadRecipe(
                _(
                    "{version} is an incomplete recipe; complete it in a new version before it is used."
                ).format(version=part)
            )


def _write_version(mix, number, recipe, by, note) -> MixVersion:
    version = keep(MixVersion(mix=mix, number=number, written_by=by, note=note, **_columns(recipe)))
    _write_lines(version, recipe, by)
    return version


def _columns(recipe: Recipe) -> dict[str, object]:
    return {
        "shrinkage": recipe.shrinkage,
        "incomplete": recipe.incomplete,
        "top_dressing": recipe.top_dressing,
        "not_for": recipe.not_for,
        "use_within_days": recipe.use_within_days,
    }


def _write_lines(version: MixVersion, recipe: Recipe, by: str) -> None:
    keep_lines(_lines(version, recipe, by))
    _refuse_twice(recipe.name, [amendment.name for amendment in recipe.amendments])
    keep_lines(
        MixAmendment(
            version=version,
            position=place,
            name=amendment.name,
            rate_g_per_l=amendment.rate_g_per_l,
            low_g_per_l=amendment.low_g_per_l,
            high_g_per_l=amendment.high_g_per_l,
            typed=amendment.typed,
            caution=amendment.caution,
        )
        for place, amendment in enumerate(recipe.amendments, start=1)
    )
    keep_lines(
        MixCaution(version=version, position=place, text=caution)
        for place, caution in enumerate(recipe.cautions, start=1)
    )


def _lines(version: MixVersion, recipe: Recipe, by: str) -> Iterator[MixLine]:
    met: set[Material | MixVersion] = set()
    for place, component in enumerate(recipe.components, start=1):
        thing = _thing(component, by)
        if isinstance(thing, MixVersion):
            _refuse_circle(version, thing)
        if thing in met:
            raise BadRecipe(
                _("{name} lists {component} more than once; add the parts together.").format(
                    name=shown(recipe.name), component=thing.name
                )
            )
        met.add(thing)
        yield MixLine(
            version=version,
            position=place,
            material=thing if isinstance(thing, Material) else None,
            sub_mix=thing if isinstance(thing, MixVersion) else None,
            parts=_decimal(component),
            state=component.state,
        )


def _thing(component: Component, by: str) -> Material | MixVersion:
    """Return what a component names: ours first, then the table."""
    name = tidy(component.name)
    mix = read.mix_named(name)
    if mix is not None:
        newest = mix.versions.order_by("-number").first()
        if newest is None:
            raise BadRecipe(_("{mix} has no version yet; write it first.").format(mix=mix.name))
        return newest
    return read.material_named(name) or use_material(name, by=by)


def _decimal(component: Component) -> Decimal:
    decimal = stored(component.parts)
    if decimal == 0:
        raise BadRecipe(
            _("{name} has {parts:g} parts; give at least {least}.").format(
                name=shown(component.name), parts=float(component.parts), least=f"{STEP:f}"
            )
        )
    return decimal


def _refuse_circle(version: MixVersion, part: MixVersion) -> None:
    for below in read.versions_below(part):
        if below.mix_id == version.mix_id:
            raise BadRecipe(
                _("{mix} would contain itself by way of {part}; leave {part} out.").format(
                    mix=version.mix.name, part=part.mix.name
                )
            )


def _refuse_twice(name: str, names: list[str]) -> None:
    folded = [tidy(other).casefold() for other in names]
    for place, other in enumerate(folded):
        if other in folded[:place]:
            raise BadRecipe(
                _("{name} lists {component} more than once; add the rates together.").format(
                    name=shown(name), component=shown(names[place])
                )
            )
