"""docs/science/checks.md says what the published mixes give when they are worked out again."""

import re

import pytest

from friable.planning.reading import trust_sentence

from .checks_script import laboratory_parts, make_checks, published_mixes

# The table is kept to four decimals.
PRINTED_TO = 0.00006


@pytest.fixture(scope="module")
def worked_out():
    return list(published_mixes.checks())


@pytest.fixture(scope="module")
def kept():
    return make_checks.read_table()


def test_every_figure_of_the_table_comes_out_again(worked_out, kept):
    assert [(row.case, row.quantity, row.use) for row in kept] == [
        (row.case, row.quantity, row.use) for row in worked_out
    ]
    for old, new in zip(kept, worked_out, strict=True):
        for whose in ("forecast", "plain"):
            assert old.interval(whose) == pytest.approx(new.interval(whose), abs=PRINTED_TO), old
        assert old.measured == pytest.approx(new.measured, abs=PRINTED_TO)


def test_the_page_is_made_from_the_table(kept):
    written = make_checks.PAGE.read_text(encoding="utf-8")
    figures, _heading, sources = written.partition("## Sources")

    assert figures == make_checks.page(kept).partition("## Sources")[0]
    assert all(f"- {key}: " in sources for key in {row.source for row in kept})


@pytest.mark.parametrize("whose", ["forecast", "plain"])
@pytest.mark.parametrize("quantity", published_mixes.QUANTITIES)
def test_key_totals_from_the_figures_as_worked_out(worked_out, kept, quantity, whose):
    now = published_mixes.total(published_mixes.some(worked_out, quantity), whose)
    then = published_mixes.total(published_mixes.some(kept, quantity), whose)

    assert (now.figures, now.within, now.held) == (then.figures, then.within, then.held)
    assert now.root_mean_square == pytest.approx(then.root_mean_square, abs=PRINTED_TO)
    assert now.mean_width == pytest.approx(then.mean_width, abs=2 * PRINTED_TO)
    assert now.mean_score == pytest.approx(then.mean_score, abs=0.0015)  # a miss weighs 20 times


def test_the_sentence_on_every_forecast_counts_these_rows(worked_out):
    air, water = (
        {
            whose: published_mixes.total(published_mixes.some(worked_out, q), whose)
            for whose in ("forecast", "plain")
        }
        for q in ("air_space", "container_capacity")
    )
    said = [int(number) for number in re.findall(r"\d+", trust_sentence())]

    assert said == [
        air["forecast"].within, air["forecast"].figures,
        water["forecast"].within, water["forecast"].figures,
        5,
        air["plain"].within, water["plain"].within,
    ]  # fmt: skip


def test_the_readme_counts_the_same_rows(worked_out, checkout):
    readme = " ".join((checkout / "README.md").read_text(encoding="utf-8").split())
    counts = []
    for quantity in ("air_space", "container_capacity"):
        done = published_mixes.total(published_mixes.some(worked_out, quantity), "forecast")
        counts.append(f"{done.within} of {done.figures}")

    assert f"{counts[0]} air figures and {counts[1]} water figures" in readme


def test_what_the_page_claims_in_words_holds(worked_out):
    total, some = published_mixes.total, published_mixes.some

    def error(quantity, whose):
        return total(some(worked_out, quantity), whose).root_mean_square

    assert error("air_space", "forecast") < error("air_space", "plain") - 0.005  # "the rule is better"
    assert error("container_capacity", "forecast") == pytest.approx(
        error("container_capacity", "plain"), abs=0.005
    )  # "gains nothing"
    water = some(worked_out, "container_capacity")
    assert total(water, "plain").within > total(water, "forecast").within  # "more often"
    assert error("dry_bulk_density_g_cm3", "plain") < error("dry_bulk_density_g_cm3", "forecast")
    assert error("total_porosity", "forecast") == pytest.approx(error("total_porosity", "plain"), abs=0.005)


