"""What is at hand: materials with what lies here of them, what they cost, and their flags."""

from django.db.models import OuterRef, Subquery

from friable.planning.at_hand import AtHand
from friable.records import plain
from friable.records.models import Material, MaterialPrice, MaterialStock
from friable.reference.material_flags import material_flags
from friable.reference.materials import all_materials


def at_hand(*, in_stock_only=False) -> tuple[AtHand, ...]:
    """Return every material that can be forecast, our own first, with four queries however many.

    Our own that rest on no row of the table, and what is out of use here, are left out.

    Parameters
    ----------
    in_stock_only : bool
        Leave out what was never counted, and of what nothing is left.
    """
    keys = {material.key for material in all_materials()}
    rows = list(Material.objects.filter(table_key__in=keys))
    values = plain.materials(rows)
    stored = {row.table_key: row for row in rows if not row.is_own}
    counts, prices = newest_counts(), newest_prices()

    def of_row(row: Material) -> AtHand:
        count, price = counts.get(row.pk), prices.get(row.pk)
        return AtHand(
            material=values[row.pk],
            flags=material_flags(values[row.pk]),
            stock_l=None if count is None else count.amount_l,
            cost_per_l=None if price is None else price.cost_per_l,
        )

    found = [of_row(row) for row in rows if row.is_own and row.in_use]
    for material in all_materials():
        row = stored.get(material.key)
        if row is None:
            found.append(AtHand(material=material, flags=material_flags(material)))
        elif row.in_use:
            found.append(of_row(row))
    return tuple(one for one in found if one.stock_l or not in_stock_only)


def anything_counted() -> bool:
    """Say whether anything was ever counted here."""
    return MaterialStock.objects.exists()


def newest_counts() -> dict[int, MaterialStock]:
    """Return the count that holds of each material, by its pk; one query."""
    return {row.material_id: row for row in _newest(MaterialStock, "-counted_on")}


def newest_prices() -> dict[int, MaterialPrice]:
    """Return the price that holds of each material, by its pk, known or not; one query."""
    return {row.material_id: row for row in _newest(MaterialPrice, "-holds_from")}


def newest_count(material) -> MaterialStock | None:
    """Return the count of a material that holds, or None."""
    return counts_of(material).first()


def newest_price(material) -> MaterialPrice | None:
    """Return the price of a material that holds, or None."""
    return prices_of(material).first()


def counts_of(material):
    """Counts of a material, the newest first."""
    return MaterialStock.objects.filter(material=material).order_by("-counted_on", "-pk")


def prices_of(material):
    """Prices of a material, the newest first."""
    return MaterialPrice.objects.filter(material=material).order_by("-holds_from", "-pk")


def currencies() -> list[str]:
    """Return the signs in which prices that hold were given, each once, in their order."""
    return sorted(
        {row.currency for row in newest_prices().values() if row.cost_per_l is not None and row.currency}
    )


def currency() -> str:
    """Return the sign of the prices here; empty where none was given."""
    return next(iter(currencies()), "")


def _newest(model, order):
    of_the_same = model.objects.filter(material=OuterRef("material")).order_by(order, "-pk")
    return model.objects.filter(pk=Subquery(of_the_same.values("pk")[:1]))
