"""The inner loops of a search: every composition of one set of materials side by side.

One flat workspace `w`, row after row of `wide` numbers, a number for each composition; flat places and
unsigned counters let the compiler use the vector units. The numbers have the precision of the tables given.
The arithmetic is the blending rule of `science.mixture`, with what the materials alone say tabulated before.
"""

import numpy as np
from numba import njit

from friable.science.packing import COMPACTION_INDEX

SUB_GRADES = 5
MOST_KINDS = 5
TABLE_STEPS = 2048
LARGEST_SHARE_ENTERED = 0.97
NEWTON_STEPS = 2  # within 3e-6 of the volume from the start chosen here; three leave 3e-12

U = np.uint64
ZERO, ONE = U(0), U(1)
KINDS_, SUBS = U(MOST_KINDS), U(SUB_GRADES)

# Rows of the workspace.
SHARE = U(0)  # five: loose share of each material
VOLUME, SUM, SLOPE = U(5), U(6), U(7)
DEMAND = U(8)  # twenty-five: what each sub-grade would need
WEIGHT = U(33)  # five: how far the others want into each material
RATIO = U(38)  # five: how far they get, over what they want
BULKED = U(43)  # five: space that stays as pores of each material
LOST = U(48)
WORST, SECOND, WHICH = U(49), U(50), U(51)
FIGURES = U(52)  # total porosity, the sums per volume (dry bulk density, cost), the water of each probe
ROWS = 52  # and one for each figure

compiled = njit(
    cache=True,
    error_model="numpy",
    nogil=True,
    fastmath={"contract", "nsz", "arcp", "reassoc", "nnan", "ninf"},
)


@compiled
def pack(w, wide, members, kinds, materials, demand, core, rounds):
    """Write the volume that the grains take together, of one volume poured."""
    one = w.dtype.type(1.0)
    zero = w.dtype.type(0.0)
    per_index = w.dtype.type(1.0 / COMPACTION_INDEX)
    volume, total, slope = VOLUME * wide, SUM * wide, SLOPE * wide
    for j in range(wide):
        w[volume + j] = zero
        w[total + j] = zero
        w[slope + j] = zero
    for a in range(kinds):
        share = (SHARE + a) * wide
        c = core[members[a]]
        for j in range(wide):
            w[slope + j] += w.dtype.type(SUB_GRADES) * c * w[share + j]
        for i in range(SUBS):
            row = (DEMAND + SUBS * a + i) * wide
            first = (SUBS * members[a] + i) * materials
            d0 = demand[first + members[ZERO]]
            s0 = SHARE * wide
            if kinds == U(1):
                for j in range(wide):
                    w[row + j] = d0 * w[s0 + j]
            else:
                d1 = demand[first + members[ONE]]
                s1 = s0 + wide
                for j in range(wide):
                    w[row + j] = d0 * w[s0 + j] + d1 * w[s1 + j]
                b = U(2)
                if kinds - b >= U(2):
                    d2, d3 = demand[first + members[b]], demand[first + members[b + ONE]]
                    s2 = (SHARE + b) * wide
                    s3 = s2 + wide
                    for j in range(wide):
                        w[row + j] += d2 * w[s2 + j] + d3 * w[s3 + j]
                    b = U(4)
                if b < kinds:
                    d4 = demand[first + members[b]]
                    s4 = (SHARE + b) * wide
                    for j in range(wide):
                        w[row + j] += d4 * w[s4 + j]
            for j in range(wide):
                x = c * w[share + j]
                w[total + j] += x * w[row + j]
                w[volume + j] = max(w[volume + j], w[row + j] + per_index * x)
    for j in range(wide):
        w[volume + j] = max(w[volume + j], w[total + j] / w[slope + j] + w[slope + j] * per_index)
    for _round in range(rounds):
        for j in range(wide):
            w[total + j] = zero
            w[slope + j] = zero
        for a in range(kinds):
            share = (SHARE + a) * wide
            c = core[members[a]]
            for i in range(SUBS):
                row = (DEMAND + SUBS * a + i) * wide
                for j in range(wide):
                    r = one / (w[volume + j] - w[row + j])
                    t = c * w[share + j] * r
                    w[total + j] += t
                    w[slope + j] += t * r
        for j in range(wide):
            w[volume + j] += w[total + j] * (w[total + j] * per_index - one) / w[slope + j]


