"""Which way a drainage layer moves the water of a pot, by the transient solver and by the drained forecast.

Rowe 2025, PLoS ONE 20(2):e0318716, abstract: layers of almost all materials lowered the water that pots of
media without loam retained and almost never raised it; thicker layers did more; 60 mm of coarse sand was
among the best at it; in media with loam retention was mostly unchanged. The pots, mixes and layers here are
our own.
"""

import itertools

import numpy as np
import pytest

from friable.planning.flow_media import media
from friable.planning.flow_pot import BROKEN, CONTINUOUS, layer_in_pot
from friable.planning.forecast import forecast
from friable.reference.materials import all_materials
from friable.science.drainage import water_entry_suction_cm
from friable.science.flow.pot import Pot

from .flow_columns import even, run, tapered

MATERIALS = {material.key: material for material in all_materials()}
LOAMLESS = {
    "peat and perlite": {"PEAT_M": 3, "PERL_C": 1},
    "bark and peat": {"BKP_M": 3, "PEAT_M": 1},
    "coir": {"COIR_P": 1},
    "wood fibre, bark and coir": {"WOODF": 1, "BKP_M": 1, "COIR_P": 1},
    "peat": {"PEAT_M": 1},
}
WITH_LOAM = {"loam, peat and sand": {"LOAM": 7, "PEAT_M": 3, "SAND_C": 2}, "loam": {"LOAM": 1}}
LAYERS = ("GRAV", "LECA_S", "LECA_L", "GRIT", "SAND_C", "PERL_C", "BRICK", "SCO_M", "BKE_M")
THICKNESSES_CM = (3.0, 6.0)
CELLS, DRAINED_HOURS = 40, 72


def parts(mix):
    return [(MATERIALS[key], share) for key, share in mix.items()]


def pot(mix, layer=None, thickness_cm=0.0, films=BROKEN):
    figures = media(parts(mix))[0]
    column = even(tapered(15, 5, 7.5, thickness_cm), CELLS)
    lower, entry = (), None
    if layer:
        lower = (layer_in_pot(MATERIALS[layer], films),)
        entry = water_entry_suction_cm(MATERIALS[layer].d50_mm) if films == BROKEN else None
    return Pot(
        column=column,
        media=(figures.medium, *lower),
        total_porosity=figures.total_porosity,
        entry_suction_cm=entry,
    )


@pytest.fixture(scope="module")
def changes():
    """Water of the whole pot three days after it was full, layer and all, against that without a layer."""
    asked, pots = [], []
    for name, mix in {**LOAMLESS, **WITH_LOAM, "bark for epiphytes": {"BKE_M": 3, "PERL_C": 1}}.items():
        asked.append((name, None, 0.0, BROKEN))
        pots.append(pot(mix))
        for layer, thickness, films in itertools.product(LAYERS, THICKNESSES_CM, (BROKEN, CONTINUOUS)):
            asked.append((name, layer, thickness, films))
            pots.append(pot(mix, layer, thickness, films))
    found = run(pots, DRAINED_HOURS, start_heads_cm=np.zeros((len(pots), CELLS)), steps=16)
    assert found.lost == 0
    water = dict(
        zip(asked, (w @ p.column.volume_cm3 for w, p in zip(found.waters, pots, strict=True)), strict=True)
    )
    return {of: w / water[of[0], None, 0.0, BROKEN] - 1 for of, w in water.items() if of[1]}


@pytest.mark.parametrize("films", [BROKEN, CONTINUOUS])
@pytest.mark.parametrize("mix", LOAMLESS)
def test_any_layer_lowers_the_water_of_a_medium_without_loam(changes, mix, films):
    for layer, thickness in itertools.product(LAYERS, THICKNESSES_CM):
        assert -0.35 < changes[mix, layer, thickness, films] < -0.03, (layer, thickness)


@pytest.mark.parametrize("mix", LOAMLESS)
def test_a_thicker_layer_does_more(changes, mix):
    for layer, films in itertools.product(LAYERS, (BROKEN, CONTINUOUS)):
        thin, thick = (changes[mix, layer, thickness, films] for thickness in THICKNESSES_CM)
        assert thick < thin - 0.03, layer


@pytest.mark.parametrize("mix", LOAMLESS)
def test_broken_films_keep_more_than_continuous_ones(changes, mix):
    for layer, thickness in itertools.product(LAYERS, THICKNESSES_CM):
        broken, continuous = (changes[mix, layer, thickness, films] for films in (BROKEN, CONTINUOUS))
        assert broken >= continuous - 0.005, layer


@pytest.mark.parametrize("mix", LOAMLESS)
def test_six_centimetres_of_coarse_sand_are_among_the_best(changes, mix):
    best = sorted(LAYERS, key=lambda layer: changes[mix, layer, 6.0, BROKEN])

    assert "SAND_C" in best[:3]


@pytest.mark.parametrize("mix", WITH_LOAM)
def test_with_loam_the_solver_says_less_water_as_well_where_little_change_is_published(changes, mix):
    # Against the publication: mostly unchanged there, 2 to 26 % less here. Neither the shrinking of loam from
    # the wall nor its slow drainage is in the model; nobody should read the loam figures as checked.
    found = [
        changes[mix, layer, thickness, films]
        for layer, thickness, films in itertools.product(LAYERS, THICKNESSES_CM, (BROKEN, CONTINUOUS))
    ]

    assert max(found) < 0
    assert np.median(found) > np.median(
        [change for (name, *_of), change in changes.items() if name in LOAMLESS]
    )


def test_a_layer_that_holds_more_than_the_medium_raises_the_water(changes):
    # "Almost never": bark for epiphytes holds so little that crushed brick or perlite below it holds more.
    assert changes["bark for epiphytes", "BRICK", 6.0, BROKEN] > 0.05
    assert changes["bark for epiphytes", "GRAV", 6.0, BROKEN] < -0.03


@pytest.mark.parametrize("mix", LOAMLESS)
def test_the_drained_forecast_says_the_same(mix):
    def water_l(thickness_cm, layer=None):
        container = tapered(15, 5, 7.5, thickness_cm)
        found = forecast(
            parts(LOAMLESS[mix]),
            container,
            samples=0,
            layer_material=MATERIALS[layer] if layer else None,
        )
        bounds = found.layer_bounds
        broken = bounds.broken_films if bounds else {"container_capacity": found.container_capacity}
        return broken["container_capacity"].value * container.medium_volume_l

    without = water_l(0.0)
    for layer in LAYERS:
        assert water_l(6.0, layer) < water_l(3.0, layer) < without
