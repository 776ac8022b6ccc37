"""Pots, profiles and dry-downs made up for drawing; nothing here is a forecast."""

from dataclasses import dataclass

from friable.drawing.dry_down import DryDown
from friable.drawing.four_moments import PotMoment
from friable.science.containers import Container


@dataclass(frozen=True)
class Point:
    height_cm: float
    water: float
    water_low: float
    water_high: float
    air: float


@dataclass(frozen=True)
class Hour:
    hour: float
    water: float
    water_low: float
    water_high: float
    air_root_zone: float
    air_low: float
    air_high: float
    mass_kg: float
    mass_low_kg: float
    mass_high_kg: float


def container(shape, top, bottom, height, **more):
    top, bottom = (x if isinstance(x, tuple) else (x, x) for x in (top, bottom))
    return Container(
        shape=shape,
        top_length_cm=top[0],
        top_width_cm=top[1],
        bottom_length_cm=bottom[0],
        bottom_width_cm=bottom[1],
        height_cm=height,
        **more,
    )


POTS = {
    "round": container("round", 17, 12, 13, headspace_cm=1.5),
    "layered": container("round", 17, 12, 13, headspace_cm=1.5, drainage_layer_cm=3),
    "square": container("square", 9, 6.5, 9, headspace_cm=1),
    "tray": container("tray", (50, 30), (50, 30), 4, headspace_cm=0.5),
    "tube": container("cell", 3.8, 2, 35, headspace_cm=1),
    "basket": container("basket", 30, 20, 15, headspace_cm=2),
    "plug": container("cell", 2, 1.2, 2.5),
}


def even(pot, air, porosity=0.8, count=5):
    """The same water and air at every height."""
    bottom, top = pot.drainage_layer_cm, pot.fill_height_cm
    water = porosity - air
    heights = [bottom + (top - bottom) * i / (count - 1) for i in range(count)]
    return tuple(Point(h, water, 0.9 * water, min(porosity, 1.1 * water), air) for h in heights)


def rising(pot, lowest_air, highest_air, porosity=0.8, count=9):
    """Air rises in a straight line from the bottom of the medium to the fill line."""
    bottom, top = pot.drainage_layer_cm, pot.fill_height_cm
    made = []
    for i in range(count):
        air = lowest_air + (highest_air - lowest_air) * i / (count - 1)
        water = porosity - air
        made.append(Point(bottom + (top - bottom) * i / (count - 1), water, 0.9 * water, water, air))
    return tuple(made)


def four(pot):
    return (
        PotMoment(0.0, "just watered", rising(pot, 0.0, 0.2)),
        PotMoment(2.0, "drained", rising(pot, 0.02, 0.3)),
        PotMoment(70.0, "half used", rising(pot, 0.15, 0.5)),
        PotMoment(146.4, "water now", rising(pot, 0.25, 0.7)),
    )


def drying(name="bark", hours=120, step=4, **more):
    """Water falls in a straight line from 70 to 30 % of 2 L; porosity 80 %; half a kilogram of dry mix."""
    series = []
    for hour in range(0, hours + 1, step):
        water = 0.7 - 0.4 * hour / hours
        mass = 0.5 + 2 * water
        series.append(
            Hour(
                float(hour),
                water,
                water - 0.03,
                water + 0.02,
                0.8 - water,
                0.75 - water,
                0.85 - water,
                mass,
                mass - 0.06,
                mass + 0.05,
            )
        )
    values = {"medium_volume_l": 2.0, "target_mass_kg": 1.3, "full_mass_kg": 1.9, **more}
    return DryDown(name=name, series=tuple(series), **values)
