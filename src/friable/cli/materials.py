"""`friable materials`: what is known of each."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from friable.cli.answer import columns, how_known, print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material

FIGURES = (
    "dry_bulk_density_g_cm3",
    "total_porosity",
    "water_at_10cm",
    "water_at_100cm",
    "water_at_15000cm",
    "container_capacity_7p6cm",
    "air_space_7p6cm",
)
LONGEST_NAME = 200


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="materials", help=_("Materials that are known, with their key figures."))(materials)


@refusing
def materials(
    text: Annotated[str, typer.Argument(help=_("Words of the name or grade; without: all."))] = "",
    as_json: AsJson = False,
) -> None:
    """List materials."""
    from friable.planning.typed_text import plain
    from friable.reference.materials import all_materials, find_material, search

    if text:
        wanted = plain(text, _("material"), LONGEST_NAME)
        found = search(wanted) or [find_material(wanted)]
    else:
        found = list(all_materials())
    if as_json:
        print_json({"materials": [_json(material) for material in found]})
        return
    rows = [
        (
            _("material"),
            _("bulk density g/cm3"),
            _("pores"),
            _("water at 10 cm"),
            _("air in 7.6 cm"),
            _("how known"),
        )
    ]
    for material in found:
        rows.append(
            (
                material.title,
                f"{material.dry_bulk_density_g_cm3.value:.2f}",
                _per_cent(material.total_porosity.value),
                _per_cent(material.water_at_10cm.value),
                _per_cent(material.air_space_7p6cm.value),
                how_known(material.water_at_10cm.how_known),
            )
        )
    print_lines([*columns(rows, right=(1, 2, 3, 4)), "", _("Shares are per cent of the loose volume.")])


def _per_cent(value: float) -> str:
    return f"{round(100 * value)}"


def _json(material: "Material") -> dict[str, Any]:
    return {
        "key": material.key,
        "name": material.name,
        "grade": material.grade,
        "title": material.title,
        "kind": material.kind,
        "size_low_mm": material.size_low_mm,
        "size_high_mm": material.size_high_mm,
        **{name: dict(getattr(material, name).to_json()) for name in FIGURES},
        "ph_low": material.ph_low,
        "ph_high": material.ph_high,
        "carbonate": material.carbonate,
        "hydrophobic_when_dry": material.hydrophobic_when_dry,
        "hazards": [hazard.strip() for hazard in material.hazards.split(";") if hazard.strip()],
        "aliases": list(material.aliases),
        "note": material.note,
    }
