"""What a material cannot be: the physics that a row of the tables has to obey."""

from itertools import pairwise

from friable.reference.row import Row
from friable.wording import gettext as _

SPLIT_TOLERANCE = 0.003  # fractions are printed to 0.001-0.005; two of them enter the identity
PRINTED_TO = 0.0006  # densities are printed to 1 kg/m3, fractions to 0.001
DENSITY_TOLERANCE = 0.002  # the effective density is worked from a porosity printed to 0.001
# The ends of a range are the 95th percentile of lots, porosity and density each by itself: a lot as open as
# total_porosity_high may well be lighter than dry_bulk_density_low.
ENDS_TOLERANCE = 0.021

ABOVE_ZERO = (
    "size_low_mm", "d50_mm", "size_high_mm", "dry_bulk_density_low_g_cm3", "dry_bulk_density_g_cm3",
    "dry_bulk_density_high_g_cm3", "envelope_density_g_cm3", "effective_solid_density_g_cm3",
    "true_solid_density_g_cm3", "saturated_conductivity_low_cm_h", "saturated_conductivity_high_cm_h",
    "breaks_down_low_years", "breaks_down_high_years",
)  # fmt: skip
FRACTIONS = (
    "total_porosity_low", "total_porosity", "total_porosity_high", "void_fraction", "internal_porosity",
    "water_at_10cm_low", "water_at_10cm", "water_at_10cm_high", "water_at_100cm", "water_at_15000cm",
    "container_capacity_7p6cm", "air_space_7p6cm",
)  # fmt: skip
RISING = (
    ("size_low_mm", "d50_mm", "size_high_mm"),
    ("dry_bulk_density_low_g_cm3", "dry_bulk_density_g_cm3", "dry_bulk_density_high_g_cm3"),
    ("total_porosity_low", "total_porosity", "total_porosity_high"),
    ("water_at_10cm_low", "water_at_10cm", "water_at_10cm_high"),
    ("saturated_conductivity_low_cm_h", "saturated_conductivity_high_cm_h"),
    ("ph_low", "ph_high"),
    ("exchange_capacity_low_cmol_kg", "exchange_capacity_high_cmol_kg"),
    ("breaks_down_low_years", "breaks_down_high_years"),
    ("dry_bulk_density_g_cm3", "envelope_density_g_cm3", "effective_solid_density_g_cm3"),
    ("water_at_15000cm", "water_at_100cm", "water_at_10cm", "container_capacity_7p6cm", "total_porosity"),
    ("water_at_10cm_high", "total_porosity_high"),
)
WORDS = {
    "kind": ("mineral", "organic", "fibrous", "filler"),
    "carbonate": ("no", "yes", "maybe"),
    "hydrophobic_when_dry": ("no", "slightly", "when fresh", "when bone dry", "yes", ""),
}


def refuse_impossible_material(row: Row) -> None:
    """Refuse a material that cannot exist.

    Raises
    ------
    LookupError
        If a figure is negative or above what it can be, a range is out of order, water rises with suction or
        exceeds the pores, the pores are not e + (1 - e) phi, or the solids would be denser than solid matter.
    """
    for column, words in WORDS.items():
        if row[column] not in words:
            raise row.refused(
                _("{column} is “{word}”; it must be one of: {words}").format(
                    column=column, word=row[column], words=", ".join(w for w in words if w)
                )
            )
    for column in ABOVE_ZERO:
        if row.number(column) <= 0:
            raise row.refused(
                _("{column} is {value:g}; it must be above 0").format(column=column, value=row.number(column))
            )
    for column in FRACTIONS:
        if not 0 <= row.number(column) < 1:
            raise row.refused(
                _("{column} is {value:g}; it must be from 0 to below 1").format(
                    column=column, value=row.number(column)
                )
            )
    for columns in RISING:
        for lower, upper in pairwise(columns):
            below, above = row.maybe(lower), row.maybe(upper)
            if below is not None and above is not None and below > above:
                raise row.refused(
                    _("{lower} ({below:g}) is above {upper} ({above:g})").format(
                        lower=lower, below=below, upper=upper, above=above
                    )
                )
    _refuse_impossible_pores(row)