def test_the_interval_score_by_hand():
    # Gneiting and Raftery 2007: 0.2 wide; missed by 0.03 it costs 2/0.10 × 0.03 more.
    assert published_mixes.interval_score(0.5, 0.4, 0.6) == pytest.approx(0.2)
    assert published_mixes.interval_score(0.37, 0.4, 0.6) == pytest.approx(0.2 + 0.6)
    assert published_mixes.interval_score(0.63, 0.4, 0.6) == pytest.approx(0.2 + 0.6)


# Parts as their laboratory measured them; the solved alphas are figures of an independent program.
@pytest.mark.parametrize(
    ("part", "outer_alpha", "pores", "water"),
    [
        ("PEAT_M", 0.29126, 0.8335, 0.7235), ("PERL_M", 0.58134, 0.62, 0.32), ("RHP", 3.0271, 0.89, 0.21),
        ("BKP_M", 1.78388, 0.79, 0.48), ("COIR_P", 0.24009, 0.875, 0.765),
    ],
)  # fmt: skip
def test_a_part_holds_what_its_laboratory_measured(part, outer_alpha, pores, water):
    from strategies_science import Poured

    own = laboratory_parts("porometer-laboratory")[part].physics

    assert own.alpha_ext_per_cm == pytest.approx(outer_alpha, rel=2e-5)
    assert own.total_porosity == pytest.approx(pores, abs=1e-9)
    assert Poured({own: 1.0}).container_capacity == pytest.approx(water, abs=1e-6)


# The rule and the plain average on each published mix, as the independent program gave them (two or three
# digits in per cent or thousandths). Only rows whose parts both programs know.
@pytest.mark.parametrize(
    ("case", "quantity", "rule", "plain"),
    [
        ("peat-perlite-80-20", "total_porosity", 0.791, 0.791),
        ("peat-perlite-80-20", "air_space", 0.156, 0.160),
        ("peat-perlite-80-20", "container_capacity", 0.634, 0.631),
        ("peat-perlite-70-30", "air_space", 0.175, 0.179),
        ("peat-bark-80-20", "container_capacity", 0.673, 0.663),
        ("peat-hulls-80-20", "air_space", 0.192, 0.235),
        ("peat-hulls-80-20", "dry_bulk_density_g_cm3", 0.101, 0.100),
        ("peat-bark-50-50", "air_space", 0.206, 0.221),
        ("coir-bark-50-50", "air_space", 0.169, 0.222),
        ("coir-bark-50-50", "container_capacity", 0.661, 0.611),
        ("peat-vermiculite-perlite-50-25-25", "air_space", 0.189, 0.199),
        ("coir-vermiculite-bark-40-30-30", "container_capacity", 0.690, 0.643),
        ("peat-hulls-50-50-series", "total_porosity", 0.859, 0.862),
        ("compost-peat-lite-75-25", "air_space", 0.076, 0.080),
        ("compost-peat-lite-50-50", "total_porosity", 0.566, 0.567),
        ("compost-peat-lite-25-75", "air_space", 0.062, 0.066),
        ("bark-peat-sand-60-20-20-pot", "air_space", 0.231, 0.288),
        ("bark-peat-sand-60-20-20-pot", "container_capacity", 0.503, 0.458),
        ("bark-peat-sand-60-20-20-cell", "air_space", 0.108, 0.172),
        ("bark-peat-sand-60-20-20-cell", "container_capacity", 0.626, 0.575),
        ("coir-perlite-75-25", "total_porosity", 0.854, 0.855),
    ],
)  # fmt: skip
def test_published_mixes_as_in_an_independent_program(worked_out, case, quantity, rule, plain):
    row = next(row for row in worked_out if (row.case, row.quantity) == (case, quantity))

    assert row.forecast == pytest.approx(rule, abs=0.002)
    assert row.plain == pytest.approx(plain, abs=0.002)
