"""Work out the table of docs/science/replacing.md: published swaps beside what the rule says of them.

    python docs/science/make_replacing.py

reads replaced.csv and writes the tables between the marks of the page; the words around them are by hand.
"""

import csv
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from published_mixes import core, laboratory_parts

from friable.planning.forecast import forecast
from friable.planning.forecast_values import Forecast
from friable.planning.replacing_judge import swapped
from friable.reference.materials import Material, find_material
from friable.reference.sources import source

HERE = Path(__file__).parent
TABLE, PAGE = HERE / "replaced.csv", HERE / "replacing.md"
START, END = "<!-- made by make_replacing.py -->", "<!-- end -->"
SWAP, PART = "swap", "part"
SAME_WITHIN = 0.04  # “unchanged” in an abstract: within 4 points, a limit set here
# Words before a part, and the laboratory that measured it.
LABORATORIES = {
    "lab": "porometer-laboratory",
    "seedling": "seedling-laboratory",
    "cut": "cut-flower-laboratory",
}
QUANTITIES = {
    "total_porosity": "pores",
    "container_capacity": "water",
    "air_space": "air",
    "air_at_10cm": "air at 10 cm",
    "water_at_50cm": "water at 50 cm",
    "water_at_100cm": "water at 100 cm",
    "dry_bulk_density_g_cm3": "dry density",
    "wet_density_at_10cm": "wet density at 10 cm",
}
DENSITIES = ("dry_bulk_density_g_cm3", "wet_density_at_10cm")

