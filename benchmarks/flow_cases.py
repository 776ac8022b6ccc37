"""The pots that every solver of the comparison is given: plain numbers, nothing of a solver.

A pot of 1.9 L, 15 cm high, radius 5 cm below and 7.5 cm above, in 40 cells, over open holes. Media drawn:
van Genuchten n 1.6 to 2.8, alpha 0.06 to 0.4 per cm, Ks 20 to 316 cm/h (even in its logarithm), residual 0.08
to 0.25, saturated 0.75 to 0.92, l 0.5. 2 cm of water within 15 minutes at 08:00 each day; 5 mm a day wanted
by the air between 06 and 18 h as a half sine, given as hourly means: 30 % from the surface, 70 % by roots
that take less below 1 and above 300 cm of suction. The figures are our own choice.
"""

from dataclasses import dataclass

import numpy as np

HEIGHT_CM, BOTTOM_RADIUS_CM, TOP_RADIUS_CM = 15.0, 5.0, 7.5
CELLS = 40
WATERED_AT_HOUR, DOSE_CM, POURED_IN_HOURS = 8, 2.0, 0.25
WANTED_MM_DAY, FROM_SURFACE = 5.0, 0.3
ROOTS_CM = (1.0, 5.0, 300.0, 3000.0)  # suctions: none, full, full, none
DRYING_CM = (500.0, 5000.0)  # suction of the surface: evaporation full, none
STORAGE_PER_CM = 1e-5  # of a full cell
DAYS = 10
SEED = 20251125


@dataclass(frozen=True)
class Media:
    """Media by their van Genuchten figures, each of shape (pots,)."""

    saturated: np.ndarray
    residual: np.ndarray
    alpha_per_cm: np.ndarray
    n: np.ndarray
    conductivity_cm_h: np.ndarray

    def __len__(self) -> int:
        return len(self.n)

    def first(self, count: int) -> "Media":
        """Return the first so many."""
        return Media(*(getattr(self, name)[:count] for name in self.__dataclass_fields__))


def usual_media(count: int, seed: int = SEED) -> Media:
    """Draw media of the comparison; the first ones are the same whatever the count."""
    u = np.random.default_rng(seed).random((count, 5))
    return Media(
        saturated=0.75 + 0.17 * u[:, 0],
        residual=0.08 + 0.17 * u[:, 1],
        alpha_per_cm=0.06 + 0.34 * u[:, 2],
        n=1.6 + 1.2 * u[:, 3],
        conductivity_cm_h=20 * (316 / 20) ** u[:, 4],
    )


def coarse_media(count: int, seed: int = SEED + 1) -> Media:
    """Draw coarse media: alpha 0.4 to 1 per cm, n 2.5 to 3.5, whose surface dries out."""
    u = np.random.default_rng(seed).random((count, 5))
    return Media(
        saturated=0.75 + 0.17 * u[:, 0],
        residual=0.08 + 0.17 * u[:, 1],
        alpha_per_cm=0.4 + 0.6 * u[:, 2],
        n=2.5 + u[:, 3],
        conductivity_cm_h=20 * (316 / 20) ** u[:, 4],
    )


def area_cm2(height_cm: np.ndarray | float) -> np.ndarray | float:
    """Return the area of the pot at heights above its floor."""
    return np.pi * (BOTTOM_RADIUS_CM + (TOP_RADIUS_CM - BOTTOM_RADIUS_CM) * height_cm / HEIGHT_CM) ** 2


TOP_CM2 = float(area_cm2(HEIGHT_CM))


@dataclass(frozen=True)
class Cells:
    """The pot cut into even cells from the top: middles above the floor, volumes, areas of the faces."""

    height_cm: np.ndarray
    thickness_cm: float
    volume_cm3: np.ndarray
    face_cm2: np.ndarray


def even_cells(cells: int = CELLS) -> Cells:
    """Return the pot in even cells."""
    face = np.linspace(HEIGHT_CM, 0.0, cells + 1)
    middle = (face[:-1] + face[1:]) / 2
    thick = HEIGHT_CM / cells
    volume = thick * (area_cm2(face[:-1]) + 4 * area_cm2(middle) + area_cm2(face[1:])) / 6
    return Cells(middle, thick, volume, area_cm2(face))


def wanted_cm_h(days: int = DAYS, mm_day: float = WANTED_MM_DAY) -> np.ndarray:
    """Return hourly means of a half sine between 06 and 18 h that adds up to so much a day. [cm/h]"""
    hour = np.arange(24)
    start = np.clip(hour - 6, 0, 12) * np.pi / 12
    end = np.clip(hour - 5, 0, 12) * np.pi / 12
    return np.tile(mm_day / 10 * (np.cos(start) - np.cos(end)) / 2, days)
