"""Published figures of mixes that a blending rule can be held against, with the laboratory's own parts."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.wording import gettext as _

FROM_TABLES = "tables"  # the laboratory published no parts of its own: the material tables stand in


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFigures:
    """What a laboratory published of one part; fractions of volume, None where it printed none."""

    part: str  # key of a material, or the laboratory's own name
    total_porosity: float
    container_capacity: float | None
    released_10_to_100cm: float | None
    dry_bulk_density_g_cm3: float
    remark: str
    how_known: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MixCase:
    """One published figure of one mix. Densities in g/cm3, everything else as a fraction of volume."""

    case: str
    parts: tuple[tuple[str, float], ...]  # key of a material or name of a part, share of loose volume
    part_figures: tuple[PartFigures, ...]  # empty: take the material tables
    column_height_cm: float | None
    quantity: str
    value: float
    held_out: bool  # not used for choosing the constants of the blending rule
    remark: str
    how_known: str
    source: str


@cache
def published_mix_cases() -> tuple[MixCase, ...]:
    """Return every case, in the order of the table.

    Raises
    ------
    LookupError
        If shares do not sum to 1, or a case names a laboratory that has no parts.
    """
    laboratories: dict[str, list[PartFigures]] = {FROM_TABLES: []}
    for row in read_table("mix_case_parts"):
        laboratories.setdefault(row["part_figures"], []).append(
            PartFigures(
                part=row["part"],
                total_porosity=row.number("total_porosity"),
                container_capacity=row.maybe("container_capacity"),
                released_10_to_100cm=row.maybe("released_10_to_100cm"),
                dry_bulk_density_g_cm3=row.number("dry_bulk_density_g_cm3"),
                remark=row["remark"],
                how_known=row["how_known"],
                source=row["source"],
            )
        )
    found = []
    for row in read_table("mix_cases"):
        parts = tuple((name, float(share)) for name, share in (part.split("=") for part in row.list("parts")))
        if abs(sum(share for _name, share in parts) - 1) > 1e-9:
            raise row.refused(_("the shares do not sum to 1"))
        if row["part_figures"] not in laboratories:
            raise row.refused(_("no parts are given for “{name}”").format(name=row["part_figures"]))
        named = [name for name, _share in parts]
        found.append(
            MixCase(
                case=row["case"],
                parts=parts,
                part_figures=tuple(f for f in laboratories[row["part_figures"]] if f.part in named),
                column_height_cm=row.maybe("column_height_cm"),
                quantity=row["quantity"],
                value=row.number("value"),
                held_out=row["use"] == "held out",
                remark=row["remark"],
                how_known=row["how_known"],
                source=row["source"],
            )
        )
    return tuple(found)
