"""Water for one batch, from the dry mass of its mix."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.errors import BadQuantity
from friable.planning.moisture import WET_MASS, water_to_add
from friable.planning.units_in import LARGEST_L, figures
from friable.reference.moisture import MoistureTarget, moisture_targets
from friable.science.estimate import Estimate
from friable.wording import gettext as _

POTS, PLUGS = "pots and packs", "plug trays"  # uses of the table of moisture targets
BY_WET_MASS = "water_by_wet_mass"


@dataclass(frozen=True, slots=True)
class BatchWater:
    """Water to add to a batch [L], and the moistures it leads from and to, as shares."""

    water_l: Estimate
    now: float
    wanted: float
    meaning: str

    @property
    def words(self) -> str:
        """The litres with their range, and what they are for."""
        return water_words(
            (self.water_l.value, self.water_l.low, self.water_l.high), self.now, self.wanted, self.meaning
        )


def water_for_batch(
    dry_bulk_density_g_cm3: Estimate,
    finished_l: float,
    now: float,
    wanted: float,
    meaning: str = WET_MASS,
) -> BatchWater:
    """Return the water that brings a batch from one moisture to another.

    Parameters
    ----------
    dry_bulk_density_g_cm3 : Estimate
        Of the finished mix; its range becomes that of the water.
    finished_l : float
        Finished volume. [L]
    now, wanted : float
        Moistures as shares, in the meaning that is chosen.
    meaning : str
        “wet-mass” or “water-to-dry”.

    Raises
    ------
    BadQuantity, BadText, Refused
        If the volume or a moisture is impossible, or the mix is wetter than wanted already.

    Notes
    -----
    The dry mass is the density times the volume (1 g/cm3 is 1 kg/L); the rest is a balance of mass. The
    range is that of the density alone: a moisture judged by hand is less sure than that.
    """
    if not 0 < finished_l <= LARGEST_L:
        raise BadQuantity(
            _("the finished volume"),
            finished_l,
            "L",
            _("above 0 and at most {most} L").format(most=LARGEST_L),
        )
    check_moistures(now, wanted, meaning)
    value, low, high = (
        _water_l(density * finished_l, now, wanted, meaning)
        for density in (dry_bulk_density_g_cm3.value, dry_bulk_density_g_cm3.low, dry_bulk_density_g_cm3.high)
    )
    water = Estimate(value, low, high, "computed", dry_bulk_density_g_cm3.source)
    return BatchWater(water, now, wanted, meaning)


def check_moistures(now: float, wanted: float, meaning: str) -> None:
    """Refuse moistures between which no water is to be added, whatever the mass."""
    water_to_add(1, now, wanted, meaning)


def usual_moisture(shapes: Sequence[str]) -> MoistureTarget:
    """Return the published moisture for filling containers of these shapes: plug trays or pots."""
    use = PLUGS if shapes and all(shape == "cell" for shape in shapes) else POTS
    return next(row for row in moisture_targets() if row.use == use and row.quantity == BY_WET_MASS)


def water_words(water_l: tuple[float, float, float], now: float, wanted: float, meaning: str) -> str:
    """Return (middle, low, high) litres in words, with the moistures and what they are per cent of."""
    value, low, high = (_rounded(litres) for litres in water_l)
    said = (
        _("{value} L ({low} to {high} L), from {now} to {wanted} % of the wet mass")
        if meaning == WET_MASS
        else _("{value} L ({low} to {high} L), from {now} to {wanted} % of the dry mass")
    )
    return said.format(
        value=value, low=low, high=high, now=figures(_per_cent(now)), wanted=figures(_per_cent(wanted))
    )


def _water_l(dry_kg: float, now: float, wanted: float, meaning: str) -> float:
    moist_kg = dry_kg / (1 - now) if meaning == WET_MASS else dry_kg * (1 + now)
    return water_to_add(moist_kg, now, wanted, meaning).water_to_add_l


def _per_cent(share: float) -> float:
    return round(100 * share, 6)


def _rounded(litres: float) -> str:
    return figures(float(f"{litres:.2g}"))
