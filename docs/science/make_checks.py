"""Work out docs/science/checks.md: published mixes against the forecast and against plain averaging.

    python docs/science/make_checks.py

writes checks.csv (every figure, four decimals) and checks.md (the page, made from checks.csv alone).
"""

import csv
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, fields
from pathlib import Path

from published_mixes import QUANTITIES, Check, checks, some, total

from friable.reference.sources import source

HERE = Path(__file__).parent
TABLE, PAGE, TEMPLATE = HERE / "checks.csv", HERE / "checks.md", HERE / "checks-page.txt"
WORDS = ("case", "quantity", "use", "source")


# --- files ---------------------------------------------------------------------------------------


def write_table(rows: Iterable[Check], path: Path = TABLE) -> None:
    """Write every check with four decimals."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [f.name for f in fields(Check)], lineterminator="\n")
        writer.writeheader()
        for row in rows:
            writer.writerow({k: f"{v:.4f}" if isinstance(v, float) else v for k, v in asdict(row).items()})


def read_table(path: Path = TABLE) -> list[Check]:
    """Read the checks back."""
    with path.open(encoding="utf-8", newline="") as file:
        return [
            Check(**{name: row[name] if name in WORDS else float(row[name]) for name in row})  # type: ignore[arg-type]
            for row in csv.DictReader(file)
        ]


# --- the page ------------------------------------------------------------------------------------


def points(share: float) -> str:
    """Write a share in hundredths of the volume."""
    return f"{100 * share:.1f}"


def density(value: float) -> str:
    """Write a density."""
    return f"{value:.3f}"


def unit_of(quantity: str) -> Callable[[float], str]:
    """Return how figures of a quantity are written."""
    return density if quantity == "dry_bulk_density_g_cm3" else points


def figure(row: Check, whose: str) -> str:
    """Write a figure with its range."""
    write = unit_of(row.quantity)
    value, low, high = (write(x) for x in row.interval(whose))
    return f"{value} ({low} to {high})"


def every_row(rows: list[Check]) -> Iterator[str]:
    """Write the table of all checks."""
    yield "| mix | figure | measured | forecast (5 to 95 %) | plain average (5 to 95 %) | used | source |"
    yield "|---|---|---|---|---|---|---|"
    for row in rows:
        measured = unit_of(row.quantity)(row.measured)
        yield (
            f"| {row.case} | {QUANTITIES[row.quantity]} | {measured} | {figure(row, 'forecast')} "
            f"| {figure(row, 'plain')} | {row.use} | {row.source} |"
        )


def every_total(rows: list[Check], use: str | None = None) -> Iterator[str]:
    """Write the table of totals, one line for each figure and each of the two."""
    yield "| figure | | figures | within 5 points | root mean square | range held | mean width | score |"
    yield "|---|---|---|---|---|---|---|---|"
    for quantity, name in QUANTITIES.items():
        for whose, label in (("forecast", "forecast"), ("plain", "plain average")):
            t = total(some(rows, quantity, use), whose)
            write = unit_of(quantity)
            within = "" if write is density else str(t.within)
            yield (
                f"| {name} | {label} | {t.figures} | {within} | {write(t.root_mean_square)} "
                f"| {t.held} of {t.figures} | {write(t.mean_width)} | {write(t.mean_score)} |"
            )


def page(rows: list[Check]) -> str:
    """Write the page from the checks alone."""
    by = {
        name: {whose: total(some(rows, quantity), whose) for whose in ("forecast", "plain")}
        for name, quantity in {
            "air": "air_space",
            "water": "container_capacity",
            "pores": "total_porosity",
            "mass": "dry_bulk_density_g_cm3",
        }.items()
    }
    numbers: dict[str, object] = {}
    for name, both in by.items():
        write = density if name == "mass" else points
        for whose, t in both.items():
            numbers |= {
                f"{name}_{whose}_figures": t.figures,
                f"{name}_{whose}_within": t.within,
                f"{name}_{whose}_error": write(t.root_mean_square),
                f"{name}_{whose}_width": write(t.mean_width),
            }
    return TEMPLATE.read_text(encoding="utf-8").format(
        **numbers,
        figures=len(rows),
        held=sum(both["forecast"].held for both in by.values()),
        held_plain=sum(both["plain"].held for both in by.values()),
        all_totals="\n".join(every_total(rows)),
        held_out_totals="\n".join(every_total(rows, "held out")),
        rows="\n".join(every_row(rows)),
        sources="\n".join(f"- {key}: {source(key)}" for key in sorted({row.source for row in rows})),
    )


def main() -> None:
    """Work everything out and write both files."""
    write_table(checks())
    PAGE.write_text(page(read_table()), encoding="utf-8")


if __name__ == "__main__":
    main()