Parts = tuple[tuple[Material, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One published direction, and what the rule gives."""

    case: str
    how: str  # SWAP: one material in the place of another, same share; PART: shares move
    quantity: str
    published: str  # up, down or same
    published_before: float | None
    published_after: float | None
    printed: str
    before: float
    after: float
    verdict: str  # right or wrong, as the table says
    why_wrong: str
    source: str

    @property
    def is_right(self) -> bool:
        """Whether the rule moves as published."""
        if self.published == "same":
            return abs(self.after - self.before) <= SAME_WITHIN
        return self.after > self.before if self.published == "up" else self.after < self.before


def rows(path: Path = TABLE) -> list[Row]:
    """Work out every row of the table."""
    with path.open(encoding="utf-8", newline="") as file:
        return [_row(cells) for cells in csv.DictReader(file)]


def mixes(cells: dict[str, str]) -> tuple[Parts, Parts]:
    """Return the mix before and after; a swap is made as the program makes it."""
    before = read_parts(cells["before"])
    if cells["how"] == PART:
        return before, read_parts(cells["after"])
    return before, swapped(before, [read_part(cells["without"])], read_part(cells["put"]))


def read_parts(text: str) -> Parts:
    """Read “PEAT_M=0.5;lab PERL_M=0.5”."""
    pairs = (part.split("=") for part in text.split(";"))
    return tuple((read_part(name), float(share)) for name, share in pairs)


def read_part(name: str) -> Material:
    """Return a material by its key, as tabulated or as a laboratory measured it (“lab PEAT_M”)."""
    word, _space, key = name.rpartition(" ")
    return laboratory_parts(LABORATORIES[word])[key] if word else find_material(key)


@cache
def _forecast(parts: Parts, column_cm: float) -> Forecast:
    return forecast(parts, core(column_cm), samples=0)


def figure(parts: Parts, column_cm: float, quantity: str) -> float:
    """Return one figure of a mix at the middle of its ranges."""
    told = _forecast(parts, column_cm)
    at = {point.suction_cm: point.water for point in told.curve}
    porosity = told.total_porosity.value
    if quantity == "air_at_10cm":
        return porosity - at[10.0]
    if quantity == "wet_density_at_10cm":
        return told.dry_bulk_density_g_cm3.value + at[10.0]
    if quantity in ("water_at_50cm", "water_at_100cm"):
        return at[50.0 if quantity == "water_at_50cm" else 100.0]
    return float(getattr(told, quantity).value)


def _row(cells: dict[str, str]) -> Row:
    before, after = mixes(cells)
    column_cm, quantity = float(cells["column_cm"]), cells["quantity"]
    return Row(
        case=cells["case"],
        how=cells["how"],
        quantity=quantity,
        published=cells["published"],
        published_before=_maybe(cells["published_before"]),
        published_after=_maybe(cells["published_after"]),
        printed=cells["printed"],
        before=figure(before, column_cm, quantity),
        after=figure(after, column_cm, quantity),
        verdict=cells["verdict"],
        why_wrong=cells["why_wrong"],
        source=cells["source"],
    )


def _maybe(text: str) -> float | None:
    return float(text) if text else None


# --- the page ------------------------------------------------------------------------------------


def written(value: float, quantity: str) -> str:
    """Write a share in hundredths of the volume, a density in g/cm3."""
    return f"{value:.3f}" if quantity in DENSITIES else f"{100 * value:.1f}"


def published(row: Row) -> str:
    """Write what was published: direction, figures, words."""
    figures = ""
    if row.published_before is not None and row.published_after is not None:
        ends = (written(x, row.quantity) for x in (row.published_before, row.published_after))
        figures = "{} to {}".format(*ends)
    elif row.published_after is not None:
        figures = f"to {written(row.published_after, row.quantity)}"
    said = "; ".join(text for text in (figures, row.printed) if text)
    return f"{row.published}: {said}" if said else row.published


def table(found: Iterable[Row]) -> Iterator[str]:
    """Write the table of one kind of swap."""
    yield "| in the place of | figure | published | here | | source |"
    yield "|---|---|---|---|---|---|"
    for row in found:
        here = f"{written(row.before, row.quantity)} to {written(row.after, row.quantity)}"
        verdict = "right" if row.is_right else "**wrong**"
        name = QUANTITIES[row.quantity]
        yield f"| {row.case} | {name} | {published(row)} | {here} | {verdict} | {row.source} |"


def misses(found: Iterable[Row]) -> Iterator[str]:
    """Write one sentence for each direction that is missed."""
    for row in found:
        if not row.is_right:
            yield f"- *{row.case}*, {QUANTITIES[row.quantity]}: {row.why_wrong}"


def sizes(found: Iterable[Row]) -> tuple[int, float]:
    """Return of how many shares both figures are printed, and how far the change is off, root mean square."""
    off = [
        (row.after - row.before) - (row.published_after - row.published_before)
        for row in found
        if row.published_before is not None
        and row.published_after is not None
        and row.quantity not in DENSITIES
    ]
    return len(off), math.sqrt(sum(x * x for x in off) / len(off))


def made(found: list[Row]) -> str:
    """Write everything between the marks of the page."""
    swaps = [row for row in found if row.how == SWAP]
    moved = [row for row in found if row.how == PART]
    right, whole = sum(row.is_right for row in found), len(found)
    right_of_swaps = sum(row.is_right for row in swaps)
    cases = len({row.case for row in swaps})
    printed, off = sizes(found)
    lines = [
        f"{right} of {whole} published directions come out right; of the {cases} pairs in which one material "
        f"takes the place of another by the same share, {right_of_swaps} of {len(swaps)}. Where both figures "
        f"are printed ({printed} shares of volume), the change here is off by {100 * off:.1f} points, root "
        "mean square, where the changes themselves are 0 to 12 points.",
        "",
        "### The same share",
        "",
        *table(swaps),
        "",
        "### Shares that move",
        "",
        *table(moved),
        "",
        "### What is missed, and why",
        "",
        *misses(found),
        "",
        "### Sources of the tables",
        "",
        *(f"- {key}: {source(key)}" for key in sorted({row.source for row in found})),
    ]
    return "\n".join(lines)


def page(text: str, found: list[Row]) -> str:
    """Return the page with its tables made anew."""
    head, _start, rest = text.partition(START)
    _old, _end, tail = rest.partition(END)
    return f"{head}{START}\n\n{made(found)}\n\n{END}{tail}"


def main() -> None:
    """Work everything out and write the page."""
    PAGE.write_text(page(PAGE.read_text(encoding="utf-8"), rows()), encoding="utf-8")


if __name__ == "__main__":
    main()
