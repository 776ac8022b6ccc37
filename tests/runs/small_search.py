"""Searches small enough for a test: one that counts until it is stopped, one that refuses, one that breaks.

Run as the real worker is: `python -m tests.runs.small_search FOLDER`.
"""

import sys
import time

from friable.errors import BadRecipe, FriableError
from friable.runs import search_worker


class CalledOff(FriableError):
    """The search saw that it was called off."""


def count(case, *, progress, cancelled):
    """Count to a number, a hundredth of a second each."""
    for done in range(case):
        if cancelled():
            raise CalledOff("called off")
        progress(done, case)
        time.sleep(0.01)
    return {"counted": case}


def refuse(case, *, progress, cancelled):
    """Refuse in a sentence."""
    raise BadRecipe(f"{case} cannot be; take another.")


def break_off(case, *, progress, cancelled):
    """Fail by a mistake."""
    raise ZeroDivisionError(case)


def no_memory(case, *, progress, cancelled):
    """Ask for too much."""
    raise MemoryError


ENGINES = {"count": count, "refuse": refuse, "break": break_off, "memory": no_memory}

if __name__ == "__main__":
    raise SystemExit(search_worker.main(sys.argv[1], ENGINES))
