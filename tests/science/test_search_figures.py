"""The sweep's figures against the blending rule itself, for random recipes of every size."""

import numpy as np
import pytest

from friable.reference.materials import all_materials
from friable.science.containers import Container
from friable.science.drainage import Column, drained_column
from friable.science.mixture import blend, grades, water_held
from friable.science.search.draws import exact_figures
from friable.science.search.question import Question
from friable.science.search.screen import Stopped, screened

POT = Container(
    shape="round",
    top_length_cm=17,
    top_width_cm=17,
    bottom_length_cm=12,
    bottom_width_cm=12,
    height_cm=13,
)
AT_50 = Column(np.zeros(1), np.array([50.0]), np.ones(1))
PROBES = (drained_column(POT), AT_50)
EVERY = tuple(material.physics for material in all_materials())


def asked(ingredients=EVERY, **changes):
    """A question whose one form is air in the pot, against a fifth."""
    form = {"forms": np.array([[1.0, 0.0, -1.0, 0.0]]), "wanted": np.array([0.2]), "gain": np.array([1.0])}
    return Question(grades=grades(ingredients), probes=PROBES, **(form | changes))


def by_the_rule(parts, curves):
    """Figures of recipes by the blending rule: porosity, density, water of each probe."""
    found = []
    for row in parts:
        used = np.flatnonzero(row)
        volumes = np.zeros(len(row))
        volumes[used] = row[used] / row.sum()
        mix = blend(volumes, curves)
        water = [
            float(water_held(mix, curves, curves.filling(probe.suctions_cm)) @ probe.weights)
            for probe in PROBES
        ]
        found.append([float(mix.total_porosity), float(mix.dry_bulk_density_g_cm3), *water])
    return np.array(found)


def random_recipes(count, kinds, rng):
    parts = np.zeros((count, len(EVERY)), dtype=np.uint8)
    for row in parts:
        row[rng.choice(len(EVERY), kinds, replace=False)] = rng.integers(1, 8, kinds)
    return parts


@pytest.mark.parametrize("kinds", [1, 2, 3, 4, 5])
def test_a_thousand_random_recipes_come_out_as_by_the_rule(kinds):
    parts = random_recipes(200, kinds, np.random.default_rng(kinds))
    question = asked()

    assert exact_figures(question, parts) == pytest.approx(by_the_rule(parts, question.grades), abs=1e-9)


@pytest.mark.parametrize("precision", ["single", "double"])
def test_every_score_of_a_sweep_is_that_of_the_rule(precision):
    # A ceramic, a fibre and coarse grains among them: some of these mixes fill gaps beyond the cap.
    chosen = [i for i in EVERY if i.key in {"COIR_F", "SAND_F", "PUM_L", "CCL_F", "GRAV", "BKP_M"}]
    question = asked(tuple(chosen), parts=7, kinds=(1, 2, 3, 4), keep=10**6)

    found = screened(question, precision=precision)

    figures = by_the_rule(found.parts, question.grades)
    assert len(found.parts) == found.considered
    assert found.score == pytest.approx(figures[:, 0] - figures[:, 2] - 0.2, abs=1e-5)
    assert found.within == pytest.approx((figures[:, 0] - figures[:, 2] >= 0.2).sum(), abs=1)


def test_two_threads_find_what_one_finds():
    question = asked(EVERY[:30], kinds=(3,), keep=50)

    alone, both = screened(question, threads=1), screened(question, threads=2)

    assert np.array_equal(alone.parts[:50], both.parts[:50])
    assert (alone.considered, alone.within) == (both.considered, both.within)


def test_a_distance_is_smallest_for_the_recipe_itself():
    parts = np.zeros((1, 12), dtype=np.uint8)
    parts[0, [1, 5, 9]] = 5, 3, 2
    curves = grades(EVERY[:12])
    itself = by_the_rule(parts, curves)[0]
    question = asked(
        EVERY[:12],
        forms=np.eye(4),
        wanted=itself,
        gain=np.array([20.0, 20.0, 20.0, 20.0]),
        is_distance=True,
        kinds=(1, 2, 3),
    )

    found = screened(question)

    assert found.parts[0].tolist() == parts[0].tolist()
    assert found.score[0] == pytest.approx(0, abs=1e-4)


def test_limits_are_those_of_the_parts():
    peat = [float(i.key.startswith("PEAT")) for i in EVERY[:20]]
    question = asked(
        EVERY[:20],
        kinds=(1, 2, 3),
        parts=6,
        keep=10**6,
        limits=np.array([peat]),
        bounds=np.array([1 / 3]),
        never=((0, 1),),
        held=(9,),
        most_share=np.where(np.arange(20) == 2, 0.25, 1e9),
    )

    found = screened(question)

    shares = found.parts / found.parts.sum(axis=1, keepdims=True)
    assert found.considered - found.pruned == len(found.parts) > 100
    assert (shares @ peat <= 1 / 3 + 1e-9).all()
    assert (found.parts[:, 9] > 0).all()
    assert not ((found.parts[:, 0] > 0) & (found.parts[:, 1] > 0)).any()
    assert (shares[:, 2] <= 0.25 + 1e-9).all()


def test_the_nearest_miss_of_each_end_is_the_least():
    forms = np.array([[1.0, 0, -1, 0], [0, 0, 1, 0]])
    question = asked(
        EVERY[:8],
        forms=forms,
        wanted=np.array([0.6, 0.5]),
        gain=np.array([20.0, 20.0]),
        kinds=(1, 2),
        keep=10**6,
    )

    found = screened(question)

    figures = by_the_rule(found.parts, question.grades)
    depths = 20 * np.column_stack([figures[:, 0] - figures[:, 2] - 0.6, figures[:, 2] - 0.5])
    for end in (0, 1):
        alone = (depths[:, 1 - end] >= 0) & (depths[:, end] < 0)
        assert found.missed_by[end] == pytest.approx(depths[alone, end].max(), abs=3e-4)


def test_who_calls_it_off_is_heard():
    with pytest.raises(Stopped):
        screened(asked(kinds=(4,)), cancelled=lambda: True)


def test_progress_ends_at_all():
    told = []

    screened(asked(EVERY[:10], kinds=(1, 2)), progress=lambda done, of: told.append((done, of)))

    assert told[-1] == (10 * 1 + 45 * 31, 10 * 1 + 45 * 31)
