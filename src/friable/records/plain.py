"""From rows to the plain values that planning and drawing understand.

A figure of the table is overlaid by what was measured here; nothing else changes on the way.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from django.utils import timezone

from friable.errors import BadRecipe, UnknownName
from friable.planning import recipe as planned
from friable.planning.forecast import overlap_loss_from_mix_volume
from friable.planning.known_names import loose_factor
from friable.records.models import Container, Material, Measurement, MixVersion, Pack
from friable.records.parts import exact
from friable.records.queries.measurements import densities_measured, mix_volumes_measured
from friable.records.queries.mixes import versions_with_lines
from friable.reference import materials as table
from friable.science import containers as science
from friable.science.estimate import Estimate
from friable.wording import gettext as _

# --- materials ----------------------------------------------------------------------------------


def material(row: Material) -> table.Material:
    """Return a stored material as a value: the table's figures, overlaid by what was measured here.

    Raises
    ------
    BadRecipe
        If it rests on no row of the table, so that nothing is known of it.
    """
    return materials([row])[row.pk]


def materials(rows: Iterable[Material]) -> dict[int, table.Material]:
    """Return stored materials as values by their pk, with one query however many."""
    rows = list(rows)
    densities = densities_measured(rows)
    return {row.pk: _overlaid(table_material(row), densities.get(row.pk)) for row in rows}


def table_material(row: Material) -> table.Material:
    """Return the figures of the table alone, under our own name and key if the material is our own."""
    if not row.table_key:
        raise BadRecipe(
            _(
                "Nothing is known of {name}: it rests on no material of the table. "
                "Name the one nearest to it, or leave it out of the forecast."
            ).format(name=row.name)
        )
    known = {known.key: known for known in table.all_materials()}.get(row.table_key)
    if known is None:
        raise BadRecipe(
            _("{name} rests on “{key}”, which the table does not hold; name another row.").format(
                name=row.name, key=row.table_key
            )
        )
    if not row.is_own:
        return known
    key = material_key(row)
    return replace(
        known,
        key=key,
        name=row.name,
        grade="",
        rests_on=row.table_key,
        physics=replace(known.physics, key=key, title=row.name),
    )


def material_key(row: Material) -> str:
    """Return the key a stored material has as a value: the table's, or one of its own."""
    return row.table_key if not row.is_own else f"OWN_{row.pk}"


def _overlaid(known: table.Material, density: Measurement | None) -> table.Material:
    if density is None:
        return known
    value = density.dry_bulk_density_g_cm3
    low = density.dry_bulk_density_low_g_cm3 or value
    high = density.dry_bulk_density_high_g_cm3 or value
    return replace(
        known,
        dry_bulk_density_g_cm3=Estimate(
            value, low, high, "measured", measured_here(density), held_from=_day(density)
        ),
        physics=replace(
            known.physics,
            dry_bulk_density_g_cm3=value,
            dry_bulk_density_low_g_cm3=low,
            dry_bulk_density_high_g_cm3=high,
        ),
        origins=tuple(
            table.Origin("dry_bulk_density", "measured", measured_here(density))
            if origin.group == "dry_bulk_density"
            else origin
            for origin in known.origins
        ),
    )


def measured_here(measurement: Measurement) -> str:
    """Return the origin of a measured figure: where, when, by whom."""
    return _("measured here, {day}, {initials}").format(day=_day(measurement), initials=measurement.done_by)


def _day(measurement: Measurement) -> str:
    return timezone.localtime(measurement.done_at).date().isoformat()


def pack_yield(pack: Pack, measured: Measurement | None) -> Estimate | None:
    """Return loose litres out of one declared litre: measured here, else the range given; None if unknown."""
    if measured is not None:
        return Estimate.exact(measured.loose_l / pack.declared_l, "measured", measured_here(measured))
    if pack.yield_low is None:
        return None
    middle = (pack.yield_low + pack.yield_high) / 2
    return Estimate(middle, pack.yield_low, pack.yield_high, "estimated", pack.yield_source or _("no source"))


# --- containers ---------------------------------------------------------------------------------


def container(
    row: Container,
    *,
    headspace_cm: float | None = None,
    drainage_layer_cm: float = 0.0,
    measured: bool = True,
) -> science.Container:
    """Return a stored container as a value, with its usual headspace unless another is given.

    Parameters
    ----------
    measured : bool
        False leaves the measured volume out, so that its measures alone speak.
    """
    return science.Container(
        shape=row.shape,
        top_length_cm=row.top_length_cm,
        top_width_cm=row.top_width_cm,
        bottom_length_cm=row.bottom_length_cm,
        bottom_width_cm=row.bottom_width_cm,
        height_cm=row.height_cm,
        headspace_cm=row.headspace_cm if headspace_cm is None else headspace_cm,
        drainage_layer_cm=drainage_layer_cm,
        measured_volume_l=row.measured_volume_l if measured else None,
    )


def containers_by_name(rows: Iterable[Container]) -> dict[str, science.Container]:
    """Return stored containers as values by name, so that a name can be typed where measures are asked."""
    return {row.name: container(row) for row in rows}


# --- mixes --------------------------------------------------------------------------------------


