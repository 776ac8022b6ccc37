"""Columns and pots that the flow solvers are asked about in tests: how a published case is put to them."""

import numpy as np

from friable.science.containers import Container
from friable.science.flow.column import column_of
from friable.science.flow.medium import Medium, table_suctions_cm, van_genuchten_medium
from friable.science.flow.pot import HELD, Base, Pot, Weather
from friable.science.flow.pots import run_pots

FINE = 1024  # steps in a doubling of a table: 17,409 nodes
SOLVERS = ("fast", "careful")


def straight(height_cm, layer_cm=0.0, radius_cm=5.0):
    """Return a round pot with upright walls."""
    return tapered(height_cm, radius_cm, radius_cm, layer_cm)


def tapered(height_cm, bottom_radius_cm, top_radius_cm, layer_cm=0.0):
    """Return a round pot."""
    return Container(
        shape="round",
        top_length_cm=2 * top_radius_cm,
        top_width_cm=2 * top_radius_cm,
        bottom_length_cm=2 * bottom_radius_cm,
        bottom_width_cm=2 * bottom_radius_cm,
        height_cm=height_cm,
        drainage_layer_cm=layer_cm,
    )


def even(container, cells):
    """Cut a pot into even cells."""
    return column_of(container, cells=cells, top_cell_cm=None)


def exponential_medium(exact, steps=FINE):
    """Return a medium for the solvers from `exact_flow.Exponential`."""
    suction = table_suctions_cm(steps)
    return Medium(
        water=exact.water(-suction), conductivity_cm_h=exact.conductivity_cm_h(-suction), suction_cm=suction
    )


def van_genuchten(saturated, residual, alpha_per_cm, n, conductivity_cm_h, steps=FINE):
    """Return a medium from its five figures."""
    return van_genuchten_medium(
        saturated=saturated,
        residual=residual,
        alpha_per_cm=alpha_per_cm,
        n=n,
        saturated_conductivity_cm_h=conductivity_cm_h,
        steps=steps,
    )


def shifted(medium, by_cm):
    """Return the medium whose suctions are counted from `by_cm`: a head held there is then a wet surface."""
    s = medium.suction_cm
    return Medium(
        water=np.interp(s + by_cm, s, medium.water),
        conductivity_cm_h=np.interp(s + by_cm, s, medium.conductivity_cm_h),
        suction_cm=s,
    )


def steady_weather(hours, *, rain_cm_h=0.0, reference_cm_h=0.0):
    """Return weather that does not change."""
    return Weather(reference_cm=np.full(hours, reference_cm_h), rain_cm=np.full(hours, rain_cm_h))


def run(pots, hours, weather=None, *, start_heads_cm=None, steps=FINE, **how):
    """Run a pot, or several, under one weather."""
    several = pots if isinstance(pots, list) else [pots]
    heads = None if start_heads_cm is None else np.atleast_2d(start_heads_cm)
    return run_pots(
        several, [weather or steady_weather(hours)], hours, start_heads_cm=heads, steps=steps, **how
    )


def above_water(column, media, **more):
    """Return a pot whose base stands at a water table, catching rain over all its surface."""
    area = float(column.face_area_cm2[0])
    return Pot(
        column=column,
        media=media,
        total_porosity=media[0].saturated,
        base=Base(kind=HELD, head_cm=0.0),
        rain_cm2=area,
        evaporation_cm2=area,
        **more,
    )
