"""Published swaps: one material in the place of another, direction and size, and the page that tells them."""

import csv

import numpy as np
import pytest

from friable.planning.forecast import forecast
from friable.planning.replacing_distance import POINTS
from friable.reference.sources import source
from strategies_science import MATERIALS

from .checks_script import make_checks  # puts docs/science on the path

HERE = make_checks.HERE
import make_replacing  # noqa: E402

ROWS = make_replacing.rows()
FEWEST_SWAPS = 12


def named(row):
    return f"{row.case}: {row.quantity} {row.published} ({row.source})"


def expected(row):
    if row.verdict == "right":
        return pytest.param(row, id=named(row))
    return pytest.param(row, id=named(row), marks=pytest.mark.xfail(strict=True, reason=row.why_wrong))


@pytest.mark.parametrize("row", [expected(row) for row in ROWS])
def test_a_swap_moves_a_figure_the_published_way(row):
    assert row.is_right, f"{row.before:.3f} to {row.after:.3f}"


def test_there_are_enough_pairs_of_materials():
    pairs = {row.case for row in ROWS if row.how == make_replacing.SWAP}

    assert len(pairs) >= FEWEST_SWAPS


def test_a_direction_that_the_blending_rule_has_right_is_not_missed_here(checkout):
    # tests/published/directions.csv holds the same signs for adding a material; a row here with the same two
    # mixes and figure must have the same verdict.
    with (checkout / "tests/published/directions.csv").open(encoding="utf-8", newline="") as file:
        known = {(r["before"], r["after"], r["quantity"]): r["rule"] for r in csv.DictReader(file)}
    met = 0
    with make_replacing.TABLE.open(encoding="utf-8", newline="") as file:
        for cells in csv.DictReader(file):
            if (verdict := known.get((cells["before"], cells["after"], cells["quantity"]))) is not None:
                assert cells["verdict"] == verdict, cells["case"]
                met += 1
    assert met >= 20


def test_every_miss_is_explained_and_every_row_has_a_source():
    for row in ROWS:
        assert source(row.source), named(row)
        assert row.verdict in ("right", "wrong")
        assert bool(row.why_wrong) == (row.verdict == "wrong"), named(row)


def test_the_page_is_made_from_the_table():
    text = make_replacing.PAGE.read_text(encoding="utf-8")

    assert make_replacing.page(text, ROWS) == text


def test_printed_figures_lie_as_published():
    # As in the sources: Evans's table of estimates, the hull and perlite series, compost in a peat-lite base,
    # the trade guide's wet densities.
    printed = {
        (row.case, row.quantity): (row.published_before, row.published_after)
        for row in ROWS
        if row.published_before is not None
    }
    wet = "fine perlite, a quarter, for coarse, three quarters, in peat"
    assert printed[wet, "wet_density_at_10cm"] == (0.373, 0.610)
    hulls = "parboiled hulls for perlite, a fifth, in peat (table of estimates)"
    assert printed[hulls, "container_capacity"] == (0.68, 0.72)
    assert len(printed) >= 20


def test_the_wet_weights_of_the_perlite_pair_are_in_the_printed_ratio_within_a_sixth():
    # 0.610 / 0.373 = 1.64; the moisture was not printed, so it is taken at 10 and at 30 cm of suction.
    row = next(row for row in ROWS if row.quantity == "wet_density_at_10cm")
    published = row.published_after / row.published_before

    assert row.after / row.before == pytest.approx(published, rel=1 / 6)
    assert (round(row.before, 2), round(row.after, 2)) == (0.44, 0.80)  # as the page says
    assert at_30cm(PEAT_M=0.75, PERL_F=0.25) == pytest.approx(0.610, abs=POINTS)
    assert at_30cm(PEAT_M=0.25, PERL_C=0.75) == pytest.approx(0.373, abs=POINTS)


def at_30cm(**of):
    """Wet density at 30 cm of suction, from water at single suctions. [kg/L]"""
    from strategies_science import Poured

    mix = Poured(of)
    return mix.dry_bulk_density_g_cm3 + mix.water_at(30.0)


def test_pumice_lightens_a_loam_by_what_was_found():
    # Sahin and Anapali 2003: density 24.8 and 21.0 % lower in two loams with half pumice.
    row = next(r for r in ROWS if r.case == "pumice for half of a loam" and "density" in r.quantity)

    assert 0.20 <= 1 - row.after / row.before <= 0.26


def test_clay_for_peat_in_sand_dries_by_what_was_found():
    # Waltz and others 2003: 0.021 to 0.084 less water than with peat beyond 25 cm of suction.
    for quantity in ("water_at_50cm", "water_at_100cm"):
        row = next(r for r in ROWS if r.case.startswith("calcined clay") and r.quantity == quantity)
        assert 0.015 <= row.before - row.after <= 0.084


def test_coarse_and_fine_perlite_in_the_same_share_are_told_apart():
    # The basket mix, 25 % peat and 75 % perlite: the name alone hides some twenty points of air.
    pot = make_replacing.core(13.0)
    air = [
        forecast([(MATERIALS["PEAT_M"], 1.0), (MATERIALS[key], 3.0)], pot, samples=0).air_space.value
        for key in ("PERL_C", "PERL_F")
    ]

    assert np.diff(air)[0] < -0.15
