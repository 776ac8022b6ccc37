"""How far two mixes are apart: what is compared, worked out again by other means."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from friable.errors import BadRecipe
from friable.planning.container_text import parse_container
from friable.planning.forecast import forecast
from friable.planning.replacing_distance import behaviour, distance, measured, steps_worse
from friable.planning.windows import mix_flags
from strategies_science import MATERIALS, Poured

TAPERED = parse_container("round 17/12/13 cm")
TRAY = parse_container("tray 50x30x5 cm")
BASKET = [("PEAT_M", 1.0), ("PERL_C", 3.0)]
FINER = [("PEAT_M", 1.0), ("PERL_F", 3.0)]


def parts(of):
    return [(MATERIALS[key], share) for key, share in of]


def apart(before, after, containers):
    of = behaviour(containers)
    old, new = parts(before), parts(after)
    return distance(of, measured(old, of)[0], measured(new, of)[0], mix_flags(old), mix_flags(new))


def water_of_third(mix, container, third):
    """Mean water of a third of the height by adaptive quadrature over single suctions."""
    height = container.medium_height_cm / 3
    ends = third * height, (third + 1) * height
    area = quad(lambda z: float(container.area_cm2(z)), *ends)[0]
    water = quad(lambda z: float(container.area_cm2(z)) * mix.water_at(z), *ends, epsabs=1e-6, limit=200)[0]
    return water / area


def test_the_distance_is_the_root_mean_square_of_nine_figures_in_their_units():
    # Worked out again from single suctions: air and water by thirds and water at 50 and 100 cm in steps of
    # 5 points, the wet litre in steps of 0.1 kg.
    before, after = (Poured(dict(mix), TAPERED) for mix in (BASKET, FINER))
    steps = []
    wet = []
    for mix in (before, after):
        thirds = [water_of_third(mix, TAPERED, third) for third in range(3)]
        steps.append(
            [
                *(water / 0.05 for water in thirds),
                *((mix.total_porosity - water) / 0.05 for water in thirds),
                mix.water_at(50) / 0.05,
                mix.water_at(100) / 0.05,
            ]
        )
        wet.append((mix.dry_bulk_density_g_cm3 + mix.container_capacity) / 0.1)
    squares = [(b - a) ** 2 for a, b in zip(*steps, strict=True)] + [(wet[1] - wet[0]) ** 2]

    found = apart(BASKET, FINER, [TAPERED])

    assert found.value == pytest.approx(math.sqrt(sum(squares) / 9), rel=2e-3)
    assert found.weight == pytest.approx(abs(wet[1] - wet[0]), rel=2e-3)
    assert found.air == pytest.approx(math.sqrt(sum(squares[3:6]) / 3), rel=2e-3)
    assert found.water == pytest.approx(math.sqrt(sum(squares[:3]) / 3), rel=2e-3)
    assert found.drying == pytest.approx(math.sqrt(sum(squares[6:8]) / 2), rel=2e-3)


def test_the_thirds_make_up_what_the_forecast_says_of_the_pot():
    of = behaviour([TAPERED, TRAY])
    figures, shrinkage = measured(parts(BASKET), of)
    for place, container in enumerate((TAPERED, TRAY)):
        told = forecast(parts(BASKET), container, samples=0)
        thirds = of.thirds[place] @ figures
        height = container.medium_height_cm / 3
        volumes = [
            quad(lambda z, pot=container: float(pot.area_cm2(z)), third * height, (third + 1) * height)[0]
            for third in range(3)
        ]

        assert np.average(thirds, weights=volumes) == pytest.approx(told.container_capacity.value, abs=2e-4)
        assert figures[0] == pytest.approx(told.total_porosity.value, abs=1e-12)
        assert figures[1] == pytest.approx(told.dry_bulk_density_g_cm3.value, abs=1e-12)
        assert shrinkage == pytest.approx(told.shrinkage.value, abs=1e-12)


def test_a_mix_is_no_distance_from_itself_however_it_is_written():
    again = [("PERL_C", 30.0), ("PEAT_M", 4.0), ("PEAT_M", 6.0)]

    assert apart(BASKET, again, [TAPERED, TRAY]).value == pytest.approx(0, abs=1e-9)


def test_the_same_pot_twice_counts_as_once_and_two_pots_lie_between():
    alone, twice = apart(BASKET, FINER, [TAPERED]), apart(BASKET, FINER, [TAPERED, TAPERED])
    tray = apart(BASKET, FINER, [TRAY])
    both = apart(BASKET, FINER, [TAPERED, TRAY])

    assert twice.value == pytest.approx(alone.value, rel=1e-12)
    assert min(alone.value, tray.value) <= both.value <= max(alone.value, tray.value)
    assert both.value == pytest.approx(math.sqrt((alone.value**2 + tray.value**2) / 2), rel=1e-9)


def test_flags_that_get_worse_add_and_those_that_get_better_do_not():
    # By the order no, sometimes, unknown, yes; clean, usually clean, unknown, treat first.
    clean = {"lime": "no", "feed": "no", "dust": "sometimes", "hygiene": "clean"}
    worse = {"lime": "yes", "feed": "sometimes", "dust": "no", "hygiene": "usually clean"}

    assert steps_worse(clean, worse) == 3 + 1 + 0 + 1
    assert steps_worse(worse, clean) == 1
    assert steps_worse(clean, clean) == 0


def test_the_flags_are_added_to_the_rest():
    # Limestone grit for granite grit: alike in every size and curve, but lime.
    found = apart([("PEAT_M", 1.0), ("GRIT", 1.0)], [("PEAT_M", 1.0), ("LIMG", 1.0)], [TAPERED])

    assert found.flags == pytest.approx(3 * 0.2)
    assert found.value == pytest.approx(found.flags, abs=0.3)
    assert found.value > found.flags


def test_over_a_drainage_layer_both_bounding_cases_count():
    layered = parse_container("round 12/9/12 cm").with_drainage_layer(3.0)
    of = behaviour([layered], MATERIALS["GRAV"])
    figures, _shrinkage = measured(parts(BASKET), of)
    told = forecast(parts(BASKET), layered, samples=0, layer_material=MATERIALS["GRAV"])

    assert len(of.probes) == 2 + 2 * 3
    # Thirds of a pot that tapers little: their mean is the pot's within what the taper weighs.
    assert (of.thirds[0] @ figures).mean() == pytest.approx(told.container_capacity.value, abs=0.01)


def test_without_a_container_or_a_layer_s_material_nothing_is_compared():
    with pytest.raises(BadRecipe, match=r"^No container is named; say which pots the mix is used in\.$"):
        behaviour([])
    with pytest.raises(BadRecipe, match="drainage layer has no material"):
        behaviour([parse_container("round 12/9/12 cm").with_drainage_layer(3.0)])
