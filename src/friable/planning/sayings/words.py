"""The figures of an answer as a table: headings in words, cells with their units."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.planning.reading import per_cent, with_range
from friable.planning.sayings.values import DEPENDS, FAILS, HOLDS, NOT_COMPUTED, Figure, Number
from friable.reference.sources import source
from friable.science.estimate import Estimate
from friable.wording import gettext as _

SOURCE = "source"


@dataclass(frozen=True, slots=True)
class FigureTable:
    """Headings of the columns, and rows of what it is of and the cells."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    ranged: bool  # whether any figure has a range


def verdict_words(verdict: str) -> str:
    """Return a verdict in the reader's language."""
    return {
        HOLDS: _("holds"),
        FAILS: _("fails"),
        DEPENDS: _("depends"),
        NOT_COMPUTED: _("not computed"),
    }[verdict]


def side_words(side: str) -> str:
    """Return on which side evidence stands, in the reader's language."""
    return {"for": _("for"), "against": _("against"), "both": _("to both sides")}[side]


def topic_words(topic: str) -> str:
    """Return the topic of a saying, in the reader's language."""
    return {
        "mixing": _("Mixing"),
        "additions": _("What is added to a mix"),
        "filling": _("Filling pots"),
        "layers": _("Layers below"),
        "pots": _("Pots"),
        "weights": _("Weight"),
        "yields": _("Bales and bricks"),
        "peat-free": _("Without peat"),
        "time": _("Time"),
        "clean": _("Clean"),
        "chemistry": _("Lime, salts and water"),
        "cost": _("Cost"),
    }[topic]


def figure_words() -> dict[str, str]:
    """Return the heading of each figure that an answer may hold."""
    return {
        "air_space": _("air"),
        "container_capacity": _("water"),
        "total_porosity": _("pores"),
        "dry_bulk_density_g_cm3": _("dry, kg/L"),
        "wet_density_kg_l": _("wet, kg/L"),
        "shrinkage": _("lost"),
        "medium_height_cm": _("mix deep, cm"),
        "wet_zone_cm": _("wet zone, cm"),
        "wet_up_to_cm": _("wet up to, cm above the floor"),
        "wet_share_of_mix": _("share of the mix that is wet"),
        "air_space_low": _("air from"),
        "air_space_high": _("air to"),
        "air_width": _("width of the range of air"),
        "water_l": _("water, L"),
        "medium_volume_l": _("mix, L"),
        "available_water_l": _("water that plants can take, L"),
        "water_at_top": _("water at the top"),
        "water_at_bottom": _("water at the bottom"),
        "ratio": _("times"),
        "volume_l": _("volume, L"),
        "volume_low_l": _("least, L"),
        "volume_high_l": _("most, L"),
        "share": _("share"),
        "ratio_low": _("times, from"),
        "ratio_high": _("times, to"),
        "loose_low_l": _("loose, least, L"),
        "loose_high_l": _("loose, most, L"),
        "packs": _("packs"),
        "finished_l": _("made, L"),
        "sum_of_parts_l": _("poured, L"),
        "loose_moist_parts": _("parts"),
        "pieces": _("pieces"),
        "scatter": _("nine of ten within"),
        "water_by_wet_mass": _("water of the wet mass"),
        "water_when_filled": _("water of the volume"),
        "share_of_capacity": _("of what it can hold"),
        "years_low": _("years, from"),
        "years_high": _("years, to"),
        SOURCE: _("says"),
    }


def table_of(numbers: Sequence[Number]) -> FigureTable:
    """Return the figures as a table; a figure that a line has not is an empty cell."""
    keys = list(dict.fromkeys(key for number in numbers for key in number.figures))
    words = figure_words()
    return FigureTable(
        tuple(words[key] for key in keys),
        tuple((n.what, tuple(_cell(key, n.figures.get(key)) for key in keys)) for n in numbers),
        any(isinstance(figure, Estimate) for number in numbers for figure in number.figures.values()),
    )


SHARES = frozenset(
    {
        "air_space", "container_capacity", "total_porosity", "shrinkage", "wet_share_of_mix", "air_space_low",
        "air_space_high", "air_width", "water_at_top", "water_at_bottom", "share", "scatter",
        "water_by_wet_mass", "water_when_filled", "share_of_capacity",
    }
)  # fmt: skip


def _cell(key: str, figure: Figure) -> str:
    if figure is None or figure == "":
        return ""
    if isinstance(figure, str):
        return "; ".join(source(one.strip()).title for one in figure.split(";")) if key == SOURCE else figure
    if key in SHARES:
        return with_range(figure) if isinstance(figure, Estimate) else per_cent(figure)
    if isinstance(figure, Estimate):
        value, low, high = (_short(x) for x in (figure.value, figure.low, figure.high))
        if low == high:
            return value
        return _("{value}, {low} to {high}").format(value=value, low=low, high=high)
    return f"{figure:,d}" if isinstance(figure, int) else _short(figure)


def _short(value: float) -> str:
    """Return a number to three digits, and no finer than hundredths."""
    return f"{float(f'{round(value, 2):.3g}') or 0.0:g}"
