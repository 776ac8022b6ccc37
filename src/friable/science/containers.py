"""Pots, cells, trays and baskets: volume and cross-section at each height."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

ROUND_SHAPES = ("round", "basket")
SHAPES = ("round", "square", "tray", "cell", "basket")
LARGEST_SIDE_CM = 1000.0
SMALLEST_SIDE_CM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Container:
    """Inside measures of a container with straight walls, and how far it is filled. [cm]

    Round shapes and baskets give their diameters as length and width. Heights count upward from the
    inside of the floor. `measured_volume_l` is what water to the brim has weighed here; where it is given
    it scales the computed volumes, because walls bulge and rims turn over.
    """

    shape: str
    top_length_cm: float
    top_width_cm: float
    bottom_length_cm: float
    bottom_width_cm: float
    height_cm: float
    headspace_cm: float = 0.0
    drainage_layer_cm: float = 0.0
    measured_volume_l: float | None = None

    def __post_init__(self) -> None:
        if self.shape not in SHAPES:
            raise ValueError(f"shape is {self.shape!r}; it must be one of {', '.join(SHAPES)}")
        sides = {
            _("top length"): self.top_length_cm,
            _("top width"): self.top_width_cm,
            _("bottom length"): self.bottom_length_cm,
            _("bottom width"): self.bottom_width_cm,
            _("height"): self.height_cm,
        }
        if self.shape in ROUND_SHAPES:
            sides = {
                _("top diameter"): self.top_length_cm,
                _("bottom diameter"): self.bottom_length_cm,
                _("height"): self.height_cm,
            }
        for name, side_cm in sides.items():
            if not SMALLEST_SIDE_CM <= side_cm <= LARGEST_SIDE_CM:
                raise BadQuantity(
                    name,
                    side_cm,
                    "cm",
                    _("from {low:g} to {high:g} cm inside").format(
                        low=SMALLEST_SIDE_CM, high=LARGEST_SIDE_CM
                    ),
                )
        if self.shape in ROUND_SHAPES and (
            self.top_length_cm != self.top_width_cm or self.bottom_length_cm != self.bottom_width_cm
        ):
            raise ValueError("a round container has one diameter at each end")
        if not 0 <= self.headspace_cm < self.height_cm:
            raise BadQuantity(
                _("headspace"),
                self.headspace_cm,
                "cm",
                _("at least 0 and less than the height of the container ({height:g} cm)").format(
                    height=self.height_cm
                ),
            )
        if not 0 <= self.drainage_layer_cm < self.fill_height_cm:
            raise BadQuantity(
                _("drainage layer"),
                self.drainage_layer_cm,
                "cm",
                _("at least 0 and less than the filled height ({height:g} cm)").format(
                    height=self.fill_height_cm
                ),
            )
        if self.measured_volume_l is not None and not 0 < self.measured_volume_l < 1e6:
            raise BadQuantity(_("measured volume"), self.measured_volume_l, "L", _("above 0"))

    @property
    def fill_height_cm(self) -> float:
        """Height of the fill line above the floor. [cm]"""
        return self.height_cm - self.headspace_cm

    @property
    def medium_height_cm(self) -> float:
        """Height of the medium: fill line less the drainage layer. [cm]"""
        return self.fill_height_cm - self.drainage_layer_cm

    @property
    def brim_volume_l(self) -> float:
        """Volume to the brim. [L]"""
        return self.volume_below_l(self.height_cm)

    @property
    def fill_volume_l(self) -> float:
        """Volume to the fill line, drainage layer included. [L]"""
        return self.volume_below_l(self.fill_height_cm)

    @property
    def layer_volume_l(self) -> float:
        """Volume taken by the drainage layer. [L]"""
        return self.volume_below_l(self.drainage_layer_cm)

    @property
    def medium_volume_l(self) -> float:
        """Volume left for the medium. [L]"""
        return self.fill_volume_l - self.layer_volume_l

    @property
    def volume_factor(self) -> float:
        """How many times what the sides say the container was measured to hold; 1 if it was not."""
        if self.measured_volume_l is None:
            return 1.0
        return 1000 * self.measured_volume_l / self._prismoid_cm3(self.height_cm)

    def with_headspace(self, headspace_cm: float) -> "Container":
        """Return the same container filled to another line."""
        return replace(self, headspace_cm=headspace_cm)

    def with_drainage_layer(self, drainage_layer_cm: float) -> "Container":
        """Return the same container with a drainage layer of this thickness."""
        return replace(self, drainage_layer_cm=drainage_layer_cm)

    def area_cm2(self, height_cm: "ArrayLike") -> "NDArray[np.float64]":
        """Return the inside cross-section at a height above the floor. [cm2]

        Parameters
        ----------
        height_cm : array_like, shape (...)
            Height above the floor. [cm]
        """
        share = np.asarray(height_cm, dtype=float) / self.height_cm
        length = self.bottom_length_cm + (self.top_length_cm - self.bottom_length_cm) * share
        width = self.bottom_width_cm + (self.top_width_cm - self.bottom_width_cm) * share
        return self._area_factor() * length * width

    def volume_below_l(self, height_cm: float) -> float:
        """Return the inside volume below a height. [L]

        A straight-walled vessel has an area that is quadratic in height, so the prismoid rule
        V = h (A0 + 4 Am + A1) / 6 is exact.

        Raises
        ------
        BadQuantity
            If the height is below the floor, above the brim, or not a number.
        """
        if not 0 <= height_cm <= self.height_cm:
            raise BadQuantity(
                _("height"),
                height_cm,
                "cm",
                _("from 0 to the brim ({height:g} cm)").format(height=self.height_cm),
            )
        return self.volume_factor * self._prismoid_cm3(height_cm) / 1000

    def describe(self) -> str:
        """Return the container as text that can be typed back."""
        if self.shape in ROUND_SHAPES:
            return f"{self.shape} {self.top_length_cm:g}/{self.bottom_length_cm:g}/{self.height_cm:g} cm"
        if self.top_length_cm == self.bottom_length_cm and self.top_width_cm == self.bottom_width_cm:
            return f"{self.shape} {self.top_length_cm:g}x{self.top_width_cm:g}x{self.height_cm:g} cm"
        square = self.top_length_cm == self.top_width_cm and self.bottom_length_cm == self.bottom_width_cm
        if square and self.shape != "tray":  # sizes of a tray are typed as length by width
            return f"{self.shape} {self.top_length_cm:g}/{self.bottom_length_cm:g}/{self.height_cm:g} cm"
        return (
            f"{self.shape} {self.top_length_cm:g}x{self.top_width_cm:g}/"
            f"{self.bottom_length_cm:g}x{self.bottom_width_cm:g}/{self.height_cm:g} cm"
        )

    def _area_factor(self) -> float:
        return np.pi / 4 if self.shape in ROUND_SHAPES else 1.0

    def _prismoid_cm3(self, height_cm: float) -> float:
        below, middle, above = self.area_cm2([0.0, height_cm / 2, height_cm])
        return float(height_cm * (below + 4 * middle + above) / 6)
