"""The blending rule once more, slowly: plain loops, a bracketing root finder and adaptive quadrature.

Written from the equations of docs/science/blending.md as they stand in words, not from the package: the
compressible packing model in the textbook form of gamma with all its pair terms (de Larrard 1999; form from
memory), the sharing of the overlap one pair at a time, the mean of a pot by scipy.integrate.quad.
"""

import math
from itertools import pairwise, product

from scipy.integrate import quad
from scipy.optimize import brentq

K = 4.1
CAP = 0.97


def loosening(fine, coarse):
    """Effect of finer grains that push the coarse apart."""
    return math.sqrt(1 - (1 - fine / coarse) ** 1.02)


def wall(fine, coarse):
    """Effect of the surface of a coarse grain on the fine around it."""
    return 1 - (1 - fine / coarse) ** 1.5


def packing_density(envelope, beta, size, index=K):
    """Packing of single-sized grades by the compressible packing model, straight from its definition.

    K = sum over grades of (X_i / beta_i) / (1/Phi - 1/gamma_i).
    """
    total = sum(envelope)
    share = [s / total for s in envelope]
    grades = range(len(share))
    gamma = []
    for i in grades:
        below = 1.0
        for j in grades:
            if size[j] > size[i]:
                b = wall(size[i], size[j])
                below -= (1 - beta[i] + b * beta[i] * (1 - 1 / beta[j])) * share[j]
            elif size[j] < size[i]:
                below -= (1 - loosening(size[j], size[i]) * beta[i] / beta[j]) * share[j]
            else:
                below -= (1 - beta[i] / beta[j]) * share[j]
        gamma.append(beta[i] / below)
    present = [i for i in grades if share[i] > 0]

    def excess(phi):
        return sum(share[i] / beta[i] / (1 / phi - 1 / gamma[i]) for i in present) - index

    highest = min(gamma[i] for i in present)
    return brentq(excess, 1e-6, highest * (1 - 1e-13), xtol=1e-15, rtol=1e-14)


class SlowMix:
    """A mix of materials given by their plain figures."""

    def __init__(self, ingredients, volumes, pair_loss=None):
        self.parts = list(zip(ingredients, volumes, strict=True))
        everyone = range(len(self.parts))
        poured = sum(volumes)
        void = [v * i.void_fraction for i, v in self.parts]

        envelope, beta, size = [], [], []
        for i, v in self.parts:
            for d in i.sub_sizes_mm:
                envelope.append(v * (1 - i.void_fraction) / 5)
                beta.append((1 + 1 / K) * (1 - i.void_fraction_single_size))
                size.append(d)
        self.packing_density = packing_density(envelope, beta, size)
        overlap = max(0.0, poured - sum(envelope) / self.packing_density)

        weight = {}
        for k, j in product(everyone, everyone):
            if k == j:
                continue
            pairs = [
                max(0.0, 1 - fine / coarse) ** 2
                for coarse in self.parts[k][0].sub_sizes_mm
                for fine in self.parts[j][0].sub_sizes_mm
            ]
            weight[k, j] = void[k] * volumes[j] / poured * sum(pairs) / len(pairs)
        of = [sum(w for (k, _j), w in weight.items() if k == entered) for entered in everyone]

        taken = [0.0 for _ in everyone]
        if sum(of) > 0:
            full = set()
            while True:
                left = overlap - sum(CAP * void[k] for k in full)
                room = sum(of[k] for k in everyone if k not in full)
                taken = [
                    CAP * void[k] if k in full else (left * of[k] / room if room else 0.0) for k in everyone
                ]
                over = {k for k in everyone if k not in full and taken[k] > CAP * void[k]}
                if not over:
                    break
                full |= over
        self.overlap, self.taken = overlap, taken

        lost, self.bulked = 0.0, [0.0 for _ in everyone]
        for (k, j), w in weight.items():
            if not of[k]:
                continue
            moved = taken[k] * w / of[k]
            a, b = self.parts[k][0], self.parts[j][0]
            loss = min(a.overlap_loss, b.overlap_loss)
            if pair_loss is not None:
                loss = pair_loss
            lost += loss * moved
            self.bulked[j] += (1 - loss) * moved
        self.void = void
        self.volume = poured - lost
        self.shrinkage = lost / poured
        inner = sum(v * (1 - i.void_fraction) * i.internal_porosity for i, v in self.parts)
        self.total_porosity = (sum(void) - lost + inner) / self.volume
        self.dry_bulk_density_g_cm3 = sum(v * i.dry_bulk_density_g_cm3 for i, v in self.parts) / self.volume

    def water(self, suction_cm):
        """Water content at one suction."""
        held = 0.0
        for k, (i, v) in enumerate(self.parts):
            outer = (1 + (i.alpha_ext_per_cm * suction_cm) ** i.n_ext) ** (1 / i.n_ext - 1)
            inner = (1 + (i.alpha_int_per_cm * suction_cm) ** i.n_int) ** (1 / i.n_int - 1)
            held += v * (1 - i.void_fraction) * i.internal_porosity * inner
            held += min(self.void[k] * outer, self.void[k] - self.taken[k]) + self.bulked[k] * outer
        return held / self.volume

    def capacity(self, height_cm, area=lambda _z: 1.0):
        """Mean water content of a drained column whose cross-section is area(height)."""
        kinks = self._kinks(height_cm)
        volume, _error = quad(area, 0, height_cm)
        water = 0.0
        edges = [0.0, *kinks, height_cm]
        for low, high in pairwise(edges):
            water += quad(lambda z: area(z) * self.water(z), low, high, limit=200, epsabs=1e-11)[0]
        return water / volume

    def _kinks(self, height_cm):
        """Heights at which the entered part of a void begins to drain."""
        found = []
        for k, (i, _v) in enumerate(self.parts):
            share = 1 - self.taken[k] / self.void[k]
            if share < 1:
                at = (share ** (-1 / (1 - 1 / i.n_ext)) - 1) ** (1 / i.n_ext) / i.alpha_ext_per_cm
                if 0 < at < height_cm:
                    found.append(at)
        return sorted(found)
