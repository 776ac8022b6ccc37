"""What a page shows of a climate: figures, months, a picture."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

if TYPE_CHECKING:
    from datetime import date

    from friable.planning.climate import Climate

BY_DAY = 62  # so many columns at most are days; beyond, weeks
MJ_OF_W = 3600 / 1e6


@dataclass(frozen=True, slots=True)
class Stretch:
    """A month, or the whole: means and ends."""

    begins: "date"
    coldest_c: float
    mean_c: float
    warmest_c: float
    humidity: float
    light_mj_m2: float
    reference_mm: float  # a day
    rain_mm: float


def whole(climate: "Climate") -> Stretch:
    """Return the figures of all its days."""
    return _stretch(climate, 0, climate.days)


def months(climate: "Climate") -> list[Stretch]:
    """Return the figures of each month it touches."""
    begins = [0]
    for number in range(1, climate.days):
        if climate.day(number).month != climate.day(number - 1).month:
            begins.append(number)
    return [_stretch(climate, first, last) for first, last in pairwise([*begins, climate.days])]


def picture(climate: "Climate") -> SafeString:
    """Return the picture of a climate, ready to stand in a page."""
    from friable.drawing.weather_picture import Spell, weather_picture_svg

    step = 1 if climate.days <= BY_DAY else 7
    ends = [*range(0, climate.days, step), climate.days]
    spells = []
    for first, last in pairwise(ends):
        one = _stretch(climate, first, last)
        spells.append(
            Spell(one.begins, one.coldest_c, one.mean_c, one.warmest_c, one.humidity, one.reference_mm)
        )
    title = _("{name}: temperature, humidity and loss, {step}").format(
        name=climate.name, step=_("day by day") if step == 1 else _("week by week")
    )
    # Built by an XML writer from numbers and escaped text.
    return mark_safe(weather_picture_svg(spells, title=title))  # noqa: S308


@lru_cache(maxsize=1)
def built_in() -> list[tuple[object, Stretch]]:
    """Return the built-in seasons, each with the figures of one of its days."""
    from friable.planning.plain_season import plain_season
    from friable.reference.seasons import all_seasons

    return [(season, whole(plain_season(season.name, 30))) for season in all_seasons()]


def _stretch(climate: "Climate", first: int, last: int) -> Stretch:
    hours = slice(24 * first, 24 * last)
    temperature = climate.temperature_c[hours]
    days = last - first
    return Stretch(
        begins=climate.day(first),
        coldest_c=float(temperature.min()),
        mean_c=float(temperature.mean()),
        warmest_c=float(temperature.max()),
        humidity=float(climate.relative_humidity[hours].mean()),
        light_mj_m2=float(climate.light_w_m2[hours].sum() * MJ_OF_W / days),
        reference_mm=float(climate.reference_mm[hours].sum() / days),
        rain_mm=float(climate.rain_at_plants_mm[hours].sum()),
    )
