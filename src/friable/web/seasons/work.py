"""The work of a season: planned here, done by a process of its own, its state read from its folder.

No page works a season out: the process is begun, and the page looks at what it tells in its folder.
"""

import subprocess
import sys
import time
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from django.conf import settings
from django.utils.translation import gettext as _

from friable.errors import FriableError, Refused, shown
from friable.records.actions import seasons as actions
from friable.records.models import ClimateFile, Season
from friable.web.climates.known import climate_of
from friable.web.seasons.collections import collection_of

if TYPE_CHECKING:
    from friable.planning.season_answer import SeasonAnswer
    from friable.planning.season_plan import SeasonPlan
    from friable.runs.progress import Progress

SEED = 1
KEPT = 4
BEGUN, LOG = "begun", "log.txt"
PATIENCE_S = 120  # until a process that was begun must have told something


def folder_of(season: Season) -> Path:
    """Return where the numbers of a season stand."""
    return settings.DATA_FOLDER / "seasons" / season.folder


def planned(
    title: str, collection: str, climate: ClimateFile | None, built_in: str, weathers: int, draws: int
) -> "SeasonPlan":
    """Plan a season from what was typed.

    Raises
    ------
    FriableError
        If the collection cannot be read, or its pots not stand in that weather.
    """
    from friable.planning.plain_season import plain_year
    from friable.planning.season import plan_season
    from friable.planning.weather_variants import year_of_weathers

    found = climate_of(climate) if climate else plain_year(built_in)
    variants = year_of_weathers(found, weathers, SEED)
    return plan_season(collection_of(collection), variants, draws=draws, name=title)


def begin(season: Season, *, by: str, plan: "SeasonPlan | None" = None) -> Season:
    """Begin the work, or go on with it, in a process of its own.

    Raises
    ------
    Refused
        If another season is being worked out, or the folder cannot be used.
    """
    from friable.runs import season_run

    if is_ending(season):
        raise Refused(_("It is still ending the blocks it was at; wait a little, then go on."))
    other = Season.objects.filter(state="running").exclude(pk=season.pk).first()
    if other is not None and looked_at(other).state == "running":
        raise Refused(
            _("“{title}” is being worked out; wait until it is done, or stop it.").format(
                title=shown(other.title)
            )
        )
    folder = folder_of(season)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not (folder / season_run.PLAN_FILE).exists():
        season_run.keep_plan(folder, plan or _plan_again(season))
    actions.begin_season(season, by=by)
    (folder / BEGUN).touch()
    with (folder / LOG).open("ab") as log:
        subprocess.Popen(  # noqa: S603  # our own program, and a folder that we named
            [sys.executable, "-m", "friable.cli.main", "season", "--resume", str(folder), "--json"],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=log,
            cwd=settings.DATA_FOLDER,
            start_new_session=True,
        )
    return season


def stop(season: Season, *, by: str) -> Season:
    """Ask the work to stop; the blocks it is at are ended and kept."""
    from friable.runs.progress import ask_to_stop

    folder = folder_of(season)
    if folder.exists():
        ask_to_stop(folder)
    return actions.stop_season(season, by=by)


def is_ending(season: Season) -> bool:
    """True while a season that was stopped still ends the blocks it was at."""
    from friable.runs.lock import is_held

    return season.state != "running" and is_held(folder_of(season))


def progress_of(season: Season) -> "Progress | None":
    """Return what the process tells; None before it has told anything since it was begun last."""
    from friable.runs.progress import FILE, read_progress

    folder = folder_of(season)
    try:
        fresh = (folder / FILE).stat().st_mtime >= (folder / BEGUN).stat().st_mtime
    except OSError:
        return None
    return read_progress(folder) if fresh else None


def looked_at(season: Season) -> Season:
    """Return a season whose state is what its folder tells; a change is written down."""
    if season.state == "stopped" and _runs_all_the_same(season):
        return actions.begin_season(season, by=season.asked_by)
    if season.state != "running":
        return season
    told = progress_of(season)
    by = season.asked_by
    try:
        if told is None:
            if _waited_s(season) > PATIENCE_S:
                actions.fail_season(season, by=by, problem=_last_words(season))
        elif told.state == "done":
            actions.end_season(season, by=by)
        elif told.state == "failed":
            actions.fail_season(season, by=by, problem=told.problem)
        elif told.state == "stopped":
            actions.stop_season(season, by=by)
    except FriableError:
        season.refresh_from_db()  # somebody else wrote it down at the same time
    return season


def _runs_all_the_same(season: Season) -> bool:
    """True if a wish to stop came before the process had begun, which then did not hear it."""
    from friable.runs.progress import asked_to_stop

    told = progress_of(season)
    return told is not None and told.state == "running" and not asked_to_stop(folder_of(season))


def answer_of(season: Season) -> "SeasonAnswer | None":
    """Return the numbers of a season that is done; None if its folder does not hold them any more."""
    from friable.runs.answer_file import FILE

    folder = folder_of(season)
    try:
        return _read(folder, (folder / FILE).stat().st_mtime_ns)
    except (FriableError, OSError):
        return None


@lru_cache(maxsize=KEPT)
def _read(folder: Path, _written: int) -> "SeasonAnswer | None":
    from friable.runs.answer_file import read_answer

    return read_answer(folder)


def _plan_again(season: Season) -> "SeasonPlan":
    return planned(
        season.title,
        season.collection,
        season.climate,
        season.built_in_climate,
        season.weathers,
        season.draws,
    )


def _waited_s(season: Season) -> float:
    try:
        return time.time() - (folder_of(season) / BEGUN).stat().st_mtime
    except OSError:
        return float("inf")


def _last_words(season: Season) -> str:
    try:
        lines = (folder_of(season) / LOG).read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        lines = []
    return shown(next((line for line in reversed(lines) if line.strip()), "")) or _("It did not begin.")
