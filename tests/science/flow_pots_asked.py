"""Pots, media and weather that the tests of flow ask about."""

from dataclasses import replace

import numpy as np

import friable.science.flow.layout as at
from friable.science.containers import Container
from friable.science.flow.column import Column, column_of
from friable.science.flow.medium import Uptake, van_genuchten_medium
from friable.science.flow.pot import SAUCER, Pot, Weather
from friable.science.flow.pots import run_pots

CELLS = 20
POT = Container(
    shape="round", top_length_cm=13, top_width_cm=13, bottom_length_cm=10, bottom_width_cm=10,
    height_cm=12, headspace_cm=1,
)  # fmt: skip
COLUMN = column_of(POT, cells=CELLS)
TOP_CM2 = COLUMN.face_area_cm2[0]
# Media of our own making: a peat and bark mix, a gravel, a fine sand.
MIX = van_genuchten_medium(
    saturated=0.85, residual=0.1, alpha_per_cm=0.15, n=1.6, saturated_conductivity_cm_h=60.0
)
GRAVEL = van_genuchten_medium(
    saturated=0.42, residual=0.03, alpha_per_cm=1.5, n=3.0, saturated_conductivity_cm_h=2000.0
)
SAND = van_genuchten_medium(
    saturated=0.4, residual=0.04, alpha_per_cm=0.06, n=2.5, saturated_conductivity_cm_h=20.0
)
ROOTS = Uptake(1.0, 5.0, 300.0, 3000.0)
GROWN = Pot(
    column=COLUMN, media=(MIX,), total_porosity=0.87, uptake=ROOTS, evaporation_cm2=0.4 * TOP_CM2,
    uptake_cm2=0.8 * TOP_CM2, rim_cm=1.0,
)  # fmt: skip
BARE = replace(GROWN, evaporation_cm2=0.0, uptake_cm2=0.0)
POURED, RAN, DRAWN, EVAPORATED, TAKEN, WATERINGS, STORED = 0, 2, 3, 4, 5, 8, 9  # of a day
ROW_STORED, ROW_ZONE, ROW_POND, ROW_RAN, ROW_POURED = 0, 1, 2, 3, 6  # of an hour


def days_of(days, mm=4.0, rain_mm=0.0, weekday=0):
    """Plain days: demand from 6 to 18 in a half sine, rain from 3 to 4. Monday first."""
    hour = np.arange(24)
    light = np.maximum(0.0, np.sin((hour + 0.5 - 6) * np.pi / 12))
    rain = np.where(hour == 3, rain_mm / 10, 0.0)
    return Weather(np.tile(mm / 10 * light / light.sum(), days), np.tile(rain, days), weekday)


NIGHTLY = Weather(np.zeros(24 * 60), np.zeros(24 * 60))  # nothing evaporates, nothing falls


def run(pot, weather=NIGHTLY, days=1, **how):
    return run_pots([pot], [weather], round(24 * days), **how)


def throughput_and_slip(pot, found):
    """Return what went through a pot and what its books miss, the saucer counted in. [cm3]"""
    s = found.state[0]
    came, went = s[at.POURED] + s[at.RAINED], s[[at.OVER, at.PAST, at.EVAPORATED, at.TAKEN]].sum()
    if pot.base.kind == SAUCER:
        went += s[at.SPILT] + s[at.IN_SAUCER]
    else:
        came, went = came + s[at.DRAWN_UP], went + s[at.BELOW]
    kept = s[at.STORED] - found.stored_at_start_cm3[0] + s[at.POND] * pot.column.face_area_cm2[0]
    return max(came, went), came - went - kept


LAYERED = column_of(POT.with_drainage_layer(3.0), cells=CELLS)


def three_layers():
    """Mix over sand over gravel: two joints."""
    faces = COLUMN.height_cm
    return Column(
        face_height_cm=COLUMN.face_height_cm,
        face_area_cm2=COLUMN.face_area_cm2,
        volume_cm3=COLUMN.volume_cm3,
        layer=np.where(faces > 5, 0, np.where(faces > 2, 1, 2)),
    )