def _refuse_impossible_pores(row: Row) -> None:
    pores = row.number("total_porosity")
    split = _pores(row)
    if abs(pores - split) > SPLIT_TOLERANCE:
        raise row.refused(
            _(
                "total_porosity is {pores:g}, but the voids and the pores inside grains make {split:.4g}"
            ).format(pores=pores, split=split)
        )
    held = row.number("container_capacity_7p6cm") + row.number("air_space_7p6cm")
    if abs(pores - held) > SPLIT_TOLERANCE:
        raise row.refused(
            _("water and air in a 7.6 cm core make {held:.4g}, not {pores:g}").format(held=held, pores=pores)
        )
    from_density = 1 - row.number("dry_bulk_density_g_cm3") / row.number("effective_solid_density_g_cm3")
    if abs(pores - from_density) > SPLIT_TOLERANCE:
        raise row.refused(
            _("total_porosity is {pores:g}, but density leaves {other:.4g}").format(
                pores=pores, other=from_density
            )
        )
    effective, true = row.number("effective_solid_density_g_cm3"), row.number("true_solid_density_g_cm3")
    if effective > true * (1 + DENSITY_TOLERANCE):
        raise row.refused(
            _(
                "effective_solid_density_g_cm3 ({effective:g}) is above true_solid_density_g_cm3 ({true:g})"
            ).format(effective=effective, true=true)
        )
    for pores_column, density_column, tolerance in (
        ("total_porosity", "dry_bulk_density_g_cm3", PRINTED_TO),
        ("total_porosity_high", "dry_bulk_density_low_g_cm3", ENDS_TOLERANCE),
    ):
        limit = 1 - row.number(density_column) / row.number("true_solid_density_g_cm3")
        if row.number(pores_column) > limit + tolerance:
            raise row.refused(
                _("{column} is {pores:g}, above what its solids leave ({limit:.4g})").format(
                    column=pores_column, pores=row.number(pores_column), limit=limit
                )
            )


def refuse_impossible_curve(row: Row, figures: Row | None) -> None:
    """Refuse a water curve that belongs to no material, or leaves its material's figures.

    Raises
    ------
    LookupError
        If the key is unknown, the pores differ from the material's, sizes do not rise, or the curve misses
        the material's water at 10, 100 or 15,000 cm by more than the tolerance that the row states.
    """
    if figures is None:
        raise row.refused(_("no material has the key “{key}”").format(key=row["key"]))
    for column in ("void_fraction", "internal_porosity", "total_porosity"):
        if abs(row.number(column) - figures.number(column)) > PRINTED_TO:
            raise row.refused(
                _("{column} is {value:g}, but the material has {other:g}").format(
                    column=column, value=row.number(column), other=figures.number(column)
                )
            )
    if abs(row.number("total_porosity") - _pores(row)) > SPLIT_TOLERANCE:
        raise row.refused(_("total_porosity is not the voids and the pores inside grains"))
    if not 0 < row.number("void_fraction") <= row.number("void_fraction_single_size") < 1:
        raise row.refused(_("void_fraction_single_size must be from void_fraction to below 1"))
    sizes = [row.number(f"sub_size_{i}_mm") for i in range(1, 6)]
    if not 0 < sizes[0] <= sizes[-1] or sizes != sorted(sizes):
        raise row.refused(_("the five sub-grade sizes must be above 0 and rise"))
    for column in ("alpha_ext_per_cm", "alpha_int_per_cm"):
        if row.number(column) <= 0:
            raise row.refused(_("{column} must be above 0").format(column=column))
    for column in ("n_ext", "n_int"):
        if row.number(column) <= 1:
            raise row.refused(_("{column} must be above 1").format(column=column))
    if not 0 <= row.number("overlap_loss") <= 1:
        raise row.refused(_("overlap_loss must be from 0 to 1"))
    for suction_cm, tolerance in (
        (10, "tolerance_to_100cm"),
        (100, "tolerance_to_100cm"),
        (15000, "tolerance_at_15000cm"),
    ):
        curve, table = water_left(row, suction_cm), figures.number(f"water_at_{suction_cm}cm")
        if abs(curve - table) > row.number(tolerance):
            raise row.refused(
                _(
                    "the curve holds {curve:.4f} at {suction} cm, not {table:g}; {tolerance:g} is allowed"
                ).format(curve=curve, suction=suction_cm, table=table, tolerance=row.number(tolerance))
            )


def water_left(row: Row, suction_cm: float) -> float:
    """Return the water that a curve of the table leaves at a suction. [m³ m⁻³]

    θ(s) = e S(s; αₑ, nₑ) + (1 − e) φ S(s; αᵢ, nᵢ), S = [1 + (αs)ⁿ]^-(1 − 1/n)   [vangenuchten1980]_. Written
    out here without arrays, so that a table is checked without loading NumPy.
    """
    voids = row.number("void_fraction")
    outer = _saturation(suction_cm, row.number("alpha_ext_per_cm"), row.number("n_ext"))
    inner = _saturation(suction_cm, row.number("alpha_int_per_cm"), row.number("n_int"))
    return voids * outer + (1 - voids) * row.number("internal_porosity") * inner


def _saturation(suction_cm: float, alpha_per_cm: float, n: float) -> float:
    return float((1 + (alpha_per_cm * suction_cm) ** n) ** (1 / n - 1))


def _pores(row: Row) -> float:
    voids = row.number("void_fraction")
    return voids + (1 - voids) * row.number("internal_porosity")
