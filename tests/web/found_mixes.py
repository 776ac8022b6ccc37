"""Answers of searches, put together from forecasts of a few recipes: what a page is given to show."""

from dataclasses import fields

from friable.planning.find_values import FindAnswer, Found, Opening
from friable.planning.forecast import forecast
from friable.planning.forecast_values import Figures
from friable.planning.windows import mix_flags
from friable.reference.materials import find_material

RECIPES = [
    ((5, "pine bark nursery"), (1, "sphagnum peat medium"), (1, "perlite coarse")),
    ((3, "pine bark nursery"), (1, "perlite coarse")),
    ((4, "coir pith"), (1, "perlite coarse")),
    ((2, "coir pith"), (1, "pumice 2-4 mm")),
    ((1, "sphagnum peat medium"), (1, "perlite coarse")),
]
COSTS = (0.21, 0.35, None, 0.12, 0.3)


def found(place, container):
    """One recipe in a container, the first with the best chance."""
    parts = tuple((find_material(name), parts) for parts, name in RECIPES[place])
    told = forecast(parts, container)
    return Found(
        parts=parts,
        chance=0.9 - 0.2 * place,
        margin=0.5 - 0.1 * place,
        figures=Figures(**{one.name: getattr(told, one.name) for one in fields(Figures)}),
        cost_per_l=COSTS[place],
        flags=mix_flags(parts),
        tight="air, at its low end",
        account=f"Account of recipe {place + 1}.",
    )


def find(case, *, progress, cancelled):
    """Answer as the search does; where peat must not be, nothing lies within."""
    progress(1234, 1234)
    return answer_of(case)


def answer_of(case):
    """What is found for a case."""
    every = tuple(found(place, case.container) for place in range(len(RECIPES)))
    none = case.limits.most_peat_share == 0
    return FindAnswer(
        considered=1234,
        pruned=34,
        feasible=0 if none else 60,
        chances_of=60,
        draws=256,
        best=() if none else every,
        front=() if none else every[:3],
        nearest=every[:2] if none else (),
        openings=(
            Opening(
                quantity="air_space",
                end="low",
                asked=0.3,
                needed=0.27,
                recipe=every[1].text,
                said="If air were asked from 27 %, not 30 %.",
            ),
        )
        if none
        else (),
        windows=case.windows,
        container=case.container,
        warnings=("The figures of coir pith are wide.",),
    )
