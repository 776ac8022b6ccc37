"""A forecast is read aloud in one plain sentence; the heights here are worked by hand."""

from types import SimpleNamespace

import pytest

from friable.planning.forecast_values import ProfilePoint
from friable.planning.notation import parse_container
from friable.planning.reading import pot_reading, wet_zone_cm, with_range
from friable.science.estimate import Estimate


def seen(container: str, air_by_height, air=(0.2, 0.15, 0.25)):
    """Return what the sentence looks at: a profile given as (height, air) and the air of the pot."""
    return SimpleNamespace(
        container=parse_container(container),
        profile=tuple(ProfilePoint(h, 0.8 - a, 0.8 - a, 0.8 - a, a) for h, a in air_by_height),
        air_space=Estimate(*air, "computed", "by hand"),
    )


def test_the_wet_zone_ends_where_air_reaches_a_tenth():
    # Air rises from 0 to 0.2 over 4 cm, so it passes 0.1 at 2 cm.
    assert wet_zone_cm(seen("round 10/10/10 cm", [(0, 0.0), (4, 0.2), (10, 0.3)])) == pytest.approx(2)


def test_the_wet_zone_counts_from_the_top_of_a_drainage_layer():
    assert wet_zone_cm(seen("round 10/10/10 cm", [(3, 0.0), (7, 0.2), (10, 0.3)])) == pytest.approx(2)


def test_a_medium_with_air_at_the_bottom_has_no_wet_zone():
    assert wet_zone_cm(seen("round 10/10/10 cm", [(3, 0.12), (10, 0.3)])) == 0


@pytest.mark.parametrize(
    ("container", "air_by_height", "sentence"),
    [
        (
            "tray 50x30x4 cm",
            [(0, 0.0), (4, 0.08)],
            "In this 4 cm tray it stays wet to the top: 20 % air, 15 to 25.",
        ),
        (
            "cell 4/3/5 cm",
            [(0, 0.0), (4, 0.1), (5, 0.12)],
            "In this 5 cm cell it stays wet more than half way up (4 cm): 20 % air, 15 to 25.",
        ),
        (
            "round 17/12/13 cm",
            [(0, 0.0), (2.4, 0.2), (13, 0.3)],
            "In this 13 cm deep pot the bottom 1.2 cm stays wet: 20 % air, 15 to 25.",
        ),
        (
            "basket 30/20/18 cm",
            [(0, 0.0), (0.5, 0.2), (18, 0.3)],
            "In this 18 cm deep basket only the very bottom stays wet: 20 % air, 15 to 25.",
        ),
    ],
)
def test_the_sentence_names_the_pot_the_wet_zone_and_the_range(container, air_by_height, sentence):
    assert pot_reading(seen(container, air_by_height)) == sentence


def test_a_figure_without_a_range_is_read_without_one():
    assert with_range(Estimate.exact(0.181, "measured", "here")) == "18 %"


def test_less_than_a_hundredth_is_not_read_as_one_to_one():
    assert with_range(Estimate(0.006, 0.005, 0.009, "computed", "by hand")) == "under 1 %"
    assert with_range(Estimate(0.004, 0.001, 0.018, "computed", "by hand")) == "under 1 %, up to 2"
    assert with_range(Estimate(0.0, 0.0, 0.0, "computed", "by hand")) == "0 %"
