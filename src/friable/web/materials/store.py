"""What lies in the store, as its pages show it."""

from dataclasses import dataclass

from friable.records.models import MaterialPrice, MaterialStock
from friable.records.queries.at_hand import counts_of, newest_counts, newest_prices, prices_of
from friable.web.materials.known import Known, all_known

MOST_SHOWN = 100  # old counts and prices of one material on its page


@dataclass(frozen=True, slots=True)
class StoreRow:
    """A material with its newest count and price."""

    known: Known
    count: MaterialStock | None
    price: MaterialPrice | None

    @property
    def stock_field(self) -> str:
        """Name of the field for its count."""
        return f"stock-{self.known.key}"

    @property
    def price_field(self) -> str:
        """Name of the field for its price."""
        return f"price-{self.known.key}"


def store_rows() -> list[StoreRow]:
    """Return every material, those in use here first."""
    counts, prices = newest_counts(), newest_prices()
    rows = [
        StoreRow(known, counts.get(known.row.pk), prices.get(known.row.pk))
        if known.row
        else StoreRow(known, None, None)
        for known in all_known()
    ]
    return sorted(rows, key=lambda row: row.known.row is None)


def with_counts(rows: list[Known]) -> list[tuple[Known, MaterialStock | None]]:
    """Return materials with what lies here of each; one query."""
    counts = newest_counts()
    return [(known, counts.get(known.row.pk) if known.row else None) for known in rows]


def newest_of(known: Known) -> StoreRow:
    """Return one material with its newest count and price."""
    if known.row is None:
        return StoreRow(known, None, None)
    return StoreRow(known, counts_of(known.row).first(), prices_of(known.row).first())


def kept_of(known: Known) -> dict[str, object]:
    """Return what is shown of the store on the page of a material: what holds, and what held before."""
    if known.row is None:
        return {"store": newest_of(known), "counts": [], "prices": []}
    counts = list(counts_of(known.row)[:MOST_SHOWN])
    prices = list(prices_of(known.row)[:MOST_SHOWN])
    newest = StoreRow(known, counts[0] if counts else None, prices[0] if prices else None)
    return {"store": newest, "counts": counts, "prices": prices}
