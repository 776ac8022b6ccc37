"""What others have measured or said that bears on a forecast, shown as what it is."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.reference.materials import Material, all_materials
from friable.reference.mixes import PublishedMix, published_mixes
from friable.reference.sources import cited
from friable.reference.statements import published_statements
from friable.wording import gettext as _

DRAINAGE_LAYER = "drainage layer"
WET_DENSITY = "wet bulk density"


@dataclass(frozen=True, slots=True)
class Evidence:
    """One published finding in words, and where it was published."""

    text: str
    where: str

    def __str__(self) -> str:
        return f"{self.text} [{self.where}]"


def published_near(parts: Sequence[tuple[Material, float]], most: int = 8) -> tuple[Evidence, ...]:
    """Return published mixes of the same materials, whatever their grade, nearest shares first.

    Parameters
    ----------
    parts : sequence of (Material, loose volume)
    most : int
        How many at the most.

    Notes
    -----
    Methods differ between sources (height of the core, suction, moisture), so these stand beside a forecast
    to be read, never to be averaged with it.
    """
    total = sum(share for _material, share in parts)
    wanted: dict[str, float] = {}
    for material, share in parts:
        wanted[material.name] = wanted.get(material.name, 0.0) + share / total
    names = {material.key: material.name for material in all_materials()}
    near: list[tuple[float, PublishedMix]] = []
    for mix in published_mixes():
        shares: dict[str, float] = {}
        for component in mix.components:
            name = names.get(component.material, "")
            shares[name] = shares.get(name, 0.0) + float(component.share)
        if len(shares) > 1 and shares.keys() == wanted.keys() and _figures(mix):
            near.append((sum(abs(shares[name] - wanted[name]) for name in wanted), mix))
    near.sort(key=lambda pair: pair[0])
    return tuple(_told(mix) for _distance, mix in near[:most])


def drainage_layer_evidence() -> tuple[Evidence, ...]:
    """Return what is published for and against drainage layers."""
    return tuple(
        Evidence(said.statement, cited(said.source)) for said in published_statements(DRAINAGE_LAYER)
    )


def _figures(mix: PublishedMix) -> str:
    """Return the printed figures of a mix in words, as printed; empty if it has none of its own."""
    said = [
        words.format(figure=figure)
        for words, figure in (
            (_("pores {figure:g} %"), mix.total_porosity_pct),
            (_("water {figure:g} %"), mix.water_pct),
            (_("air {figure:g} %"), mix.air_pct),
            (_("dry {figure:g} g/cm3"), mix.dry_bulk_density_g_cm3),
        )
        if figure is not None
    ]
    if mix.remark and (said or WET_DENSITY in mix.method):  # a wet density stands in the remark, as printed
        said.append(mix.remark.rstrip("."))
    return "; ".join(said)


def _told(mix: PublishedMix) -> Evidence:
    what = " + ".join(f"{100 * float(c.share):g} % {c.name}" for c in mix.components)
    return Evidence(f"{what}: {_figures(mix)} ({mix.method})", cited(mix.source))
