"""From the low, middle and high of each input to the range of a result.

Seeded quasi-random draws, so that the same question always gets the same answer. One draw for each
material and sample moves density and porosity together (a looser fill has more pores and less mass);
a second one moves the water it holds at 10 cm. Low, middle and high are the 5th, 50th and 95th percentile.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.science.ingredient import Ingredient
from friable.science.mixture import Grades, replace_grades, with_beta
from friable.science.retention import saturation
from friable.science.sobol import normal_deviates, scrambled_points
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SEED = 20_260_401
SAMPLES = 1024
FEWEST_SAMPLES, MOST_SAMPLES = 64, 65_536
NINETY_FIVE = 1.6448536269514722  # standard normal deviate of the 95th percentile
LOW_PERCENTILE, HIGH_PERCENTILE = 5.0, 95.0
AT_SUCTION_CM = 10.0
FULLEST = 0.98  # drawn water can at most nearly fill the drawn pores
_SCALES = np.linspace(-9.0, 9.0, 121)  # ln of the factor on both alphas; 0 is among them


@lru_cache(maxsize=64)
def draws(inputs: int, samples: int = SAMPLES) -> "Array":
    """Return standard normal deviates from a scrambled Sobol sequence, shape (samples, inputs).

    Raises
    ------
    BadQuantity
        If the number of samples is outside 64 to 65,536.
    """
    if not FEWEST_SAMPLES <= samples <= MOST_SAMPLES:
        raise BadQuantity(
            _("number of samples"),
            samples,
            "",
            _("from {low} to {high}").format(low=FEWEST_SAMPLES, high=MOST_SAMPLES),
        )
    power = math.ceil(math.log2(samples))
    uniform = scrambled_points(inputs, power, SEED)[:samples]
    z = normal_deviates(np.clip(uniform, 1e-9, 1 - 1e-9))
    z.setflags(write=False)
    return z


def split_normal(z: "Array", low: float, middle: float, high: float) -> "Array":
    """Return values of a two-piece normal with these 5th, 50th and 95th percentiles."""
    return np.asarray(middle + np.where(z < 0, (middle - low), (high - middle)) * z / NINETY_FIVE)


def _logit(x: float) -> float:
    return math.log(x / (1 - x))


def _share_between(z: "Array", low: float, middle: float, high: float) -> "Array":
    """Draw a share that can never leave 0..1: two-piece normal on the log-odds."""
    return np.asarray(1 / (1 + np.exp(-split_normal(z, _logit(low), _logit(middle), _logit(high)))))


def input_names(ingredients: Sequence[Ingredient]) -> list[str]:
    """Return what each column of the draws stands for, in words."""
    names = []
    for i in ingredients:
        names.append(_("density and porosity of {title}").format(title=i.title))
        names.append(_("water at 10 cm suction of {title}").format(title=i.title))
    return names


def sampled_grades(middle: Grades, ingredients: Sequence[Ingredient], z: "Array") -> Grades:
    """Return the grades with one member for each sample.

    Parameters
    ----------
    middle : Grades
    ingredients : sequence of Ingredient, in the order of `middle`
    z : ndarray, shape (samples, 2 × materials)
        Columns as in `input_names`.

    Notes
    -----
    Porosity and water are drawn on the log-odds, density on the logarithm, so that no draw can leave what is
    possible and the three given percentiles are met exactly. A changed porosity is split between voids and
    inner pores by keeping ln(1 - e) : ln(1 - φ), which returns the tabulated split at the middle. The water
    at 10 cm is met by one factor on both alphas: all pores finer, or all coarser. Common practice, no source.
    """
    void, internal, density, scale = [], [], [], []
    for k, i in enumerate(ingredients):
        porosity_z, water_z = z[:, 2 * k], z[:, 2 * k + 1]
        porosity = np.full(len(z), i.total_porosity)
        mass = np.full(len(z), i.dry_bulk_density_g_cm3)
        if i.total_porosity_low is not None and i.total_porosity_high is not None:
            porosity = _share_between(
                porosity_z, i.total_porosity_low, i.total_porosity, i.total_porosity_high
            )
        if i.dry_bulk_density_low_g_cm3 is not None and i.dry_bulk_density_high_g_cm3 is not None:
            low, mid, high = (
                math.log(x)
                for x in (
                    i.dry_bulk_density_low_g_cm3,
                    i.dry_bulk_density_g_cm3,
                    i.dry_bulk_density_high_g_cm3,
                )
            )
            mass = np.exp(split_normal(-porosity_z, low, mid, high))
        voids_share = math.log(1 - i.void_fraction) / math.log(1 - i.total_porosity)
        void.append(1 - (1 - porosity) ** voids_share)
        internal.append(1 - (1 - porosity) ** (1 - voids_share))
        density.append(mass)
        scale.append(np.exp(_log_scale(i, void[-1], porosity, water_z)))
    voids = np.stack(void, axis=-1)
    return replace_grades(
        middle,
        void=voids,
        beta=with_beta(middle, voids, ingredients),
        internal=np.stack(internal, axis=-1),
        density_g_cm3=np.stack(density, axis=-1),
        scale=np.stack(scale, axis=-1),
    )


@lru_cache(maxsize=512)
def _at_ten(i: Ingredient) -> tuple["Array", "Array"]:
    """Return both families' filling at 10 cm against the factor on the alphas."""
    factor = np.exp(_SCALES)
    return (
        saturation(AT_SUCTION_CM, factor * i.alpha_ext_per_cm, i.n_ext),
        saturation(AT_SUCTION_CM, factor * i.alpha_int_per_cm, i.n_int),
    )