def recipe(version: MixVersion, names: Mapping[int, str] | None = None) -> planned.Recipe:
    """Return one version as a recipe; a component that is a mix stands by its name."""
    names = names or {}
    return planned.Recipe(
        name=names.get(version.pk, version.name),
        components=tuple(
            planned.Component(
                name=line.material.name
                if line.material_id
                else names.get(line.sub_mix_id, line.sub_mix.name),
                parts=exact(line.parts),
                state=line.state,
            )
            for line in version.lines.all()
        ),
        amendments=tuple(
            planned.Amendment(
                name=amendment.name,
                rate_g_per_l=amendment.rate_g_per_l,
                low_g_per_l=amendment.low_g_per_l,
                high_g_per_l=amendment.high_g_per_l,
                typed=amendment.typed,
                caution=amendment.caution,
            )
            for amendment in version.amendments.all()
        ),
        cautions=tuple(caution.text for caution in version.cautions.all()),
        shrinkage=version.shrinkage,
        incomplete=version.incomplete,
        top_dressing=version.top_dressing,
        not_for=version.not_for,
        use_within_days=version.use_within_days,
    )


def recipe_book(version: MixVersion) -> planned.RecipeBook:
    """Return a version and every mix in it, in the versions that were current when each was written.

    A mix that comes in two versions stands under its name and, for the other, its name and version.
    """
    return book(load_versions(version), version)


def book(versions: Mapping[int, MixVersion], made: MixVersion) -> planned.RecipeBook:
    """Return loaded versions (see `load_versions`) as a recipe book."""
    names = version_names(versions)
    return planned.RecipeBook(
        recipes={names[pk]: recipe(version, names) for pk, version in versions.items()}, made=names[made.pk]
    )


def version_names(versions: Mapping[int, MixVersion]) -> dict[int, str]:
    """Return the name under which each version stands in a book."""
    names: dict[int, str] = {}
    for pk, version in versions.items():
        name = version.name if version.name not in names.values() else str(version)
        names[pk] = name
    return names


def load_versions(version: MixVersion) -> dict[int, MixVersion]:
    """Return a version and every one in it, with their lines, by pk: four queries a level of nesting."""
    loaded: dict[int, MixVersion] = {}
    level = {version.pk}
    while level:
        for row in versions_with_lines().filter(pk__in=level).order_by("pk"):
            loaded[row.pk] = row
        level = {
            line.sub_mix_id
            for row in loaded.values()
            for line in row.lines.all()
            if line.sub_mix_id and line.sub_mix_id not in loaded
        }
    return loaded


def material_rows(versions: Mapping[int, MixVersion]) -> dict[str, Material]:
    """Return the stored materials of loaded versions by name."""
    return {
        line.material.name: line.material
        for version in versions.values()
        for line in version.lines.all()
        if line.material_id
    }


def finder(versions: Mapping[int, MixVersion]) -> Callable[[str], table.Material]:
    """Return a function from the name of a material in loaded versions to its value, for planning."""
    rows = material_rows(versions)

    def find(name: str) -> table.Material:
        if name not in rows or not rows[name].table_key:
            raise UnknownName(_("material"), name)
        return table_material(rows[name])

    return find


def resolve_parts(version: MixVersion) -> list[tuple[table.Material, float]]:
    """Return the materials of a mix and the share of the poured volume that each has, mixes multiplied out.

    Volumes are loose and moist: what is measured in another state counts by what it gives loosened, where
    that is known. A stage with a measured shrinkage pours more than it gives; one without loses nothing.
    """
    versions = load_versions(version)
    rows = {row.pk: row for row in material_rows(versions).values()}
    known = materials(rows.values())
    poured: dict[int, float] = {}
    _pour(versions, version.pk, 1.0, known, poured)
    total = sum(poured.values())
    return [(known[pk], volume / total) for pk, volume in poured.items()]


def _pour(
    versions: Mapping[int, MixVersion],
    pk: int,
    finished: float,
    known: Mapping[int, table.Material],
    poured: dict[int, float],
) -> None:
    version = versions[pk]
    loose = {
        line: float(line.parts) * float(loose_factor(known.get(line.material_id), line.state) or 1)
        for line in version.lines.all()
    }
    for line, parts in loose.items():
        volume = finished / (1 - (version.shrinkage or 0.0)) * parts / sum(loose.values())
        if line.sub_mix_id:
            _pour(versions, line.sub_mix_id, volume, known, poured)
        else:
            poured[line.material_id] = poured.get(line.material_id, 0.0) + volume


def pair_overlap_loss(version: MixVersion) -> dict[frozenset[str], float]:
    """Return what mix volumes measured here teach of the pairs in a mix: their keys -> overlap loss."""
    rows = [row for row in material_rows(load_versions(version)).values() if row.table_key]
    return overlap_losses(mix_volumes_measured(rows).values())


def overlap_losses(measured: Iterable[Measurement]) -> dict[frozenset[str], float]:
    """Return the overlap loss of each measured mix volume: keys of its pair -> overlap loss."""
    measured = list(measured)
    known = materials({row.pk: row for m in measured for row in (m.material, m.other_material)}.values())
    return {
        frozenset((known[m.material_id].key, known[m.other_material_id].key)): overlap_loss_from_mix_volume(
            known[m.material_id], m.material_l, known[m.other_material_id], m.other_material_l, m.mixed_l
        )
        for m in measured
    }
