"""What both solvers hold a step to: its two stages, when it is accepted, how long the next one may be."""

import numpy as np

import friable.science.flow.layout as at
from friable.science.flow.events import compiled, pond_after

GAMMA = 1 - 1 / np.sqrt(2)
BASE_WEIGHT = (1 - GAMMA) / GAMMA
ACCEPT = 4.0  # tolerances
SAFETY, GROW, SHRINK = 0.9, 5.0, 0.1
DEBT_CM = 0.01  # of standing water that a step may overdraw; the next ones pay it back


@compiled
def next_step(state, p):
    """Return the step to take now: as wished, and never leaving a sliver before the next stop. [h]"""
    left = state[p, at.STOP] - state[p, at.TIME]
    step = state[p, at.STEP]
    if step >= left:
        return left
    if 2 * step > left:
        return 0.5 * left
    return step


@compiled
def overdraws(spec, state, p, hours, entered, below):
    """Say whether a step takes more than stands on the medium, or in the saucer. [cm3]"""
    if not pond_after(spec, state, p, hours, entered) > -DEBT_CM:  # also for what is not a number
        return True
    if spec[p, at.BASE] == at.SAUCER and state[p, at.FLOOD_UNTIL] == 0.0:
        return state[p, at.IN_SAUCER] + below < -DEBT_CM * spec[p, at.SAUCER_CM2]
    return False


@compiled
def wish_after(state, p, hours, error):
    """Set the step wished for after one that was accepted with this error, in tolerances."""
    factor = SAFETY / np.sqrt(max(error, 1e-8))
    wish = hours * min(GROW, max(SHRINK, factor))
    if hours < state[p, at.STEP] and factor > 1.0:  # it was cut short by a stop
        wish = max(wish, state[p, at.STEP])
    state[p, at.STEP] = wish


@compiled
def shorten(state, p, hours, error):
    """Set the step to try after one that was refused."""
    factor = 0.25
    if 0.0 < error < 1e12:
        factor = min(0.5, max(SHRINK, SAFETY / np.sqrt(error)))
    state[p, at.STEP] = hours * factor
    state[p, at.STEPS_REFUSED] += 1