@compiled
def share_overlap(w, wide, members, kinds, materials, void, entering):
    """Write how far the finer parts get into each material (ratio), the largest share of its voids minded."""
    one = w.dtype.type(1.0)
    zero = w.dtype.type(0.0)
    most = w.dtype.type(LARGEST_SHARE_ENTERED)
    volume, total, over = VOLUME * wide, SUM * wide, SLOPE * wide
    for j in range(wide):
        w[total + j] = zero
        w[over + j] = zero
    for a in range(kinds):
        weight, share = (WEIGHT + a) * wide, (SHARE + a) * wide
        for j in range(wide):
            w[weight + j] = zero
        for b in range(kinds):
            if a != b:
                into = entering[members[a] * materials + members[b]]
                other = (SHARE + b) * wide
                for j in range(wide):
                    w[weight + j] += into * w[other + j]
        e = void[members[a]]
        for j in range(wide):
            w[total + j] += e * w[share + j] * w[weight + j]
    for j in range(wide):
        room = max(zero, one - w[volume + j])
        w[total + j] = room / w[total + j] if w[total + j] > zero else zero
    if kinds == ONE:
        for j in range(wide):
            w[total + j] = zero
    for a in range(kinds):
        weight, ratio = (WEIGHT + a) * wide, (RATIO + a) * wide
        for j in range(wide):
            w[ratio + j] = w[total + j]
            w[over + j] = max(w[over + j], w[total + j] * w[weight + j])
    for j in range(wide):
        if w[over + j] > most:
            cap(w, wide, j, members, kinds, void)


@compiled
def cap(w, wide, j, members, kinds, void):
    """Share out the overlap of one composition where a material would be filled beyond the largest share."""
    one = w.dtype.type(1.0)
    zero = w.dtype.type(0.0)
    most = w.dtype.type(LARGEST_SHARE_ENTERED)
    overlap = max(zero, one - w[VOLUME * wide + j])
    full = U(0)  # a bit for each material that is
    for _round in range(kinds):
        changed = False
        for a in range(kinds):
            filled = w[(RATIO + a) * wide + j] * w[(WEIGHT + a) * wide + j]
            if (full >> a) & ONE == ZERO and filled > most * w.dtype.type(1.0 + 1e-12):
                full |= ONE << a
                changed = True
        if not changed:
            return
        left, open_weight = overlap, zero
        for a in range(kinds):
            room = void[members[a]] * w[(SHARE + a) * wide + j]
            if (full >> a) & ONE:
                left -= most * room
            else:
                open_weight += room * w[(WEIGHT + a) * wide + j]
        for a in range(kinds):
            weight = w[(WEIGHT + a) * wide + j]
            if (full >> a) & ONE:
                w[(RATIO + a) * wide + j] = most / weight
            else:
                w[(RATIO + a) * wide + j] = left / open_weight if open_weight > zero else zero


@compiled
def figures(
    w, wide, members, kinds, materials, sums, probes, void, entering, loss, inner, plain, tables, means
):
    """Write the volume of the mix, its porosity, its sums (density, cost) and the water of each probe.

    `plain` holds porosity and what is summed up of each material, `inner` the water inside its grains and
    `means` that of its outer voids at each probe, per volume poured; `tables` the mean of the voids' filling
    cut off at c.
    """
    one = w.dtype.type(1.0)
    zero = w.dtype.type(0.0)
    steps = w.dtype.type(TABLE_STEPS)
    volume, lost = VOLUME * wide, LOST * wide
    porosity = FIGURES * wide
    for j in range(wide):
        w[lost + j] = zero
    for f in range(sums + ONE):
        for j in range(wide):
            w[(FIGURES + f) * wide + j] = zero
    for b in range(kinds):
        bulked, share = (BULKED + b) * wide, (SHARE + b) * wide
        for j in range(wide):
            w[bulked + j] = zero
        for a in range(kinds):
            if a != b:
                pair = members[a] * materials + members[b]
                gone = void[members[a]] * entering[pair] * loss[pair]
                kept = void[members[a]] * entering[pair] - gone
                host, ratio = (SHARE + a) * wide, (RATIO + a) * wide
                for j in range(wide):
                    x = w[host + j] * w[ratio + j]
                    w[bulked + j] += kept * x
                    w[lost + j] += gone * x * w[share + j]
        for j in range(wide):
            w[bulked + j] *= w[share + j]
        for f in range(sums + ONE):
            row, of_part = (FIGURES + f) * wide, plain[f * materials + members[b]]
            for j in range(wide):
                w[row + j] += of_part * w[share + j]
    for j in range(wide):
        w[volume + j] = one - w[lost + j]
        w[porosity + j] -= w[lost + j]
    for f in range(sums + ONE):
        for j in range(wide):
            w[(FIGURES + f) * wide + j] /= w[volume + j]
    for q in range(probes):
        water = (FIGURES + ONE + sums + q) * wide
        for j in range(wide):
            w[water + j] = zero
        for a in range(kinds):
            at = q * materials + members[a]
            e = void[members[a]]
            share, bulked = (SHARE + a) * wide, (BULKED + a) * wide
            weight, ratio = (WEIGHT + a) * wide, (RATIO + a) * wide
            within, mean = inner[at], means[at]
            first = at * U(TABLE_STEPS + 1)
            for j in range(wide):
                place = (one - w[ratio + j] * w[weight + j]) * steps
                k = min(U(place), U(TABLE_STEPS - 1))
                low = tables[first + k]
                kept = low + (place - w.dtype.type(k)) * (tables[first + k + ONE] - low)
                w[water + j] += w[share + j] * (within + e * kept) + w[bulked + j] * mean
        for j in range(wide):
            w[water + j] /= w[volume + j]


