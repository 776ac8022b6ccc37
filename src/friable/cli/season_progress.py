"""How far a season is, told on standard error: one line that changes, or line by line."""

import sys
import time
from typing import TYPE_CHECKING

from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.runs.progress import Progress

EVERY_S = 30.0  # line by line
EVERY_SHARE = 0.1
A_MINUTE, AN_HOUR = 60.0, 3600.0
WIDTH = 78


class Told:
    """Tells progress; to be called with it."""

    def __init__(self, plain: bool) -> None:
        self._changing = sys.stderr.isatty() and not plain
        self._said = False
        self._last_share, self._last_time = -1.0, 0.0

    def __call__(self, progress: "Progress") -> None:
        if not progress.workers:
            return  # nobody works yet: what is wrong is said alone
        if not self._said:
            self._said = True
            self._write(
                _(
                    "{pots:,} pots in {kinds:,} kinds: {pot_days:,} pot-days in {blocks:,} blocks, {done:,} "
                    "of them done."
                ).format(
                    pots=progress.pots,
                    kinds=progress.distinct_kinds,
                    pot_days=progress.pot_days,
                    blocks=progress.blocks,
                    done=progress.done,
                )
                + "\n"
            )
        if progress.state != "running" or not progress.blocks:
            return
        now, share = time.monotonic(), progress.done / progress.blocks
        if self._changing:
            self._write("\r" + _so_far(progress).ljust(WIDTH)[:WIDTH])
        elif share >= self._last_share + EVERY_SHARE or now >= self._last_time + EVERY_S:
            self._last_share, self._last_time = share, now
            self._write(_so_far(progress) + "\n")

    def end(self) -> None:
        """Leave the line that changes."""
        if self._changing and self._said:
            self._write("\r" + " " * WIDTH + "\r")

    def _write(self, text: str) -> None:
        sys.stderr.write(text)
        sys.stderr.flush()


def _so_far(progress: "Progress") -> str:
    said = _("{share} %, {done:,} of {blocks:,} blocks").format(
        share=100 * progress.done // progress.blocks, done=progress.done, blocks=progress.blocks
    )
    if progress.redone:
        said += _(", {count} begun again").format(count=progress.redone)
    if progress.seconds_left is not None and progress.done < progress.blocks:
        said += _(", about {time} left").format(time=in_words(progress.seconds_left))
    return said


def in_words(seconds: float) -> str:
    """Return a time as one says it."""
    if seconds < 2 * A_MINUTE:
        return _("{count} s").format(count=round(seconds))
    if seconds < 2 * AN_HOUR:
        return _("{count} min").format(count=round(seconds / A_MINUTE))
    return _("{count} h").format(count=round(seconds / AN_HOUR))
