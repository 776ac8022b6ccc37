"""A pot as a column of cells: heights, volumes, the areas between them."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

CELLS = 40
TOP_CELL_CM = 0.4
FEWEST_CELLS, MOST_CELLS = 4, 2000


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """Cells from the surface down. Shapes: cells (n), faces (n + 1) from the surface to the base.

    `face_height_cm` counts from the floor of the container; `layer` is 0 for the medium and 1, 2 ... for
    the materials under it.
    """

    face_height_cm: "Array"
    face_area_cm2: "Array"
    volume_cm3: "Array"
    layer: "NDArray[np.intp]"

    @property
    def height_cm(self) -> "Array":
        """Heights of the middles of the cells above the floor. [cm]"""
        return np.asarray((self.face_height_cm[:-1] + self.face_height_cm[1:]) / 2)

    @property
    def thickness_cm(self) -> "Array":
        """Thickness of each cell. [cm]"""
        return np.asarray(self.face_height_cm[:-1] - self.face_height_cm[1:])


def cell_faces_cm(depth_cm: float, cells: int, top_cell_cm: float | None) -> "Array":
    """Return the depths of the faces under the surface: even cells, or growing from a thin top cell.

    Cells grow by one factor from the top until they reach an even thickness, which the rest then keep.
    """
    even = depth_cm / cells
    if top_cell_cm is None or top_cell_cm >= even:
        return np.linspace(0.0, depth_cm, cells + 1)
    growing = max(2, cells // 2)

    def depth(factor: float) -> float:
        steps = top_cell_cm * factor ** np.arange(growing)
        return float(steps.sum() + steps[-1] * (cells - growing))

    low, high = 1.0, 4.0
    while depth(high) < depth_cm:
        high *= 2
    for _halving in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if depth(middle) < depth_cm else (low, middle)
    steps = top_cell_cm * high ** np.arange(growing)
    every = np.concatenate([steps, np.full(cells - growing, steps[-1])])
    return np.concatenate([[0.0], np.cumsum(every) * depth_cm / every.sum()])


def column_of(container: Container, *, cells: int = CELLS, top_cell_cm: float | None = TOP_CELL_CM) -> Column:
    """Cut the filled part of a container into cells, those of a drainage layer on their own.

    Parameters
    ----------
    container : Container
        With its headspace and drainage layer. A measured volume scales all areas.
    cells : int
        In all; a layer gets its share by height, at least two.
    top_cell_cm : float or None
        Thickness of the uppermost cell, from which cells grow downward; None: even cells. [cm]
    """
    if not FEWEST_CELLS <= cells <= MOST_CELLS:
        raise BadQuantity(
            _("number of cells"),
            cells,
            "",
            _("from {low} to {high}").format(low=FEWEST_CELLS, high=MOST_CELLS),
        )
    layer_cm, top = container.drainage_layer_cm, container.fill_height_cm
    in_layer = 0 if not layer_cm else min(cells - 2, max(2, round(cells * layer_cm / top)))
    depths = cell_faces_cm(top - layer_cm, cells - in_layer, top_cell_cm)
    heights = top - depths
    if in_layer:
        heights = np.concatenate([heights, np.linspace(layer_cm, 0.0, in_layer + 1)[1:]])
    scale = container.volume_factor
    area = scale * container.area_cm2(heights)
    middle = scale * container.area_cm2((heights[:-1] + heights[1:]) / 2)
    thick = heights[:-1] - heights[1:]
    return Column(
        face_height_cm=heights,
        face_area_cm2=area,
        volume_cm3=thick * (area[:-1] + 4 * middle + area[1:]) / 6,
        layer=np.repeat([0, 1], [cells - in_layer, in_layer]),
    )
