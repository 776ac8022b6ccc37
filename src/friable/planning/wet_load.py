"""How heavy so much of a mix is after watering."""

from typing import TYPE_CHECKING

from friable.errors import BadQuantity
from friable.planning.units_in import LARGEST_L
from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast


def wet_load_kg(forecast: "Forecast", volume_l: float) -> Estimate:
    """Return the mass of a volume of finished mix, as wet as it stands in the forecast's pot. [kg]

    Raises
    ------
    BadQuantity
        If the volume is not above 0, or larger than anything we mix.

    Notes
    -----
    The wet mass of the medium in the pot, in proportion to the volume. Fresh mix is drier than that, so it
    is the most to reckon with.
    """
    if not 0 < volume_l <= LARGEST_L:
        raise BadQuantity(
            _("the volume to lift"), volume_l, "L", _("above 0 and at most {most} L").format(most=LARGEST_L)
        )
    share = volume_l / forecast.container.medium_volume_l
    wet = forecast.wet_mass_kg
    return Estimate(share * wet.value, share * wet.low, share * wet.high, wet.how_known, wet.source)
