"""A forecast in plain words: one sentence that can be read across a bench."""

from typing import TYPE_CHECKING

from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast
    from friable.science.containers import Container

# Below a tenth of air a layer is called wet: the lower end of the common 10 to 25 % [UCANR3].
WET_BELOW_AIR = 0.10
HARDLY_WET_CM = 0.5
UNDER_ONE = 0.01


def trust_sentence() -> str:
    """Return in one sentence how far these numbers can be trusted; a test counts the rows again."""
    return _(
        "On published mixes, 9 of 13 air figures and 6 of 10 water figures came within 5 points of the "
        "forecast (plain averaging: 8 and 8): trust which mix is airier, not the last point; test a pot."
    )


def per_cent(share: float) -> str:
    """Return a share as whole per cent."""
    return _("{number} %").format(number=round(100 * share))


def with_range(figure: Estimate) -> str:
    """Return a share with its range, in whole per cent: “9 %, 6 to 13”."""
    value, low, high = (round(100 * x) for x in (figure.value, figure.low, figure.high))
    if figure.value > 0 and figure.high < UNDER_ONE:
        return _("under 1 %")
    if figure.value > 0 and value == 0:
        return _("under 1 %, up to {high}").format(high=high)
    if low == high:
        return _("{value} %").format(value=value)
    return _("{value} %, {low} to {high}").format(value=value, low=low, high=high)


def wet_zone_cm(forecast: "Forecast", wet_below_air: float = WET_BELOW_AIR) -> float:
    """Return how high above the bottom of the medium there is less air than the limit. [cm]"""
    bottom = forecast.profile[0].height_cm
    below = forecast.profile[0]
    if below.air >= wet_below_air:
        return 0.0
    for point in forecast.profile[1:]:
        if point.air >= wet_below_air:
            part = (wet_below_air - below.air) / (point.air - below.air)
            return below.height_cm + part * (point.height_cm - below.height_cm) - bottom
        below = point
    return forecast.profile[-1].height_cm - bottom


def _centimetres(height_cm: float) -> str:
    """Return a height to the millimetre, as the drawing of the pot names it."""
    return f"{round(height_cm, 1):g}"


def pot_words(container: "Container") -> str:
    """Return the container as a reader would call it: its depth and its kind."""
    kinds = {
        "round": _("{depth:.3g} cm deep pot"),
        "square": _("{depth:.3g} cm deep square pot"),
        "tray": _("{depth:.3g} cm tray"),
        "cell": _("{depth:.3g} cm cell"),
        "basket": _("{depth:.3g} cm deep basket"),
    }
    return kinds[container.shape].format(depth=container.height_cm)


def pot_reading(forecast: "Forecast") -> str:
    """Return one plain sentence on air and wetness, with the range."""
    pot = pot_words(forecast.container)
    air = with_range(forecast.air_space)
    wet = wet_zone_cm(forecast)
    depth = forecast.profile[-1].height_cm - forecast.profile[0].height_cm
    value, _comma, between = air.partition(", ")
    air_words = _("{value} air").format(value=value) + (f", {between}" if between else "")
    if wet >= depth:
        return _("In this {pot} it stays wet to the top: {air}.").format(pot=pot, air=air_words)
    if wet > depth / 2:
        return _("In this {pot} it stays wet more than half way up ({wet} cm): {air}.").format(
            pot=pot, wet=_centimetres(wet), air=air_words
        )
    if wet > HARDLY_WET_CM:
        return _("In this {pot} the bottom {wet} cm stays wet: {air}.").format(
            pot=pot, wet=_centimetres(wet), air=air_words
        )
    return _("In this {pot} only the very bottom stays wet: {air}.").format(pot=pot, air=air_words)
