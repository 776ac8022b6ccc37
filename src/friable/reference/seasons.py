"""Built-in seasons: round figures for kinds of house, from memory, of no real place."""

from dataclasses import dataclass
from functools import cache

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.words import nearest, tokens
from friable.wording import gettext as _

LATITUDE_DEG = 51.0  # of the sun in every built-in season
SEASONS = ("winter", "spring", "summer", "autumn")
FIRST_MONTH = {"winter": 1, "spring": 4, "summer": 7, "autumn": 10}  # the middle month, from its 15th day
OTHER_WORDS = {"fall": "autumn", "greenhouse": "glasshouse", "outside": "outdoors", "heated": "temperate"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """One season in one kind of house; shares from 0 to 1."""

    house: str
    season: str
    mean_c: float
    daily_range_c: float
    day_to_day_c: float  # standard deviation of the mean of a day
    relative_humidity: float
    outside_light_mj_m2: float  # of a day
    light_transmission: float
    under_glass: bool
    wind_m_s: float | None
    rain_mm_a_month: float
    wet_days_a_month: float
    how_known: str
    source: str
    remark: str

    @property
    def name(self) -> str:
        """What people type: “cold glasshouse winter”."""
        return f"{self.house} {self.season}"

    @property
    def light_mj_m2(self) -> float:
        """Light at the plants. [MJ m⁻² d⁻¹]"""
        return self.outside_light_mj_m2 * self.light_transmission


@cache
def all_seasons() -> tuple[Season, ...]:
    """Return every built-in season, house by house."""
    return tuple(
        Season(
            house=row["house"],
            season=row["season"],
            mean_c=row.number("mean_c"),
            daily_range_c=row.number("daily_range_c"),
            day_to_day_c=row.number("day_to_day_c"),
            relative_humidity=row.number("relative_humidity_pct") / 100,
            outside_light_mj_m2=row.number("outside_light_mj_m2"),
            light_transmission=row.number("light_transmission_pct") / 100,
            under_glass=row["under_glass"] == "yes",
            wind_m_s=row.maybe("wind_m_s"),
            rain_mm_a_month=row.maybe("rain_mm_a_month") or 0.0,
            wet_days_a_month=row.maybe("wet_days_a_month") or 0.0,
            how_known=row["how_known"],
            source=row["source"],
            remark=row["remark"],
        )
        for row in read_table("seasons")
    )


def houses() -> tuple[str, ...]:
    """Return the kinds of house, each once."""
    return tuple(dict.fromkeys(season.house for season in all_seasons()))


def _words(text: str) -> frozenset[str]:
    words = tokens(text)
    known = {word for season in all_seasons() for word in tokens(season.name)}
    return frozenset(word if word in known else OTHER_WORDS.get(word, word) for word in words)


def find_season(text: str) -> Season:
    """Return a built-in season by its name, in any order of the words.

    Raises
    ------
    UnknownName, AmbiguousName
        If no season, or more than one, has all these words.
    """
    asked = _words(text)
    found = [season for season in all_seasons() if asked and asked <= tokens(season.name)]
    if len(found) == 1:
        return found[0]
    if found:
        raise AmbiguousName(_("season"), text, [season.name for season in found])
    names = {season.name: season.name for season in all_seasons()}
    raise UnknownName(_("season"), text, nearest(text, names) or list(names)[:4])


def find_house(text: str) -> str:
    """Return a kind of house by its name.

    Raises
    ------
    UnknownName, AmbiguousName
        If no house, or more than one, has all these words.
    """
    asked = _words(text)
    found = [house for house in houses() if asked and asked <= tokens(house)]
    if len(found) == 1:
        return found[0]
    if found:
        raise AmbiguousName(_("house"), text, found)
    raise UnknownName(_("house"), text, nearest(text, {house: house for house in houses()}) or houses())
