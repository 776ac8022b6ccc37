"""Questions of what can stand in, small enough for a loop over every recipe."""

from friable.planning.at_hand import AtHand
from friable.planning.container_text import parse_container
from friable.planning.limits import Limits
from friable.planning.replacing import ReplaceCase
from friable.reference.material_flags import material_flags
from strategies_science import MATERIALS

POT = parse_container("round 17/12/13 cm")
TRAY = parse_container("tray 50x30x5 cm")
EVERY = tuple(MATERIALS)
CONTAINERS = ((POT,), (TRAY,), (POT, TRAY))


def parts(**of):
    """Return materials by key with their parts."""
    return tuple((MATERIALS[key], float(share)) for key, share in of.items())


def at_hand(keys=EVERY, stock_l=None, cost_per_l=None):
    """Return materials at hand; stock and cost by key."""
    return tuple(
        AtHand(
            material=MATERIALS[key],
            flags=material_flags(MATERIALS[key]),
            stock_l=(stock_l or {}).get(key),
            cost_per_l=(cost_per_l or {}).get(key),
        )
        for key in keys
    )


def case(mix, without, keys=EVERY, containers=(POT,), **of):
    """Return a case: `without` are keys."""
    return ReplaceCase(
        mix=mix,
        without=frozenset([without] if isinstance(without, str) else without),
        containers=tuple(containers),
        at_hand=at_hand(keys, of.pop("stock_l", None), of.pop("cost_per_l", None)),
        **of,
    )


def random_case(rng):
    """Return a small case with, now and then, one limit or another; at most some 300 recipes."""
    keys = [str(key) for key in rng.choice(EVERY, size=5, replace=False)]
    others = [str(key) for key in rng.choice([k for k in EVERY if k not in keys], size=3, replace=False)]
    mix = parts(**{others[0]: int(rng.integers(1, 5)), others[1]: int(rng.integers(1, 5)), keys[0]: 1})
    stock = {key: float(rng.uniform(20, 120)) for key in keys}
    costs = {key: float(rng.uniform(0.05, 0.8)) for key in keys}
    limits = [
        Limits(),
        Limits(litres=100.0, within_stock=True),
        Limits(most_peat_share=0.3, most_wet_kg_l=1.2),
        Limits(most_cost_per_l=0.4),
        Limits(must=(keys[1],), never_with=((keys[2], keys[3]),)),
        Limits(dust=("no", "sometimes"), least_years=1.0),
        Limits(bucket_l=15.0, drum_l=62.0),
    ][int(rng.integers(7))]
    return case(
        mix,
        others[0],
        [*keys, *others[1:]][: int(rng.integers(4, 7))],
        CONTAINERS[int(rng.integers(3))],
        stock_l=stock,
        cost_per_l=costs,
        parts=int(rng.integers(3, 6)),
        kinds=int(rng.integers(1, 4)),
        limits=limits,
    )