def _log_scale(i: Ingredient, void: "Array", porosity: "Array", z: "Array") -> "Array":
    """Return ln of the factor on both alphas that meets the drawn water at 10 cm."""
    if i.water_at_10cm_low is None or i.water_at_10cm_high is None:
        return np.zeros(len(z))
    outer, inner = _at_ten(i)
    at_middle = int(np.searchsorted(_SCALES, 0.0))
    inner_pores = i.total_porosity - i.void_fraction
    middle = float(i.void_fraction * outer[at_middle] + inner_pores * inner[at_middle])
    water = _share_between(z, min(i.water_at_10cm_low, middle), middle, max(i.water_at_10cm_high, middle))
    target = np.minimum(water / porosity, FULLEST)
    share = (void / porosity)[:, None]
    filled = share * outer + (1 - share) * inner  # falls along the scales
    place = np.clip((filled > target[:, None]).sum(axis=1), 1, len(_SCALES) - 1)
    rows = np.arange(len(z))
    above, below = filled[rows, place - 1], filled[rows, place]
    part = np.clip((above - target) / np.maximum(above - below, 1e-300), 0, 1)
    return np.asarray(_SCALES[place - 1] + part * (_SCALES[place] - _SCALES[place - 1]))


def range_of(samples: "Array") -> tuple["Array", "Array"]:
    """Return the 5th and 95th percentile along the first axis; NaN where a sample is NaN."""
    return _percentile(samples, LOW_PERCENTILE), _percentile(samples, HIGH_PERCENTILE)


def _percentile(samples: "Array", percent: float) -> "Array":
    """Return what `numpy.percentile` does, which would load NumPy's masked arrays first."""
    last = len(samples) - 1
    place = percent / 100 * last
    below = math.floor(place)
    above, part = min(below + 1, last), place - below
    ordered = np.partition(samples, [below, above, last], axis=0)
    low, high = ordered[below], ordered[above]
    step = high - low
    between = high - step * (1 - part) if part >= 0.5 else low + step * part
    return np.asarray(np.where(np.isnan(ordered[last]), np.nan, between))


def widest_input(result: "Array", z: "Array") -> int | None:
    """Return the column of the draws that explains most of the spread of a result; None if it has none.

    Squared linear correlation: the first-order share of the variance for a nearly linear result.
    """
    spread = result - result.mean()
    norm = float((spread**2).sum())
    if not norm > 1e-18:
        return None
    centred = z - z.mean(axis=0)
    explained = (spread @ centred) ** 2 / ((centred**2).sum(axis=0) * norm)
    return int(explained.argmax())
