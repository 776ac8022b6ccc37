"""A season of a collection: planned, run in blocks in any order, and added up.

    plan = plan_season(collection, climates, draws=16)
    results = (run_block(block_work(plan, number)) for number in range(plan.blocks))
    answer = summary(plan, results)

`friable.runs` does the middle line over processes or a cluster, and keeps what is done.
"""

from collections.abc import Iterable

from friable.planning.season_answer import SeasonAnswer
from friable.planning.season_difference import SeasonDifference, difference
from friable.planning.season_plan import SeasonPlan
from friable.planning.season_planning import plan_season
from friable.planning.season_pots import BlockResult, BlockWork, block_work, run_block
from friable.planning.season_sums import SeasonSums

__all__ = [
    "BlockResult", "BlockWork", "SeasonAnswer", "SeasonDifference", "SeasonPlan", "block_work",
    "difference", "plan_season", "run_block", "summary",
]  # fmt: skip


def summary(plan: SeasonPlan, results: Iterable[BlockResult]) -> SeasonAnswer:
    """Return the answer of a season from the results of its blocks, in the order of their numbers.

    Raises
    ------
    ValueError
        If a block is missing or of another plan.
    """
    sums = SeasonSums(plan)
    for result in results:
        sums.add(result)
    return sums.answer()
