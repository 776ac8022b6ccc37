"""The chance of single recipes: the blending rule for each draw of the ranges, one after the other."""

import numpy as np

from friable.science.packing import COMPACTION_INDEX
from friable.science.search.kernel import LARGEST_SHARE_ENTERED, MOST_KINDS, SUB_GRADES, compiled

NEWTON_STEPS = 5


@compiled
def packed(volume, members, kinds, draw, drawn, sizes, demand, core, solid):
    """Return the volume that the grains of one mix take together in one draw; the last three are scratch."""
    void, beta = drawn[0], drawn[1]
    rigid, loose = sizes[0], sizes[1]
    total, mean, most = 0.0, 0.0, 0.0
    for a in range(kinds):
        solid[0, a] = volume[a] * (1.0 - void[a, draw, members[a]])
        solid[1, a] = solid[0, a] / beta[a, draw, members[a]]
        core[a] = solid[1, a] / SUB_GRADES
        total += solid[1, a]
    for a in range(kinds):
        for i in range(SUB_GRADES):
            row, need = members[a] * SUB_GRADES + i, 0.0
            for b in range(kinds):
                need += solid[0, b] * rigid[row, members[b]] + solid[1, b] * loose[row, members[b]]
            demand[a * SUB_GRADES + i] = need
            mean += core[a] * need
            most = max(most, need + core[a] / COMPACTION_INDEX)
    taken = max(mean / total + total / COMPACTION_INDEX, most)
    for _round in range(NEWTON_STEPS):
        f, slope = 0.0, 0.0
        for a in range(kinds):
            for i in range(SUB_GRADES):
                r = 1.0 / (taken - demand[a * SUB_GRADES + i])
                f += core[a] * r
                slope += core[a] * r * r
        taken += f * (f / COMPACTION_INDEX - 1.0) / slope
    return taken


@compiled
def shared_out(overlap, volume, members, kinds, draw, void, entering, wants, ratio):
    """Write what the others want of each material, and the share of that which they get."""
    total = 0.0
    for a in range(kinds):
        wants[a] = 0.0
        for b in range(kinds):
            if a != b:
                wants[a] += entering[members[a], members[b]] * volume[b]
        total += void[a, draw, members[a]] * volume[a] * wants[a]
    full = np.zeros(MOST_KINDS, dtype=np.bool_)
    for a in range(kinds):
        ratio[a] = overlap / total if total > 0.0 and kinds > 1 else 0.0
    for _round in range(kinds):
        changed = False
        for a in range(kinds):
            if not full[a] and ratio[a] * wants[a] > LARGEST_SHARE_ENTERED * (1.0 + 1e-12):
                full[a] = changed = True
        if not changed:
            return
        left, open_weight = overlap, 0.0
        for a in range(kinds):
            room = void[a, draw, members[a]] * volume[a]
            if full[a]:
                left -= LARGEST_SHARE_ENTERED * room
            else:
                open_weight += room * wants[a]
        for a in range(kinds):
            if full[a]:
                ratio[a] = LARGEST_SHARE_ENTERED / wants[a]
            else:
                ratio[a] = left / open_weight if open_weight > 0.0 else 0.0


@compiled
def one_draw(volume, members, kinds, draw, drawn, sizes, loss, points, outer, inner, scratch, out):
    """Write porosity, density and the water of each probe of one mix in one draw; return its volume.

    `points` holds the first and the last place of each probe among the suctions, and the weights.
    """
    void, _beta, internal, density = drawn
    entering = sizes[2]
    first, weights = points
    demand, core, solid, wants, ratio, bulked = scratch
    overlap = max(0.0, 1.0 - packed(volume, members, kinds, draw, drawn, sizes, demand, core, solid))
    shared_out(overlap, volume, members, kinds, draw, void, entering, wants, ratio)
    lost, pores, mass = 0.0, 0.0, 0.0
    for a in range(kinds):
        bulked[a] = 0.0
    for a in range(kinds):
        e = void[a, draw, members[a]]
        pores += volume[a] * (e + (1.0 - e) * internal[a, draw, members[a]])
        mass += volume[a] * density[a, draw, members[a]]
        for b in range(kinds):
            if a != b:
                moved = e * volume[a] * volume[b] * entering[members[a], members[b]] * ratio[a]
                lost += moved * loss[members[a], members[b]]
                bulked[b] += moved * (1.0 - loss[members[a], members[b]])
    mixed = 1.0 - lost
    out[0] = (pores - lost) / mixed
    out[1] = mass / mixed
    for q in range(len(first) - 1):
        held = 0.0
        for a in range(kinds):
            e, m = void[a, draw, members[a]], members[a]
            room = volume[a] * e
            left = room * (1.0 - ratio[a] * wants[a])
            grain = volume[a] * (1.0 - e) * internal[a, draw, m]
            more = bulked[a]
            for s in range(first[q], first[q + 1]):
                filled = outer[a, draw, m, s]
                held += weights[s] * (min(room * filled, left) + more * filled + grain * inner[a, draw, m, s])
        out[2 + q] = held / mixed
    return mixed


@compiled
def count_within(volumes, members, kinds, drawn, sizes, loss, points, outer, inner, scratch, forms, counts):
    """Count, for each mix, the draws in which every form is within its end.

    `drawn` are void, beta, internal porosity and density, shape (place in the mix, draw, material); the rows
    of `forms` hold the coefficients of the figures, the limit and the gain.
    """
    figures = np.empty(2 + len(points[0]) - 1)
    draws = drawn[0].shape[1]
    for r in range(len(volumes)):
        counts[r] = 0
        for draw in range(draws):
            one_draw(
                volumes[r],
                members[r],
                kinds,
                draw,
                drawn,
                sizes,
                loss,
                points,
                outer,
                inner,
                scratch,
                figures,
            )
            good = True
            for e in range(len(forms)):
                value = -forms[e, len(figures)]
                for f in range(len(figures)):
                    value += forms[e, f] * figures[f]
                if forms[e, len(figures) + 1] * value < 0.0:
                    good = False
            if good:
                counts[r] += 1


@compiled
def figures_each(volumes, members, kinds, drawn, sizes, loss, points, outer, inner, scratch, figures, mixed):
    """Write the figures of each mix in the first draw, and its volume of one poured."""
    for r in range(len(volumes)):
        mixed[r] = one_draw(
            volumes[r],
            members[r],
            kinds,
            0,
            drawn,
            sizes,
            loss,
            points,
            outer,
            inner,
            scratch,
            figures[r],
        )
