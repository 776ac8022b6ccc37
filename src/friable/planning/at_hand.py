"""A material that can be had: what it is, how much of it lies here, what it costs."""

from dataclasses import dataclass

from friable.reference.material_flags import MaterialFlags
from friable.reference.materials import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """One material a person may measure into a mix; None where nothing was counted, or no price is known."""

    material: Material
    flags: MaterialFlags
    stock_l: float | None = None
    cost_per_l: float | None = None
