"""Which way a figure moves when a material is added: published signs against the rule, row by row.

`directions.csv` holds the sign as published and its source, the two mixes, what the rule was first found to
give, and whether rule and plain average have the sign right. A row that the rule has wrong stays in the table
as a strict expected failure with its reason: it must fail, or the table has to be put right.
"""

import csv
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from friable.reference.sources import source
from friable.science.drainage import drained_column
from friable.science.grading import sub_grades_mm
from friable.science.mixture import plain_average_water
from friable.science.packing import COMPACTION_INDEX, pair_tables, single_size_packing
from strategies_science import MATERIALS, Poured, core

from .checks_script import laboratory_parts

with (Path(__file__).parent / "directions.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = list(csv.DictReader(_file))

# "unchanged" in an abstract: within 4 points, a limit set here.
SAME_WITHIN = 0.04
THREE_DIGITS = 0.002


def ground_hulls():
    """Hulls as tabulated, carbonised, but ground to the 0.5 to 1.4 mm that the paper used."""
    hulls = MATERIALS["RHB"].physics
    sizes = sub_grades_mm(0.5, (0.5 * 1.4) ** 0.5, 1.4)
    beta = float(single_size_packing(hulls.void_fraction, pair_tables((sizes,))))
    single = 1 - beta * COMPACTION_INDEX / (COMPACTION_INDEX + 1)
    return replace(hulls, sub_sizes_mm=sizes, void_fraction_single_size=single)


def poured(text):
    """Read "KEY=share;..."; "lab KEY" is the part as its own laboratory measured it."""
    parts = {}
    for part in text.split(";"):
        name, share = part.split("=")
        if name == "ground hulls":
            material = ground_hulls()
        elif name.startswith("lab "):
            material = laboratory_parts("porometer-laboratory")[name.removeprefix("lab ")].physics
        else:
            material = MATERIALS[name].physics
        parts[material] = float(share)
    return Poured(parts, core(7.6))


def plain(mix, quantity):
    """The plain volume average of one figure."""
    v = mix.blend.poured / mix.blend.poured.sum()
    g = mix.grades
    porosity = float((v * (g.void + (1 - g.void) * g.internal)).sum())
    column = drained_column(mix.container)
    if quantity == "dry_bulk_density_g_cm3":
        return float((v * g.density_g_cm3).sum())
    if quantity == "total_porosity":
        return porosity
    if quantity == "air_at_10cm":
        return porosity - float(plain_average_water(v, g, g.filling(10.0))[0])
    water = float(plain_average_water(v, g, g.filling(column.suctions_cm)) @ column.weights)
    return water if quantity == "container_capacity" else porosity - water


def has_sign(published, before, after):
    if published == "same":
        return abs(after - before) <= SAME_WITHIN
    return after > before if published == "up" else after < before


def named(row):
    return f"{row['case']}: {row['quantity']} {row['published']} ({row['source']})"


def expected(row):
    if row["rule"] == "right":
        return pytest.param(row, id=named(row))
    return pytest.param(row, id=named(row), marks=pytest.mark.xfail(strict=True, reason=row["why_wrong"]))


@pytest.mark.parametrize("row", [expected(row) for row in ROWS])
def test_the_rule_moves_the_published_way(row):
    before, after = (getattr(poured(row[when]), row["quantity"]) for when in ("before", "after"))

    assert has_sign(row["published"], before, after), f"{before:.3f} to {after:.3f}"


@pytest.mark.parametrize("row", [row for row in ROWS if row["rule_before"]], ids=named)
def test_the_rule_gives_the_figures_of_an_independent_program(row):
    for when in ("before", "after"):
        found = getattr(poured(row[when]), row["quantity"])
        assert found == pytest.approx(float(row[f"rule_{when}"]), abs=THREE_DIGITS)


def test_plain_averaging_is_counted_as_fairly():
    for row in ROWS:
        before, after = (plain(poured(row[when]), row["quantity"]) for when in ("before", "after"))
        assert has_sign(row["published"], before, after) == (row["plain"] == "right"), named(row)


def test_the_counts_in_the_documentation_are_those_of_the_table(checkout):
    rule = sum(row["rule"] == "right" for row in ROWS)
    average = sum(row["plain"] == "right" for row in ROWS)

    sentence = f"{rule} of {len(ROWS)} published directions, plain averaging {average}"
    assert sentence in (checkout / "docs/science/blending.md").read_text(encoding="utf-8")


def test_every_sign_has_a_source_in_the_bibliography():
    for row in ROWS:
        assert source(row["source"]), named(row)
        assert bool(row["why_wrong"]) == (row["rule"] == "wrong"), named(row)


def test_coarser_bark_in_peat_is_not_sold_as_more_air():
    # Nkongolo and Caron 1999, Can. J. Soil Sci.: peat with 40 % bark; coarser bark left the air unchanged
    # while gas moved at 0.78 and 0.45 of the rate, so air alone may not be read as aeration. The rule sees
    # little of the size of bark in peat: nursery bark instead of fine bark changes air by under 6 points.
    air = [Poured({"PEAT_M": 0.6, bark: 0.4}).air_space for bark in ("BKP_F", "BKP_M")]

    assert np.ptp(air) < 0.06
