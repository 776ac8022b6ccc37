"""Pots, mixes and suctions that the tests of the science draw from, each range explained once."""

from hypothesis import strategies as st

from friable.reference.materials import all_materials
from friable.science.containers import Container
from friable.science.drainage import drained_column
from friable.science.ingredient import Ingredient
from friable.science.mixture import blend, grades, water_held

MATERIALS = {material.key: material for material in all_materials()}
KEYS = sorted(MATERIALS)

# A slip of the last digits of floating point, on figures of order 1.
ROUNDING = 1e-12


def core(height_cm: float = 7.6, across_cm: float = 7.6) -> Container:
    """A straight round core of the kind that porosity is measured in; 7.6 cm is the usual height."""
    return Container(
        shape="round",
        top_length_cm=across_cm,
        top_width_cm=across_cm,
        bottom_length_cm=across_cm,
        bottom_width_cm=across_cm,
        height_cm=height_cm,
    )


class Poured:
    """A mix by the rule, at the middle of its ranges, drained in one container."""

    def __init__(self, parts: dict[str | Ingredient, float], container: Container | None = None):
        self.ingredients = [
            part if isinstance(part, Ingredient) else MATERIALS[part].physics for part in parts
        ]
        self.grades = grades(self.ingredients)
        self.blend = blend(list(parts.values()), self.grades)
        self.container = container or core()
        self.shrinkage = float(self.blend.shrinkage)
        self.total_porosity = float(self.blend.total_porosity)
        self.dry_bulk_density_g_cm3 = float(self.blend.dry_bulk_density_g_cm3)

    def water_at(self, suction_cm: float) -> float:
        """Water content at one suction."""
        return float(water_held(self.blend, self.grades, self.grades.filling(suction_cm))[0])

    @property
    def container_capacity(self) -> float:
        """Mean water content of the drained container."""
        column = drained_column(self.container)
        held = water_held(self.blend, self.grades, self.grades.filling(column.suctions_cm))
        return float(held @ column.weights)

    @property
    def air_space(self) -> float:
        """Mean air content of the drained container."""
        return self.total_porosity - self.container_capacity

    @property
    def air_at_10cm(self) -> float:
        """Pores that have emptied at 10 cm of suction."""
        return self.total_porosity - self.water_at(10.0)


# Suctions from a saturated medium to air-dry: what the trade measures lies between 0 and 15,000 cm.
suctions_cm = st.floats(min_value=0.0, max_value=20_000.0, allow_nan=False)

# One to five materials, each once; parts from a pinch to a barrow. Five is more than most recipes have.
mixes = st.dictionaries(
    st.sampled_from(KEYS), st.floats(min_value=0.02, max_value=5.0), min_size=1, max_size=5
)
real_mixes = mixes.filter(lambda parts: len(parts) > 1)


@st.composite
def pots(draw):
    """Round pots and trays that taper either way or not at all, 3 to 40 cm high."""
    top = draw(st.floats(min_value=3, max_value=60))
    bottom = top * draw(st.floats(min_value=0.5, max_value=1.3))
    height = draw(st.floats(min_value=3, max_value=40))
    return Container(
        shape=draw(st.sampled_from(["round", "square"])),
        top_length_cm=top,
        top_width_cm=top,
        bottom_length_cm=bottom,
        bottom_width_cm=bottom,
        height_cm=height,
    )
