"""A sweep over sets of materials: judge every composition of each, keep the best and the nearest misses."""

import numpy as np

from friable.science.search.kernel import (
    KINDS_,
    NEWTON_STEPS,
    SECOND,
    SHARE,
    WHICH,
    WORST,
    ZERO,
    U,
    advance,
    compiled,
    figures,
    is_barred,
    judge,
    pack,
    pick,
    share_overlap,
)

LANES = 8  # a row of the workspace is a whole number of these wide


@compiled
def evaluate(w, wide, members, kinds, materials, sums, probes, tables):
    """Write every figure of the compositions whose shares stand in the workspace."""
    demand, core, void, entering, loss, inner, plain, kept, means = tables
    pack(w, wide, members, kinds, materials, demand, core, NEWTON_STEPS)
    share_overlap(w, wide, members, kinds, materials, void, entering)
    figures(w, wide, members, kinds, materials, sums, probes, void, entering, loss, inner, plain, kept, means)


@compiled
def pour(w, count, kinds, parts, totals, picked):
    """Write the shares of the picked compositions; return the width of a row, the last one repeated."""
    wide = U((count + LANES - 1) // LANES * LANES)
    for a in range(kinds):
        row = (SHARE + a) * wide
        for j in range(wide):
            c = picked[min(np.int64(j), np.int64(count - 1))]
            w[row + j] = w.dtype.type(parts[c, a] / totals[c])
    return wide


@compiled
def sweep(
    w,
    digits,
    sets,
    held,
    free,
    never,
    parts,
    totals,
    limits,
    tables,
    materials,
    sums,
    probes,
    forms,
    ends,
    is_distance,
    most_of_volume,
    threshold,
    picked,
    kept,
    opened,
):
    """Judge the next sets of materials, from the one in `digits` on.

    `held` are in every set, the others are chosen among `free`. `kept` is (members, composition, score) with
    room for what reaches the threshold, `opened` the same for the nearest miss of each end. Stops when all
    sets are done or the room runs out. Returns sets done, recipes considered, pruned, within, and kept.
    """
    most_share, rows, bounds = limits
    kept_members, kept_pick, kept_score = kept
    open_members, open_pick, open_score = opened
    kinds = U(len(held) + len(digits))
    members = np.zeros(KINDS_, dtype=np.uint64)
    for a in range(len(held)):
        members[a] = held[a]
    considered, pruned, within, stored, done = 0, 0, 0, 0, 0
    while done < sets and stored + len(totals) <= len(kept_score):
        for a in range(len(digits)):
            members[len(held) + a] = free[digits[a]]
        done += 1
        if not is_barred(members, kinds, materials, never):
            count = pick(picked, members, kinds, parts, totals, most_share, rows, bounds, materials)
            considered += len(totals)
            pruned += len(totals) - count
            if count > 0:
                wide = pour(w, count, kinds, parts, totals, picked)
                evaluate(w, wide, members, kinds, materials, sums, probes, tables)
                judge(w, wide, kinds, members, sums + probes + U(1), forms, ends, is_distance, most_of_volume)
                for j in range(count):
                    score = w[WORST * wide + U(j)]
                    if score >= ZERO:
                        within += 1
                    if score >= threshold:
                        for a in range(kinds):
                            kept_members[stored, a] = members[a]
                        kept_pick[stored] = picked[j]
                        kept_score[stored] = score
                        stored += 1
                    if not is_distance and score < 0.0 and w[SECOND * wide + U(j)] >= 0.0:
                        end = int(w[WHICH * wide + U(j)])
                        if score > open_score[end]:
                            for a in range(kinds):
                                open_members[end, a] = members[a]
                            open_pick[end] = picked[j]
                            open_score[end] = score
        if not advance(digits, len(free)):
            break
    return done, considered, pruned, within, stored
