"""Work out docs/science/windows.md: what plant groups are asked to stand in, and where trade recipes fall.

    python docs/science/make_windows.py

writes windows.csv (every figure of every reading, four decimals) and the made parts of windows.md.
"""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from recipe_figures import Row, rows

from friable.planning.windows import asked, figure_said, said, side
from friable.reference.plant_groups import PlantGroup, plant_groups
from friable.reference.recipe_containers import RecipeUse, recipe_uses
from friable.reference.recipes import published_recipes
from friable.reference.windows import FLAGS, Window, label

HERE = Path(__file__).parent
TABLE, PAGE = HERE / "windows.csv", HERE / "windows.md"
ALWAYS = ("air_space", "container_capacity", "wet_density_kg_l")


def write_table(found: Sequence[Row], path: Path = TABLE) -> None:
    """Write every figure."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [f.name for f in fields(Row)], lineterminator="\n")
        writer.writeheader()
        writer.writerows(asdict(row) for row in found)


def read_table(path: Path = TABLE) -> list[Row]:
    """Read the figures back."""
    with path.open(encoding="utf-8", newline="") as file:
        return [Row(**row) for row in csv.DictReader(file)]


@dataclass(frozen=True, slots=True)
class Fall:
    """How one recipe falls against one window: the sides of its readings, and whether all are surely off."""

    use: RecipeUse
    figures: tuple[Row, ...]  # one a reading
    sides: tuple[str, ...]
    surely_outside: bool

    @property
    def within(self) -> bool:
        """Whether the middle of some reading lies within."""
        return "within" in self.sides


def fall(use: RecipeUse, figures: Sequence[Row], window: Window) -> Fall:
    """Hold every reading of a recipe against a window."""
    sides, sure = [], []
    for row in figures:
        if window.quantity in FLAGS:
            sides.append(side(window, row.value or None))
            sure.append(sides[-1] == "outside")
            continue
        ends = [float(end) for end in (row.value, row.low or row.value, row.high or row.value) if end]
        told = [side(window, end) for end in ends] or ["unknown"]
        sides.append(told[0])
        sure.append(told[0] in ("below", "above") and len(set(told)) == 1)
    return Fall(use, tuple(figures), tuple(sides), all(sure))


# --- sorting -------------------------------------------------------------------------------------


class Figures:
    """The figures of windows.csv by recipe and quantity."""

    def __init__(self, found: Sequence[Row]) -> None:
        self._rows: dict[tuple[str, str], list[Row]] = {}
        for row in found:
            self._rows.setdefault((row.recipe, row.quantity), []).append(row)

    def of(self, use: RecipeUse, quantity: str) -> list[Row]:
        """Return one figure of a recipe, a row for each reading."""
        return self._rows[use.recipe, quantity]

    def falls(self, group: PlantGroup, window: Window) -> list[Fall]:
        """Return how each computed recipe of a group falls against one of its windows."""
        return [fall(use, self.of(use, window.quantity), window) for use in uses_of(group)]


def uses_of(group: PlantGroup) -> list[RecipeUse]:
    """Return the uses of recipes that are meant for a group and can be computed."""
    return [use for use in recipe_uses() if group.key in use.groups and not use.left_out]


def disagreements(figures: Figures) -> Iterator[tuple[PlantGroup, Window, list[Fall]]]:
    """Return the windows that some recipe of their group meets in none of its readings."""
    for group in plant_groups():
        for window in group.windows:
            falls = figures.falls(group, window)
            if not all(one.within for one in falls):
                yield group, window, falls


# --- the page ------------------------------------------------------------------------------------


def page(found: Sequence[Row]) -> str:
    """Return the made part of the page."""
    figures = Figures(found)
    return "\n".join(
        [*_short(figures), *_disagreeing(figures), *_groups(figures), *_without(), *_left_out()]
    ).rstrip("\n")


def _short(figures: Figures) -> list[str]:
    computed = [use for use in recipe_uses() if not use.left_out]
    open_words = sum(bool(use.readings) for use in computed)
    windows = [(group, window) for group in plant_groups() for window in group.windows]
    falls = [one for group, window in windows for one in figures.falls(group, window)]
    origins = {how: sum(window.how_known == how for _group, window in windows) for how in HOW}
    return [
        "## In short",
        "",
        f"- {len(plant_groups())} groups with {len(windows)} windows: "
        + ", ".join(f"{count} {how}" for how, count in origins.items() if count)
        + f". {sum(not group.windows for group in plant_groups())} group has none.",
        f"- {len(computed)} of {len(recipe_uses())} published recipes are computed, {open_words} of them in "
        f"every named reading of words that leave the grade open; {len(recipe_uses()) - len(computed)} are "
        "left out, with the reason below.",
        f"- Of {len(falls)} times that a recipe meets a window of its group, {sum(f.within for f in falls)} "
        f"middles lie within and {sum(f.surely_outside for f in falls)} lie outside with their whole range.",
        "",
    ]


HOW = ("published", "estimated", "memory", "common practice")


def _disagreeing(figures: Figures) -> list[str]:
    lines = ["## Where window and practice disagree", ""]
    lines += [
        "Every window that some recipe in print for its group meets in none of its readings. Bold: fewer",
        "than half of the recipes meet it.",
        "",
        "| group | asked | known | within | surely outside |",
        "|---|---|---|---|---|",
    ]
    for group, window, falls in disagreements(figures):
        within = sum(one.within for one in falls)
        bold = "**" if 2 * within < len(falls) else ""
        lines.append(
            f"| {bold}{group.title}{bold} | {label(window.quantity)} {asked(window)} | {window.how_known} "
            f"| {within} of {len(falls)} | {sum(one.surely_outside for one in falls)} |"
        )
    return [*lines, ""]


def _groups(figures: Figures) -> list[str]:
    lines = ["## Group by group", ""]
    for group in plant_groups():
        lines += [f"### {group.title[0].upper()}{group.title[1:]}", ""]
        lines += [f"Stands in: {group.container}. Watered by: {group.watered}."]
        if group.note:
            lines += ["", group.note]
        lines.append("")
        if group.windows:
            lines += [f"- {said(window)} {window.note}".rstrip() for window in group.windows]
        else:
            lines += ["- No figure known: no window. The keeper sets one."]
        lines.append("")
        uses = uses_of(group)
        if uses:
            lines += _table(group, uses, figures)
        else:
            lines += ["No recipe in print that can be computed is meant for this group."]
        lines.append("")
    return lines


def _table(group: PlantGroup, uses: Sequence[RecipeUse], figures: Figures) -> list[str]:
    names = {recipe.key: recipe.name for recipe in published_recipes()}
    windowed = [window.quantity for window in group.windows]
    columns = [*ALWAYS, *(quantity for quantity in windowed if quantity not in ALWAYS)]
    lines = [
        "| recipe | pot | " + " | ".join(label(quantity) for quantity in columns) + " |",
        "|---|---|" + "---|" * len(columns),
    ]
    for use in uses:
        cells = [_cell(use, figures.of(use, quantity), group.window(quantity)) for quantity in columns]
        pot = f"{use.container}, {use.printed or 'assumed'}"
        lines.append(f"| {names[use.recipe]} | {pot} | {' | '.join(cells)} |")
    return lines


def _cell(use: RecipeUse, found: Sequence[Row], window: Window | None) -> str:
    text = _span(found)
    if window is None:
        return text
    one = fall(use, found, window)
    told = list(dict.fromkeys(one.sides))
    if len(told) > 1:
        return f"{text}: {one.sides.count('within')} of {len(one.sides)} readings within"
    sure = "" if window.quantity in FLAGS or one.surely_outside or told == ["within"] else ", not surely"
    return f"{text}: **{told[0]}**{sure}" if told != ["within"] else f"{text}: within"


def _span(found: Sequence[Row]) -> str:
    """Return the middle, or the middles of all readings, and the whole range; or the words of a flag."""
    quantity = found[0].quantity
    if not found[0].low:
        words = list(dict.fromkeys(row.value for row in found))
        if quantity in FLAGS:
            return " or ".join(words)
        numbers = sorted({float(word) for word in words if word})
        return " to ".join(dict.fromkeys(figure_said(quantity, n) for n in (numbers[0], numbers[-1])))
    digits = 100 if quantity not in ("wet_density_kg_l", "dry_bulk_density_g_cm3") else 1

    def told(figure: float) -> str:
        if digits == 1:
            return f"{figure:.2f}"
        return f"{100 * figure:.1f}" if figure < 0.095 else f"{100 * figure:.0f}"

    middles = [float(row.value) for row in found]
    low, high = min(float(row.low) for row in found), max(float(row.high) for row in found)
    middle = " to ".join(dict.fromkeys((told(min(middles)), told(max(middles)))))
    sign = " %" if digits == 100 else ""
    return f"{middle}{sign} ({told(low)} to {told(high)})"


def _without() -> list[str]:
    bare = [group.title for group in plant_groups() if not group.windows]
    unserved = [group.title for group in plant_groups() if not uses_of(group)]
    return [
        "## Groups without a figure, and groups without a recipe",
        "",
        "- No window, for no figure was found: " + "; ".join(bare) + ".",
        "- No recipe in print that can be computed: " + "; ".join(unserved) + ".",
        "",
    ]


def _left_out() -> list[str]:
    names = {recipe.key: recipe.name for recipe in published_recipes()}
    lines = ["## Recipes that were left out", "", "| recipe | why |", "|---|---|"]
    lines += [f"| {names[use.recipe]} | {use.left_out} |" for use in recipe_uses() if use.left_out]
    noted = [use for use in recipe_uses() if use.readings]
    lines += ["", "## How open words were read", "", "| recipe | read as |", "|---|---|"]
    for use in noted:
        read = "; ".join(f"{name}: {', '.join(keys)}" for name, keys in use.readings)
        lines.append(f"| {names[use.recipe]} | {read}" + (f". {use.note}" if use.note else "") + " |")
    return lines


BEGIN, END = "<!-- made by make_windows.py -->", "<!-- end -->"


def with_figures(text: str, found: Sequence[Row]) -> str:
    """Return the page with its made part from these figures."""
    before, _begin, rest = text.partition(BEGIN)
    return f"{before}{BEGIN}\n\n{page(found)}\n\n{END}{rest.partition(END)[2]}"


if __name__ == "__main__":
    worked_out = list(rows())
    write_table(worked_out)
    PAGE.write_text(with_figures(PAGE.read_text(encoding="utf-8"), worked_out), encoding="utf-8")
