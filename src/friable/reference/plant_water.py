"""What groups of plants use of water, how deep they root, how wet and how dry they stand it."""

from dataclasses import dataclass
from functools import cache

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.words import nearest, tokens
from friable.science.estimate import Estimate
from friable.wording import gettext as _

NO_PLANT = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantWater:
    """One group of plants. Heads are suctions in cm of water, counted positive.

    Uptake by roots is nothing up to `wet_head_cm`, rises to full at `easy_from_head_cm`, stays so to
    `easy_to_head_cm` and falls to nothing at `dry_head_cm` (Feddes 1978). Where the first two are 0, roots
    take up from saturated medium as well.
    """

    key: str
    name: str
    also_called: tuple[str, ...]
    use_low: float  # multiples of reference evapotranspiration for the area of the pot's top
    use: float
    use_high: float
    evaporation_share: float  # of the use: lost from the surface of the medium; the rest through leaves
    root_depth_share: float  # of the height of the medium, from its top
    wet_head_cm: float
    easy_from_head_cm: float
    easy_to_head_cm: float
    dry_head_cm: float
    air_limit: float  # less air than this in the root zone counts as too wet; share of volume
    how_known: str
    source: str
    remark: str

    @property
    def use_range(self) -> Estimate:
        """The multiple of reference with its range."""
        return Estimate(self.use, self.use_low, self.use_high, self.how_known, self.source)

    @property
    def heads_cm(self) -> tuple[float, float, float, float]:
        """The four heads, wet to dry. [cm]"""
        return self.wet_head_cm, self.easy_from_head_cm, self.easy_to_head_cm, self.dry_head_cm

    @property
    def without_plant(self) -> bool:
        """Whether this is a pot of bare medium."""
        return self.key == NO_PLANT


@cache
def all_plants() -> tuple[PlantWater, ...]:
    """Return every group, bare medium first.

    Raises
    ------
    LookupError
        If a row's figures are out of order or out of range.
    """
    return tuple(_plant(row) for row in read_table("plant_water"))


def _plant(row: Row) -> PlantWater:
    plant = PlantWater(
        key=row["key"],
        name=row["name"],
        also_called=row.list("also_called"),
        use_low=row.number("use_low"),
        use=row.number("use"),
        use_high=row.number("use_high"),
        evaporation_share=row.number("evaporation_share"),
        root_depth_share=row.number("root_depth_share"),
        wet_head_cm=row.number("wet_head_cm"),
        easy_from_head_cm=row.number("easy_from_head_cm"),
        easy_to_head_cm=row.number("easy_to_head_cm"),
        dry_head_cm=row.number("dry_head_cm"),
        air_limit=row.number("air_limit_pct") / 100,
        how_known=row["how_known"],
        source=row["source"],
        remark=row["remark"],
    )
    wet, easy_from, easy_to, dry = plant.heads_cm
    if not (0 < plant.use_low <= plant.use <= plant.use_high and 0 <= wet <= easy_from < easy_to < dry):
        raise row.refused(_("the uses or the heads are out of order"))
    if not (
        0 <= plant.evaporation_share <= 1 and 0 < plant.root_depth_share <= 1 and 0 <= plant.air_limit < 1
    ):
        raise row.refused(_("a share is out of range"))
    return plant


def find_plant(text: str) -> PlantWater:
    """Return a group of plants by its name, key, or what else it is called.

    Raises
    ------
    UnknownName, AmbiguousName
        If no group, or more than one, is called so.
    """
    asked = tokens(text)
    plants = all_plants()
    for plant in plants:
        if asked and any(asked == tokens(name) for name in (plant.key, plant.name, *plant.also_called)):
            return plant
    found = [
        plant
        for plant in plants
        if asked and any(asked <= tokens(name) for name in (plant.name, *plant.also_called))
    ]
    if len(found) == 1:
        return found[0]
    if found:
        raise AmbiguousName(_("group of plants"), text, [plant.name for plant in found])
    spellings = {name: plant.name for plant in plants for name in (plant.key, plant.name, *plant.also_called)}
    raise UnknownName(_("group of plants"), text, nearest(text, spellings) or [p.name for p in plants])
