"""The instant answer: what a mix does in a pot, put together for the pages."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from friable.drawing.pot_section import pot_section_svg
from friable.planning.evidence import Evidence, drainage_layer_evidence, published_near
from friable.planning.forecast_values import Forecast
from friable.planning.lifting import LOAD_CONSTANT_KG, wet_mass_note
from friable.planning.reading import pot_reading
from friable.planning.target_fit import Fit, fits
from friable.reference.cautions import Caution, all_cautions
from friable.reference.materials import Material
from friable.science.containers import Container
from friable.web.mixes import forecasts
from friable.web.mixes.poured import Poured

NARROW = 280.0
KEPT = 128


@dataclass(frozen=True, slots=True)
class MixAnswer:
    """Air and water of a mix in one pot, and everything that is said with it."""

    forecast: Forecast
    reading: str
    drawing: SafeString
    lifting: str
    fits: Sequence[Fit]
    near: Sequence[Evidence]
    layer_evidence: Sequence[Evidence]
    cautions: Sequence[Caution]
    use: str


def mix_answer(
    poured: Poured,
    container: Container,
    *,
    name: str,
    use: str = "",
    layer_material: Material | None = None,
    key: str = "answer",
) -> MixAnswer:
    """Return the answer for a mix in a container.

    Raises
    ------
    FriableError
        If the container cannot be filled so, or the mix not be forecast.
    """
    losses = frozenset(poured.losses.items())
    return _answer(tuple(poured.parts), losses, container, layer_material, name, use, key, get_language())


@lru_cache(maxsize=KEPT)
def _answer(parts, losses, container, layer_material, name, use, key, _language) -> MixAnswer:
    found = forecasts.forecast(parts, container, layer_material=layer_material, losses=dict(losses))
    every = [material for material, _share in parts]
    return MixAnswer(
        forecast=found,
        reading=pot_reading(found),
        drawing=drawing(found, name=name, layer_material=layer_material, key=key),
        lifting=_lifting(found.wet_mass_kg.value),
        fits=fits(found, use) if use else (),
        near=published_near(parts),
        layer_evidence=drainage_layer_evidence() if layer_material else (),
        cautions=cautions_of([*every, *([layer_material] if layer_material else [])]),
        use=use,
    )


def _lifting(kg: float) -> str:
    """Return a sentence on lifting, for a pot whose wet mix is heavy enough for one."""
    return wet_mass_note(kg) if kg > LOAD_CONSTANT_KG / 2 else ""


def drawing(
    found: Forecast, *, name: str, key: str, layer_material: Material | None = None, width: float = 640.0
) -> SafeString:
    """Return the pot section of a forecast, ready to stand in a page."""
    svg = pot_section_svg(
        found.container,
        found.profile,
        title=_("{mix} in {pot}, cut open").format(mix=name, pot=found.container.describe()),
        layer_name=layer_material.title if layer_material else "",
        width=width,
        key=key,
    )
    # Built by an XML writer from numbers and escaped text.
    return mark_safe(svg)  # noqa: S308


def cautions_of(materials: Sequence[Material]) -> list[Caution]:
    """Return what can hurt in any of these materials, each caution once, in the order of the table."""
    words = {word.strip() for material in materials for word in material.hazards.split(";")}
    return [caution for caution in all_cautions() if words & set(caution.applies_to)]
