"""Write the worked stories: pages from their templates, figures and pictures from the code.

    python docs/stories/make.py

Each `NAME-page.txt` becomes `NAME.md`. A mark such as `[[a days]]` takes a figure of case a with its range,
`[[a days mid]]` without; `[[a command]]` what to type, `[[a printed]]` what is answered, `[[table]]` all
cases side by side, `[[season NAME HOUSE]]` the collection NAME.csv in January. Each story has one
picture, `NAME.svg`: the four moments of the case named first.
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from friable.cli import season as season_command
from friable.cli.water_printed import water_lines
from friable.drawing.four_moments import four_moments_svg
from friable.planning.climate import Climate
from friable.planning.collection import read_collection
from friable.planning.container_text import parse_container
from friable.planning.mix_parts import mix_parts
from friable.planning.notation import parse_recipe
from friable.planning.plain_season import plain_season, plain_year
from friable.planning.recipe import RecipeBook
from friable.planning.season import SeasonAnswer, plan_season, summary
from friable.planning.season_pots import block_work, run_block
from friable.planning.units_in import fraction
from friable.planning.watering import WateringAnswer, WateringCase, watering, watering_reading
from friable.planning.watering_text import read_base
from friable.planning.weather_variants import year_of_weathers
from friable.reference.materials import find_material
from friable.reference.plant_water import find_plant
from friable.science.estimate import Estimate

HERE = Path(__file__).parent
DAYS = 60  # of the season, as the command takes them
MARK = re.compile(r"\[\[([^\]]+)\]\]")
PICTURE_WIDTH = 760.0


@dataclass(frozen=True, slots=True)
class Asked:
    """One case, in the words of the command."""

    said: str
    recipe: str
    container: str
    headspace_cm: float
    climate: str
    plant: str
    base: str = "open holes"
    used: str = "50%"
    use: float | None = None

    @property
    def command(self) -> str:
        """What to type."""
        options = [
            f'--container "{self.container}"',
            f"--headspace {self.headspace_cm:g}cm",
            f"--plant {self.plant}",
            f'--climate "{self.climate}"',
        ]
        if self.base != "open holes":
            options.append(f'--base "{self.base}"')
        if self.used != "50%":
            options.append(f"--used {self.used}")
        if self.use is not None:
            options.append(f"--use {self.use:g}")
        lines = [f'$ friable water "{self.recipe}"', *options]
        return " \\\n    ".join(lines)


BOG = {
    "recipe": "1 sphagnum peat medium + 1 horticultural sand medium",
    "container": "round 13/10/12 cm",
    "headspace_cm": 1.0,
    "climate": "temperate glasshouse summer",
    "plant": "bog",
}
BARK = {
    "recipe": "4 epiphyte bark medium + 1 perlite coarse + 1 charcoal small",
    "container": "round 14/10/12 cm",
    "headspace_cm": 1.5,
    "climate": "temperate glasshouse winter",
    "plant": "epiphytes",
}
SEED = {
    "recipe": "3 sphagnum peat fine + 1 vermiculite fine",
    "container": "tray 36x22x5 cm",
    "headspace_cm": 0.5,
    "climate": "propagation house spring",
    "plant": "seedlings",
    "used": "30%",
}
STORIES: dict[str, dict[str, Asked]] = {
    "bog-bench": {
        "a": Asked("in 2 cm of water", **BOG, base="standing water 2 cm"),
        "b": Asked("in 6 cm of water", **BOG, base="standing water 6 cm"),
        "c": Asked("in a saucer of 0.5 L", **BOG, base="saucer 0.5 L"),
        "d": Asked("out of the tray", **BOG),
    },
    "epiphytes": {
        "a": Asked("bark mix, temperate house", **BARK),
        "b": Asked("the same, its use known", **BARK, use=0.4),
        "c": Asked("bark mix, tropical house", **{**BARK, "climate": "tropical house winter"}),
        "d": Asked("long-fibre moss, temperate house", **{**BARK, "recipe": "1 long-fibre sphagnum moss"}),
    },
    "seed-trays": {
        "a": Asked("peat and vermiculite, open bench", **SEED),
        "b": Asked("the same, on a mat", **SEED, base="mat 5 cm"),
        "c": Asked("the same, tray 3 cm deep", **{**SEED, "container": "tray 36x22x3 cm"}),
        "d": Asked(
            "peat and perlite, open bench", **{**SEED, "recipe": "1 sphagnum peat fine + 1 perlite fine"}
        ),
        "e": Asked(
            "peat and vermiculite, in the temperate house",
            **{**SEED, "climate": "temperate glasshouse spring"},
        ),
    },
}


# --- answers -------------------------------------------------------------------------------------


@cache
def weather_of(name: str) -> Climate:
    """Return the built-in season, as long as the command takes it."""
    return plain_season(name, DAYS)


@cache
def case_of(asked: Asked) -> WateringCase:
    """Return what the command would ask."""
    book = RecipeBook({"mix": parse_recipe(asked.recipe)}, "mix")
    return WateringCase(
        parts=tuple(mix_parts(book, find_material)),
        container=parse_container(asked.container).with_headspace(asked.headspace_cm),
        climate=weather_of(asked.climate),
        plant=find_plant(asked.plant),
        base=read_base(asked.base),
        use=asked.use,
        used_share=fraction(asked.used).value,
    )


@cache
def answer_to(asked: Asked) -> WateringAnswer:
    """Return the answer."""
    return watering(case_of(asked))


# --- figures as they are written ----------------------------------------------------------------


def _plain(places: int, unit: str) -> Callable[[float], str]:
    return lambda value: f"{value:.{places}f}{unit}"


def _days(value: float) -> str:
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}"


def _hours_of(answer: WateringAnswer) -> Callable[[float], str]:
    always = math.inf if answer.dries_within else 0.99 * 24 * answer.days_to_water.value
    return lambda hours: "always" if hours >= always else f"{hours:.0f}"


FIGURES: dict[str, tuple[str, Callable[[float], str], str]] = {
    "days": ("days_to_water", _days, " days"),
    "wet": ("hours_wet", _plain(0, ""), " h"),
    "litres": ("litres_per_watering", _plain(2, ""), " L"),
    "week": ("litres_per_week", _plain(2, ""), " L"),
    "full": ("full_mass_kg", _plain(2, ""), " kg"),
    "target": ("target_mass_kg", _plain(2, ""), " kg"),
}


def figure(answer: WateringAnswer, name: str, part: str = "") -> str:
    """Return a figure with its range, one end of it (mid, low, high), or so many times it (x40)."""
    field, written, unit = FIGURES[name]
    estimate: Estimate = getattr(answer, field)
    if part.startswith("x"):
        times = int(part[1:])
        low, middle, high = (times * value for value in (estimate.low, estimate.value, estimate.high))
        return f"{middle:.0f}{unit} ({low:.0f} to {high:.0f})"
    if part:
        return written({"mid": estimate.value, "low": estimate.low, "high": estimate.high}[part]) + unit
    if name == "wet":
        written = _hours_of(answer)
    middle, low, high = (written(value) for value in (estimate.value, estimate.low, estimate.high))
    return middle + unit if low == high else f"{middle}{unit} ({low} to {high})"


def through(answer: WateringAnswer) -> str:
    """Return the share that runs through."""
    low, middle, high = (
        f"{100 * value:.0f}"
        for value in (answer.runs_through.low, answer.runs_through.value, answer.runs_through.high)
    )
    return f"{middle} %" if low == high else f"{middle} % ({low} to {high})"


def air_at_base_and_top(answer: WateringAnswer, moment: int) -> str:
    """Return the air at the bottom and at the top of the medium. [%]"""
    profile = answer.moments[moment].profile
    return f"{100 * profile[0].air:.0f} % air at the bottom and {100 * profile[-1].air:.0f} % at the top"


def table(cases: dict[str, Asked]) -> str:
    """Return all cases side by side."""
    lines = [
        "| | again after | poured | runs through | used in a week | too wet for |",
        "|---|---|---|---|---|---|",
    ]
    for asked in cases.values():
        answer = answer_to(asked)
        again = figure(answer, "days")
        if not answer.dries_within:
            again = f"not within {figure(answer, 'days', 'mid')}"
        poured = figure(answer, "litres") if answer.litres_per_watering.high > 0 else "nothing from above"
        runs = through(answer) if answer.litres_per_watering.high > 0 else "–"
        wet = figure(answer, "wet") if answer.air_limit else "no limit"
        lines.append(f"| {asked.said} | {again} | {poured} | {runs} | {figure(answer, 'week')} | {wet} |")
    return "\n".join(lines)


def printed(asked: Asked) -> str:
    """Return what the command answers."""
    case, answer = case_of(asked), answer_to(asked)
    return "\n".join(water_lines(case.parts, answer, case.climate, case.plant, None)).rstrip()


# --- a season ------------------------------------------------------------------------------------

WEATHERS, SEASON_DRAWS = 3, 16  # as the command takes them
JANUARY = slice(0, 4)  # weeks


@cache
def season_of(name: str, house: str) -> SeasonAnswer:
    """Return the season of the collection that lies beside a story, in a built-in year."""
    collection = read_collection((HERE / f"{name}.csv").read_text(encoding="utf-8"))
    weathers = year_of_weathers(plain_year(house), WEATHERS, season_command.SEED)
    plan = plan_season(collection, weathers, draws=SEASON_DRAWS, name=name)
    return summary(plan, (run_block(block_work(plan, number)) for number in range(plan.blocks)))


def season_table(name: str, house: str) -> str:
    """Return January by group: hours and litres a week, and days too dry."""
    lines = [
        "| watered | hours a week in January | litres a week | pot-days too dry |",
        "|---|---|---|---|",
    ]
    for group in season_of(name, house).groups:
        dry = group.by_month[0].too_dry
        hours, litres = (_weekly(weeks[JANUARY]) for weeks in (group.hours_by_week, group.litres_by_week))
        lines.append(
            f"| {group.name} | {hours} | {litres} "
            f"| {100 * dry.value:.0f} % ({100 * dry.low:.0f} to {100 * dry.high:.0f}) |"
        )
    return "\n".join(lines)


def _weekly(weeks: tuple[Estimate, ...]) -> str:
    middle, low, high = (
        f"{sum(getattr(week, part) for week in weeks) / len(weeks):.1f}" for part in ("value", "low", "high")
    )
    return f"{middle} ({low} to {high})"


# --- pages and pictures --------------------------------------------------------------------------


def filled(mark: str, cases: dict[str, Asked]) -> str:
    """Return what stands for a mark."""
    words = mark.split()
    if words == ["table"]:
        return table(cases)
    if words[0] == "season":
        return season_table(words[1], " ".join(words[2:]))
    asked, what, rest = cases[words[0]], words[1], words[2:]
    simple: dict[str, Callable[[Asked], Any]] = {
        "command": lambda a: a.command,
        "printed": printed,
        "reading": lambda a: watering_reading(answer_to(a)),
        "through": lambda a: through(answer_to(a)),
        "air": lambda a: air_at_base_and_top(answer_to(a), int(rest[0])),
    }
    return str(simple[what](asked)) if what in simple else figure(answer_to(asked), what, *rest)


def page(name: str) -> str:
    """Return a story with its figures filled in."""
    template = (HERE / f"{name}-page.txt").read_text(encoding="utf-8")
    return MARK.sub(lambda mark: filled(mark[1], STORIES[name]), template)


def drawing(name: str) -> str:
    """Return the picture of a story."""
    asked = next(iter(STORIES[name].values()))
    answer = answer_to(asked)
    title = f"{asked.recipe}, {asked.said}"
    return four_moments_svg(
        answer.container,
        answer.moments,
        title=title,
        width=PICTURE_WIDTH,
        wet_below=answer.air_limit,
        key=name,
    )


if __name__ == "__main__":
    for story in STORIES:
        (HERE / f"{story}.md").write_text(page(story), encoding="utf-8")
        (HERE / f"{story}.svg").write_text(drawing(story), encoding="utf-8")