@compiled
def judge(w, wide, kinds, members, count, forms, ends, is_distance, most_of_volume):
    """Write the score of each composition: the least depth within all ends, or minus a distance.

    An end is (coefficients of the figures ..., limit, gain); depth = gain x (figure - limit). Of the depths
    the least, the second least and which end the least belongs to are kept. A distance is the root of the sum
    of squares.
    """
    zero = w.dtype.type(0.0)
    worst, second, which, value = WORST * wide, SECOND * wide, WHICH * wide, SUM * wide
    start = zero if is_distance else w.dtype.type(1e9)
    for j in range(wide):
        w[worst + j] = start
        w[second + j] = start
        w[which + j] = zero
    for e in range(ends):
        base = e * (count + U(2))
        limit, gain = forms[base + count], forms[base + count + ONE]
        for j in range(wide):
            w[value + j] = -limit
        for f in range(count):
            factor = forms[base + f]
            if factor != zero:
                row = (FIGURES + f) * wide
                for j in range(wide):
                    w[value + j] += factor * w[row + j]
        if is_distance:
            for j in range(wide):
                w[worst + j] -= (gain * w[value + j]) ** 2
        else:
            for j in range(wide):
                depth = gain * w[value + j]
                w[which + j] = w.dtype.type(e) if depth < w[worst + j] else w[which + j]
                w[second + j] = min(w[second + j], max(depth, w[worst + j]))
                w[worst + j] = min(w[worst + j], depth)
    if is_distance:
        for j in range(wide):
            w[worst + j] = -np.sqrt(-w[worst + j])
    for a in range(kinds):
        share, most = (SHARE + a) * wide, most_of_volume[members[a]]
        if most < w.dtype.type(1e8):
            for j in range(wide):
                if w[share + j] > most * w[VOLUME * wide + j]:
                    w[worst + j] = w.dtype.type(-1e9)
                    w[second + j] = w.dtype.type(-1e9)


@compiled
def is_barred(members, kinds, materials, never):
    """Say whether two of the materials may not stand in one mix."""
    for a in range(kinds):
        for b in range(a):
            if never[members[a] * materials + members[b]]:
                return True
    return False


@compiled
def pick(picked, members, kinds, parts, totals, most_share, rows, bounds, materials):
    """Write the compositions that the linear limits let through; return how many."""
    count = 0
    limits = len(bounds)
    for c in range(len(totals)):
        good = True
        for a in range(kinds):
            if parts[c, a] > most_share[members[a]] * totals[c] + 1e-9:
                good = False
        for r in range(limits):
            amount = 0.0
            for a in range(kinds):
                amount += rows[r * materials + members[a]] * parts[c, a]
            if amount > bounds[r] * totals[c] + 1e-9:
                good = False
        if good:
            picked[count] = c
            count += 1
    return count


@compiled
def advance(digits, among):
    """Move to the next choice of places, in the order of a dictionary; say whether there is one."""
    chosen = len(digits)
    for back in range(chosen):
        place = chosen - 1 - back
        if digits[place] < among - 1 - back:
            digits[place] += 1
            for after in range(place + 1, chosen):
                digits[after] = digits[after - 1] + 1
            return True
    return False
