"""The blending rule: what must hold for any mix, and what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.planning.forecast import forecast
from friable.science.mixture import blend, grades, overlap_loss_from_volume
from friable.science.packing import packed_volume
from strategies_science import KEYS, MATERIALS, Poured, core, mixes, real_mixes

SUCTIONS_CM = (0.0, 1.0, 5.0, 10.0, 50.0, 100.0, 1000.0)
bark, sand = MATERIALS["BKP_M"].physics, MATERIALS["SAND_F"].physics


def figures(mix):
    return [
        mix.shrinkage, mix.total_porosity, mix.dry_bulk_density_g_cm3, mix.container_capacity,
        *(mix.water_at(s) for s in SUCTIONS_CM),
    ]  # fmt: skip


@given(real_mixes, st.randoms())
def test_the_order_of_writing_changes_nothing(parts, random):
    turned = list(parts.items())
    random.shuffle(turned)

    assert figures(Poured(dict(turned))) == pytest.approx(figures(Poured(parts)), abs=1e-7)


@given(mixes, st.floats(min_value=0.001, max_value=1000))
def test_how_much_is_made_changes_nothing(parts, by):
    more = Poured({key: by * part for key, part in parts.items()})

    assert figures(more) == pytest.approx(figures(Poured(parts)), abs=1e-9)


@pytest.mark.parametrize("key", KEYS)
def test_two_identical_materials_neither_shrink_nor_change(key):
    # The single-size void is printed to four digits; the overlap it leaves by rounding stays below 5e-4.
    material = MATERIALS[key].physics
    twin = replace(material, key="twin", sub_sizes_mm=tuple(d for d in material.sub_sizes_mm))
    both, alone = Poured({material: 0.3, twin: 0.7}), Poured({key: 1.0})

    assert both.shrinkage <= 5e-4
    assert both.total_porosity == pytest.approx(alone.total_porosity, abs=5e-4)


def test_two_materials_of_one_size_each_and_the_same_do_not_shrink():
    one = replace(bark, sub_sizes_mm=(3.0,) * 5, void_fraction_single_size=bark.void_fraction)
    both = Poured({one: 0.4, replace(one, key="twin"): 0.6})

    assert both.shrinkage == 0
    assert both.total_porosity == pytest.approx(bark.total_porosity, abs=1e-12)


@given(mixes)
def test_every_mix_is_possible(parts):
    mix = Poured(parts)

    assert 0 <= mix.shrinkage < 0.4
    assert 0 < mix.total_porosity < 1
    assert mix.air_space >= -1e-9
    assert mix.dry_bulk_density_g_cm3 > 0
    assert np.all(mix.blend.entered >= 0)
    assert np.all(mix.blend.bulked >= 0)
    assert float(mix.blend.lost) <= mix.blend.entered.sum() + 1e-12


@given(mixes)
def test_rounding_is_not_taken_for_fines_without_room(parts):
    mix = Poured(parts)

    left = float(mix.blend.unplaced)
    assert left == 0 or left > 1e-9 * sum(parts.values())


def test_a_mix_with_room_to_spare_gets_no_warning_about_room():
    keys, parts = ("BKP_M", "BKC", "PUM_L", "GRAV"), (0.74022722, 3.98505915, 4.79787156, 2.62519144)
    found = forecast([(MATERIALS[k], v) for k, v in zip(keys, parts, strict=True)], core(), samples=0)

    assert not [text for text in found.warnings if "want more room" in text]


def test_fines_that_find_no_room_are_reported():
    # Lumps with 30 % voids and dust that would pack far closer than it pours: more overlap than 97 % of the
    # lumps' voids can take. What is left over is what the geometry asked for less 0.97 × 0.3.
    lumps = replace(bark, sub_sizes_mm=(100.0,) * 5, void_fraction=0.3, void_fraction_single_size=0.05)
    dust = replace(sand, sub_sizes_mm=(0.01,) * 5, void_fraction=0.3, void_fraction_single_size=0.05)
    mix = Poured({lumps: 1.0, dust: 0.5})
    packed = float(packed_volume(mix.blend.solid, mix.grades.beta, mix.grades.tables))

    assert mix.blend.entered.tolist() == pytest.approx([0.97 * 0.3, 0.0])
    assert float(mix.blend.unplaced) == pytest.approx(1.5 - packed - 0.97 * 0.3, abs=1e-12)


@given(mixes, st.sampled_from(KEYS))
def test_none_of_a_material_is_the_mix_without_it(parts, key):
    without = {k: v for k, v in parts.items() if k != key}
    if not without:
        return
    ingredients = [MATERIALS[k].physics for k in (*without, key)]
    g = grades(ingredients)
    mix = blend([*without.values(), 0.0], g)

    expected = Poured(without)
    assert float(mix.shrinkage) == pytest.approx(expected.shrinkage, abs=1e-9)
    assert float(mix.total_porosity) == pytest.approx(expected.total_porosity, abs=1e-9)


@given(real_mixes)
def test_shrinkage_grows_with_the_loss(parts):
    # lambda 1 for all pairs shrinks at least as much as the tabulated ones, lambda 0 not at all.
    ingredients = [MATERIALS[key].physics for key in parts]
    volumes = list(parts.values())
    pairs = {frozenset({a.key, b.key}) for a in ingredients for b in ingredients if a is not b}
    none, all_of_it = (
        blend(volumes, grades(ingredients, dict.fromkeys(pairs, loss))).shrinkage for loss in (0.0, 1.0)
    )

    assert float(none) == 0
    assert float(all_of_it) >= Poured(parts).shrinkage - 1e-12


@given(st.floats(min_value=0, max_value=1))
def test_a_measured_volume_gives_the_loss_back(loss):
    mix = blend([8.0, 2.0], grades([bark, sand], {frozenset({"BKP_M", "SAND_F"}): loss}))

    assert overlap_loss_from_volume((bark, sand), (8.0, 2.0), float(mix.volume)) == pytest.approx(
        loss, abs=1e-9
    )


# --- refusals ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("volumes", "sentence"),
    [
        ([1.0, -0.5], "loose volume is -0.5 L; it must be 0 or more."),
        ([1.0, math.nan], "loose volume is not a number L; it must be 0 or more."),
        ([0.0, 0.0], "loose volume in all is 0 L; it must be above 0 and finite."),
        ([1.0, math.inf], "loose volume in all is inf L; it must be above 0 and finite."),
    ],
)
def test_impossible_volumes_are_refused(volumes, sentence):
    with pytest.raises(BadQuantity) as refused:
        blend(volumes, grades([bark, sand]))

    assert str(refused.value) == sentence


@pytest.mark.parametrize(("litres", "said"), [(10.2, "10.2"), (8.0, "8"), (math.nan, "not a number")])
def test_a_mix_volume_that_cannot_be_is_refused(litres, said):
    # 8 L of bark and 2 L of fine sand: at full loss of the overlap 8.867 L are left (worked line, G =
    # 0.1133).
    with pytest.raises(BadQuantity) as refused:
        overlap_loss_from_volume((bark, sand), (8.0, 2.0), litres)

    assert str(refused.value) == (
        f"measured mix volume is {said} L; it must be at most the sum of the parts (10 L) and "
        "at least 8.87 L. "
        "Measure again in the same way, without pressing; "
        "if it stays so, write the loss as the shrinkage of the mix."
    )


def test_a_pair_that_does_not_fill_each_others_gaps_teaches_nothing():
    one = replace(bark, sub_sizes_mm=(3.0,) * 5, void_fraction_single_size=bark.void_fraction)
    with pytest.raises(
        BadQuantity, match=r"overlap of this pair is 0 L; it must be above 0\. These two do not"
    ):
        overlap_loss_from_volume((one, replace(one, key="twin")), (1.0, 1.0), 2.0)


def test_a_loss_outside_nought_to_one_is_refused():
    with pytest.raises(BadQuantity, match=r"overlap loss of a pair is 1\.5; it must be from 0 to 1\."):
        grades([bark, sand], {frozenset({"BKP_M", "SAND_F"}): 1.5})


def test_a_material_that_stands_twice_is_a_bug():
    with pytest.raises(ValueError, match="stands twice"):
        grades([bark, bark])


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_an_impossible_suction_is_refused(bad):
    with pytest.raises(BadQuantity, match=r"suction is (-1|not a number) cm; it must be 0 or more\."):
        grades([bark]).filling(bad)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            {"void_fraction": 1.0},
            "void fraction of pine bark nursery 0-12 mm is 1; it must be between 0 and 1.",
        ),
        (
            {"void_fraction_single_size": math.nan},
            "single-size void fraction of pine bark nursery 0-12 mm is not a number; it must be "
            "between 0 and 1.",
        ),
        (
            {"internal_porosity": -0.1},
            "internal porosity of pine bark nursery 0-12 mm is -0.1; it must be from 0 to below 1.",
        ),
        ({"alpha_ext_per_cm": 0}, "outer alpha of pine bark nursery 0-12 mm is 0 1/cm; it must be above 0."),
        ({"n_int": 1}, "inner n of pine bark nursery 0-12 mm is 1; it must be above 1."),
        (
            {"dry_bulk_density_g_cm3": 0},
            "dry bulk density of pine bark nursery 0-12 mm is 0 g/cm3; it must be above 0.",
        ),
        ({"overlap_loss": 2}, "overlap loss of pine bark nursery 0-12 mm is 2; it must be from 0 to 1."),
    ],
    ids=lambda value: "" if isinstance(value, str) else next(iter(value)),
)
def test_impossible_materials_are_refused(change, sentence):
    with pytest.raises(BadQuantity) as refused:
        replace(bark, **change)

    assert str(refused.value) == sentence


def test_a_material_with_the_wrong_number_of_sizes_is_a_bug():
    with pytest.raises(ValueError, match="needs 5 sub-grade sizes"):
        replace(bark, sub_sizes_mm=(1.0, 2.0))
