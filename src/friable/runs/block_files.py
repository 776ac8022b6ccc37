"""The blocks of a season on disk: one file each."""

from pathlib import Path
from typing import Any

import numpy as np

from friable.errors import BadFile
from friable.planning.season_plan import SeasonPlan
from friable.planning.season_pots import BlockResult
from friable.runs.arrays import read_arrays, write_arrays

FOLDER = "blocks"
DAILY = {
    "watered_cm3": np.float32,
    "wet_tenths": np.uint8,
    "dry_tenths": np.uint8,
    "waterings": np.uint8,
}


def block_file(folder: Path, number: int) -> Path:
    """Return where a block stands."""
    return folder / FOLDER / f"{number:06d}.npz"


def write_block(folder: Path, result: BlockResult) -> None:
    """Write one block, whole or not at all.

    Raises
    ------
    NoRoom, Refused
    """
    facts: dict[str, Any] = {
        "number": result.number,
        "plan_mark": result.plan_mark,
        "handed_over": result.handed_over,
        "lost": result.lost,
    }
    arrays = {name: getattr(result, name) for name in (*DAILY, "ran_through_cm3")}
    write_arrays(block_file(folder, result.number), facts, arrays)


def read_block(folder: Path, plan: SeasonPlan, number: int) -> BlockResult | None:
    """Return one block of a plan; None if it is not there, torn, or another plan's."""
    try:
        facts, arrays = read_arrays(block_file(folder, number))
        if (facts["number"], facts["plan_mark"]) != (number, plan.mark):
            return None
        pots = len(plan.pots_of(number))
        whole = all(
            arrays[name].shape == (pots, plan.days) and arrays[name].dtype == kind
            for name, kind in DAILY.items()
        )
        if not whole or arrays["ran_through_cm3"].shape != (pots,):
            return None
        return BlockResult(
            number=number,
            plan_mark=plan.mark,
            handed_over=int(facts["handed_over"]),
            lost=int(facts["lost"]),
            **arrays,
        )
    except (FileNotFoundError, BadFile, KeyError, TypeError):
        return None
