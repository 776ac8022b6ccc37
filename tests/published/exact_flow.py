"""Closed answers for water that moves through columns and pots: nothing here solves in steps.

Conductivity K = Ks exp(a h) and water θr + (θs - θr) exp(a h) make the equation of flow linear (Gardner
1958, Soil Sci. 85:228-232), so that columns above a water table have closed profiles, steady and in time
(Srivastava and Yeh 1991, Water Resour. Res. 27:753-762). Heights z count upward from the water table, where
h = 0; fluxes count downward. [cm, h]
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq


@dataclass(frozen=True)
class Exponential:
    """A medium whose conductivity and water fall exponentially with suction."""

    alpha_per_cm: float
    saturated_conductivity_cm_h: float
    saturated: float
    residual: float

    def conductivity_cm_h(self, head_cm):
        return self.saturated_conductivity_cm_h * np.exp(self.alpha_per_cm * np.minimum(head_cm, 0))

    def water(self, head_cm):
        fall = np.exp(self.alpha_per_cm * np.minimum(head_cm, 0))
        return self.residual + (self.saturated - self.residual) * fall

    def head_cm(self, conductivity_cm_h):
        return np.log(conductivity_cm_h / self.saturated_conductivity_cm_h) / self.alpha_per_cm


# --- homogeneous column, flux at the surface changed at t = 0 --------------------------------------------


def roots(scaled_length, count):
    """Return the first positive roots of tan(λL) + 2λ = 0: one in each half turn ((k - ½)π, kπ) of λL."""

    def excess(turn):  # multiplied by cos, so that it has no poles
        return math.sin(turn) + 2 * turn / scaled_length * math.cos(turn)

    edge = 1e-12
    return np.array(
        [
            brentq(excess, (k - 0.5) * math.pi + edge, k * math.pi, xtol=1e-14, rtol=1e-14) / scaled_length
            for k in range(1, count + 1)
        ]
    )


def _series(medium, length_cm, before_cm_h, after_cm_h, hours, terms):
    a, ks = medium.alpha_per_cm, medium.saturated_conductivity_cm_h
    length = a * length_cm
    time = a * ks * hours / (medium.saturated - medium.residual)
    lam = roots(length, terms)
    weight = np.sin(lam * length) * np.exp(-(lam**2) * time) / (1 + length / 2 + 2 * lam**2 * length)
    return lam, 4 * (after_cm_h - before_cm_h) / ks * math.exp(length / 2 - time / 4) * weight


def transient_conductivity(medium, length_cm, before_cm_h, after_cm_h, hours, height_cm, terms=400):
    """Return K at heights, some time after the flux at the surface went from one value to another. [cm/h]

    K* = q - (q - 1) e^-z - 4 (q - q0) e^((L-z)/2 - t/4) Σ sin(λz) sin(λL) e^(-λ²t) / (1 + L/2 + 2λ²L), with
    z, L in units of 1/a, t in (θs - θr)/(a Ks), q in Ks; steady under the first flux at t = 0.
    """
    z = medium.alpha_per_cm * np.asarray(height_cm, dtype=float)
    lam, parts = _series(medium, length_cm, before_cm_h, after_cm_h, hours, terms)
    q = after_cm_h / medium.saturated_conductivity_cm_h
    faded = np.exp(-z / 2) * (np.sin(np.outer(z, lam)) @ parts)
    return medium.saturated_conductivity_cm_h * (q - (q - 1) * np.exp(-z) - faded)


def transient_head_cm(medium, length_cm, before_cm_h, after_cm_h, hours, height_cm):
    """Return h at heights, as `transient_conductivity`."""
    return medium.head_cm(
        transient_conductivity(medium, length_cm, before_cm_h, after_cm_h, hours, height_cm)
    )


def transient_outflow_cm_h(medium, length_cm, before_cm_h, after_cm_h, hours, terms=400):
    """Return the flux into the water table: K + dK/dz/a at z = 0."""
    lam, parts = _series(medium, length_cm, before_cm_h, after_cm_h, hours, terms)
    return after_cm_h - medium.saturated_conductivity_cm_h * float(lam @ parts)


# --- steady columns ---------------------------------------------------------------------------------------


def steady_head_cm(layers, flux_cm_h, height_cm):
    """Return h at heights in a column of layers under one steady flux, h = 0 at its base.

    K + dK/dz/a = q in each layer, so K = q + (K_base - q) e^(-a (z - z_base)); h is continuous between them.

    Parameters
    ----------
    layers : sequence of (Exponential, thickness in cm)
        From the base up.
    flux_cm_h : float
        Downward; below 0 for evaporation.
    height_cm : array_like
    """
    z = np.asarray(height_cm, dtype=float)
    head = np.full(z.shape, np.nan)
    base, base_head = 0.0, 0.0
    for medium, thickness in layers:
        start = float(medium.conductivity_cm_h(base_head))

        def conductivity(at, medium=medium, start=start, base=base):
            return flux_cm_h + (start - flux_cm_h) * np.exp(-medium.alpha_per_cm * (at - base))

        here = (z >= base) & (z <= base + thickness)
        head[here] = medium.head_cm(conductivity(z[here]))
        base_head = float(medium.head_cm(conductivity(base + thickness)))
        base += thickness
    return head


def most_evaporation_cm_h(medium, length_cm):
    """Return the steady flux from a water table to a dry surface: E = Ks / (e^(aL) - 1)."""
    return medium.saturated_conductivity_cm_h / math.expm1(medium.alpha_per_cm * length_cm)


# --- a drained pot ----------------------------------------------------------------------------------------


def frustum_cm3(height_cm, bottom_radius_cm, top_radius_cm):
    """Return the volume of a round pot."""
    r, t = bottom_radius_cm, top_radius_cm
    return math.pi * height_cm / 3 * (r * r + r * t + t * t)


def drained_water_cm3(saturated, residual, alpha_per_cm, height_cm, bottom_radius_cm, top_radius_cm):
    """Return the water of a drained round pot for van Genuchten n = 2, suction = height above the base.

    ∫ A S dz = π [r² asinh(aH)/a + 2 r k (q - 1)/a² + k² (aHq - asinh aH)/2a³], q = √(1 + a²H²), k the taper.
    """
    a, h, r = alpha_per_cm, height_cm, bottom_radius_cm
    k = (top_radius_cm - bottom_radius_cm) / h
    q = math.sqrt(1 + (a * h) ** 2)
    s = math.asinh(a * h)
    filled = math.pi * (r * r * s / a + 2 * r * k * (q - 1) / a**2 + k * k * (a * h * q - s) / (2 * a**3))
    return residual * frustum_cm3(h, r, top_radius_cm) + (saturated - residual) * filled


# --- hysteresis -------------------------------------------------------------------------------------------


def filled(suction_cm, alpha_per_cm, n):
    """Return the filled share S of a van Genuchten curve."""
    return (1 + (alpha_per_cm * np.asarray(suction_cm, dtype=float)) ** n) ** (1 / n - 1)


def rewetted_water(saturated, residual, drying_alpha, wetting_alpha, n, turned_at_cm, suction_cm):
    """Return the water at a suction on the way up from a turn on the main drying curve.

    θ = θr' + (θs - θr') S_w(s), θr' = [θ_D - θs S_w(s_D)] / [1 - S_w(s_D)] (Kool and Parker 1987, Water
    Resour. Res. 23:105-114; form from memory).
    """
    turned = residual + (saturated - residual) * filled(turned_at_cm, drying_alpha, n)
    there = filled(turned_at_cm, wetting_alpha, n)
    low = (turned - saturated * there) / (1 - there)
    return low + (saturated - low) * filled(suction_cm, wetting_alpha, n)
