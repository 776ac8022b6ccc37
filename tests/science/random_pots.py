"""Pots, media and weathers drawn wide, to see what the flow solvers do with the worst of them."""

import numpy as np

from friable.science.containers import Container
from friable.science.flow.column import column_of
from friable.science.flow.medium import Uptake, van_genuchten_medium
from friable.science.flow.pot import CALENDAR, HELD, NEED, NOBODY, OPEN, SAUCER, Base, Pot, Watering, Weather

CELLS = 16


def between(draw, low, high):
    """Draw evenly in the logarithm."""
    return float(low * (high / low) ** draw.random())


def any_medium(draw):
    """Draw from coarse gravel to clay: alpha 0.01 to 2 per cm, n 1.15 to 4, Ks 0.3 to 5,000 cm/h."""
    saturated = draw.uniform(0.35, 0.95)
    return van_genuchten_medium(
        saturated=saturated,
        residual=draw.uniform(0.0, 0.35) * saturated,
        alpha_per_cm=between(draw, 0.01, 2.0),
        n=draw.uniform(1.15, 4.0),
        saturated_conductivity_cm_h=between(draw, 0.3, 5000),
    )


def any_container(draw):
    """Draw a round pot 3 to 40 cm high, tapered or not, a third of them with a drainage layer."""
    height = between(draw, 3.0, 40.0)
    top = between(draw, 2.0, 20.0)
    bottom = top * draw.uniform(0.5, 1.2)
    layer = draw.uniform(0.1, 0.4) * height if draw.random() < 1 / 3 else 0.0
    return Container(
        shape="round",
        top_length_cm=2 * top,
        top_width_cm=2 * top,
        bottom_length_cm=2 * bottom,
        bottom_width_cm=2 * bottom,
        height_cm=height,
        drainage_layer_cm=layer,
        headspace_cm=0.05 * height,
    )


def any_column(draw):
    """Draw a container and cut it into cells, fine at the top."""
    return column_of(any_container(draw), cells=CELLS, top_cell_cm=between(draw, 0.05, 0.3))


def any_base(draw, column):
    """Draw open holes, standing water, a mat or a saucer."""
    kind = draw.choice([OPEN, OPEN, OPEN, HELD, HELD, SAUCER])
    area = float(column.face_area_cm2[-1])
    if kind == HELD:
        return Base(kind=HELD, head_cm=draw.uniform(-20.0, 0.5 * column.face_height_cm[0]))
    if kind == SAUCER:
        return Base(kind=SAUCER, saucer_area_cm2=1.5 * area, saucer_cm3=1.5 * area * draw.uniform(0.5, 4))
    return Base()


def any_watering(draw, top_cm2, base):
    """Draw who waters, how much and how fast; over open holes the bench may be flooded instead."""
    flood = draw.uniform(0.5, 8.0) if base.kind == OPEN and draw.random() < 0.2 else None
    return Watering(
        by=draw.choice([CALENDAR, CALENDAR, NEED, NEED, NOBODY]),
        at_hour=int(draw.integers(0, 24)),
        every_days=int(draw.integers(1, 3)),
        used_share=draw.uniform(0.05, 0.9),
        dose_cm3=top_cm2 * draw.uniform(0.1, 6.0) if draw.random() < 0.6 else None,
        rate_cm3_h=top_cm2 * between(draw, 0.2, 200.0),
        surplus=draw.uniform(0, 0.5),
        flood_cm=flood,
    )


def any_weather(draw, hours):
    """Draw weather by the hour: up to 1 mm an hour wanted by the air, showers and downpours."""
    hour = np.arange(hours) % 24
    day = np.clip(np.sin(np.pi * (hour - 6) / 12), 0.0, None) * draw.uniform(0.0, 0.15)
    wanted = day * draw.uniform(0.2, 1.0, hours)
    rain = np.where(draw.random(hours) < draw.uniform(0, 0.2), draw.exponential(0.5, hours), 0.0)
    return Weather(reference_cm=wanted, rain_cm=rain, weekday=int(draw.integers(0, 7)))


def any_pot(draw, columns, weathers):
    """Draw a pot, one of the columns for it, and the weather it stands in."""
    column = columns[draw.integers(len(columns))]
    top = float(column.face_area_cm2[0])
    layered = bool(column.layer[-1])
    base = any_base(draw, column)
    medium = any_medium(draw)
    wet = draw.uniform(0.1, 2.0)
    return Pot(
        column=column,
        media=(medium, any_medium(draw)) if layered else (medium,),
        total_porosity=medium.saturated,
        uptake=Uptake(wet, wet * draw.uniform(1.5, 10), draw.uniform(100, 1000), draw.uniform(2000, 15000)),
        root_depth_share=draw.uniform(0.2, 1.0),
        evaporation_cm2=top * draw.uniform(0, 1.0),
        uptake_cm2=top * draw.uniform(0, 3.0),
        rain_cm2=top * draw.uniform(0, 1.0),
        base=base,
        watering=any_watering(draw, top, base),
        entry_suction_cm=draw.uniform(0.0, 5.0) if layered and draw.random() < 0.5 else None,
        rim_cm=draw.uniform(0.0, 3.0),
        weather=int(draw.integers(0, weathers)),
    )


def said(pot):
    """Say in a line what a pot is, from what it was made of."""
    height = pot.column.face_height_cm[0]
    water, k = pot.media[0].water, pot.media[0].conductivity_cm_h
    at_ten = float(pot.media[0].water_at(np.array([10.0]))[0])
    return (
        f"{height:.1f} cm, {len(pot.media)} material(s), full {water[0]:.2f}, at 10 cm {at_ten:.2f}, "
        f"Ks {k[0]:.3g} cm/h, {pot.base.kind} {pot.base.head_cm:.1f}, watered by {pot.watering.by}"
        + (f", flooded {pot.watering.flood_cm:.1f} cm" if pot.watering.flood_cm else "")
    )
