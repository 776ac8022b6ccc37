"""Names that can be typed where a pot, a material or a component is asked for."""

from friable.records.queries.mixes import mixes_in_use
from friable.records.queries.stores import containers_in_use, materials_in_use
from friable.reference.materials import all_materials


def known_names() -> dict[str, list[str]]:
    """Return the names of containers, materials and components, for lists to choose from while typing."""
    own = materials_in_use().prefetch_related(None).values_list("name", flat=True)
    materials = sorted({*own, *(known.title for known in all_materials())}, key=str.casefold)
    return {
        "known_containers": list(containers_in_use().values_list("name", flat=True)),
        "known_materials": materials,
        "known_components": [*mixes_in_use().values_list("name", flat=True), *materials],
    }
