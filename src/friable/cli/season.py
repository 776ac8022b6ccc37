"""`friable season`: a whole collection through a season; it can be stopped and gone on with."""

import re
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.cli.season_progress import Told
from friable.cli.typed_files import read_bytes
from friable.cli.water import say_preparing
from friable.errors import BadFile, BadText, FriableError
from friable.wording import gettext as _

if TYPE_CHECKING:
    from datetime import date

    from friable.planning.climate import Climate
    from friable.planning.season_answer import SeasonAnswer
    from friable.runs.season_run import Open

MOST_COLLECTION_BYTES = 8_000_000
LARGEST_NUMBER = 100_000
SEED = 1
STOPPED = 130
WEEKEND_DAYS = 2
LONGEST_PATH = 4_000
ADDRESS = re.compile(r"(?:(?:tcp|tls|ws|wss)://)?[\w.\-\[\]:]+:[0-9]{1,5}")


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="season", help=_("A collection through a season: water, work, too wet, too dry."))(
        season
    )


@refusing
def season(
    collection: Annotated[
        str,
        typer.Argument(help=_("A collection as CSV: mix, container, count and more; - for standard input.")),
    ] = "",
    climate: Annotated[
        str,
        typer.Option(
            help=_("A logger's CSV, an EnergyPlus weather file, or a house such as “cold glasshouse”.")
        ),
    ] = "",
    scenarios: Annotated[str, typer.Option(help=_("How many weathers are made of the record."))] = "3",
    draws: Annotated[str, typer.Option(help=_("How often the ranges are drawn."))] = "16",
    workers: Annotated[str, typer.Option(help=_("Processes of this machine; without: one a core."))] = "",
    cluster: Annotated[str, typer.Option(help=_("Address of a Dask scheduler instead."))] = "",
    folder: Annotated[str, typer.Option(help=_("Where to keep it, to go on with it later."))] = "",
    resume: Annotated[str, typer.Option(help=_("Go on with the season in this folder."))] = "",
    way: Annotated[str, typer.Option(help=_("How pots are watered: hose or can."))] = "hose",
    weekend: Annotated[str, typer.Option(help=_("Who must be watered on this day and the next."))] = "",
    watered_on: Annotated[
        str, typer.Option(help=_("The day before it on which all pots were looked at and watered."))
    ] = "",
    door_sheet: Annotated[str, typer.Option(help=_("Write that as a PDF to put on the door."))] = "",
    columns: Annotated[
        str, typer.Option(help=_("Which column of a logger's CSV is which: “time=…, temperature=…”."))
    ] = "",
    glass: Annotated[str, typer.Option(help=_("Whether the weather file is of a house: yes or no."))] = "",
    light: Annotated[str, typer.Option(help=_("Share of the light outside that reaches the pots."))] = "",
    latitude: Annotated[str, typer.Option(help=_("Of a logger without light, such as 51.5."))] = "",
    plain_progress: Annotated[
        bool, typer.Option("--plain-progress", help=_("Tell progress line by line."))
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Work out a season, or go on with one."""
    from tempfile import mkdtemp

    first, watered = _days(weekend, watered_on, door_sheet)
    opened = _workers(workers, cluster)
    folder, resume = _path(folder, "--folder"), _path(resume, "--resume")
    door_sheet = _path(door_sheet, "--door-sheet")
    if resume:
        _refuse_beside_resume({"COLLECTION": collection, "--climate": climate, "--folder": folder})
        place, ours = Path(resume), False
    else:
        plan = _planned(
            collection,
            climate,
            _number(scenarios, "--scenarios"),
            _number(draws, "--draws"),
            way,
            columns=columns,
            glass=glass,
            light=light,
            latitude=latitude,
        )
        from friable.runs.season_run import keep_plan

        place, ours = (Path(folder), False) if folder else (Path(mkdtemp(prefix="friable-season-")), True)
        keep_plan(place, plan)
    try:
        answer = _run(place, opened, Told(plain_progress))
    except KeyboardInterrupt:
        answer = None
    except FriableError:
        if ours and not any(place.glob("blocks/*.npz")):
            _take_away(place)
        raise
    if answer is None:
        sys.stderr.write(
            _("Stopped; what is done is kept. Go on with: friable season --resume {folder}").format(
                folder=place
            )
            + "\n"
        )
        raise typer.Exit(STOPPED)
    if ours:
        _take_away(place)
    _tell(answer, first, watered, door_sheet, as_json)


def _take_away(folder: Path) -> None:
    """Remove a folder that was only for this run."""
    from shutil import rmtree

    rmtree(folder, ignore_errors=True)


def _tell(
    answer: "SeasonAnswer", first: "date | None", watered: "date | None", door_sheet: str, as_json: bool
) -> None:
    """Print the answer, and write the door sheet if one is wanted."""
    from datetime import timedelta

    lines: dict[date, Any] = {}
    if first is not None:
        from friable.sheets.season_door import lines_for, season_door_sheet

        last = first + timedelta(days=WEEKEND_DAYS - 1)
        lines = lines_for(answer, first, last, watered)
        if door_sheet:
            from friable.sheets.door_sheet import door_sheet_pdf

            _write(
                Path(door_sheet), door_sheet_pdf(season_door_sheet(answer, answer.name, first, last, watered))
            )
    if as_json:
        told = {
            day.isoformat(): [{**one.to_json(), "day": day.isoformat()} for one in those]
            for day, those in lines.items()
        }
        print_json({**answer.to_json(), **({"weekend": told} if lines else {})})
        return
    from friable.cli.season_printed import season_lines

    print_lines(season_lines(answer, lines))
    if door_sheet:
        print_lines(["", _("The door sheet is in {file}.").format(file=door_sheet)])


def _planned(collection: str, climate: str, scenarios: int, draws: int, way: str, **of_file: str) -> Any:
    """Return the plan of a season from what was typed."""
    from friable.cli.names_here import find_material, find_mix, read_container
    from friable.cli.weather_typed import read_climate
    from friable.planning.collection import read_collection
    from friable.planning.season import plan_season
    from friable.planning.weather_variants import year_of_weathers

    if not collection:
        raise BadFile(_("No collection is given; name a CSV file whose first line is mix,container,count."))
    if not climate:
        raise BadText(
            "--climate", "", _("is empty"), _("Name a weather file, or a house such as “cold glasshouse”.")
        )
    text = _text_of(read_bytes(collection, _("collection"), MOST_COLLECTION_BYTES))
    pots = read_collection(
        text, read_container=read_container, find_material=find_material, stored_mix=find_mix
    )
    weather = read_climate(climate, _year_of, **of_file)
    name = Path(collection).stem if collection != "-" else ""
    return plan_season(pots, year_of_weathers(weather, scenarios, SEED), draws=draws, way=way, name=name[:80])


def _year_of(name: str) -> "Climate":
    from friable.planning.plain_season import plain_year

    return plain_year(name)


def _text_of(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadFile(_("The collection is not text in UTF-8; save it as such.")) from None


def _run(folder: Path, workers: "Open", told: Told) -> "SeasonAnswer | None":
    """Work out what is in a folder; Ctrl-C lets the blocks end that are being worked at."""
    from friable.runs.season_run import run_season
    from friable.science.compiled_code import first_use

    with first_use("pot", say_preparing), _stopping_softly(folder):
        answer = run_season(folder, workers, told=told)
    told.end()
    return answer


@contextmanager
def _stopping_softly(folder: Path) -> Iterator[None]:
    """Let the first Ctrl-C, or the wish to end, stop the season after its blocks; the second one at once."""
    from friable.runs.progress import ask_to_stop

    asked = False

    def stop(_number: int, _frame: object) -> None:
        nonlocal asked
        if asked:
            raise KeyboardInterrupt
        asked = True
        ask_to_stop(folder)
        sys.stderr.write(
            "\n" + _("Stopping after the blocks that are at work; Ctrl-C again stops at once.") + "\n"
        )

    before = {number: signal.signal(number, stop) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _workers(workers: str, cluster: str) -> "Open":
    from functools import partial

    from friable.planning.typed_text import one_cell
    from friable.runs import executors

    if cluster:
        if workers:
            raise BadText("--workers", workers, _("stands beside --cluster"), _("Give one of the two."))
        address = one_cell(cluster, "--cluster")
        if not ADDRESS.fullmatch(address):
            raise BadText("--cluster", cluster, _("is no address"), _("Write it as tcp://192.0.2.7:8786."))
        return partial(executors.cluster, address)
    count = _number(workers, "--workers") if workers else None
    if count is not None and count > executors.MOST_WORKERS:
        raise BadText(
            "--workers",
            workers,
            _("is too large"),
            _("Give at most {most}.").format(most=executors.MOST_WORKERS),
        )
    return partial(executors.local, count)


def _path(text: str, option: str) -> str:
    """Return a path that can be one; nothing stays nothing."""
    from friable.planning.typed_text import plain

    return plain(text, option, LONGEST_PATH) if text else ""


def _number(text: str, option: str) -> int:
    """Return a whole number above 0."""
    from friable.planning.typed_text import leading_number, one_cell

    number, rest = leading_number(one_cell(text, option), option, "3")
    if rest or number.denominator != 1 or not 1 <= number <= LARGEST_NUMBER:
        raise BadText(option, text, _("is no whole number above 0"), _("Give one such as 3."))
    return int(number)


def _days(weekend: str, watered_on: str, door_sheet: str) -> "tuple[date | None, date | None]":
    from friable.cli.weather_typed import read_date

    for option, text in (("--watered-on", watered_on), ("--door-sheet", door_sheet)):
        if text and not weekend:
            raise BadText(option, text, _("belongs to --weekend"), _("Name its first day, or leave it out."))
    return (
        read_date(weekend, "--weekend") if weekend else None,
        read_date(watered_on, "--watered-on") if watered_on else None,
    )


def _refuse_beside_resume(options: dict[str, str]) -> None:
    for option, text in options.items():
        if text:
            raise BadText(
                option, text, _("stands beside --resume, whose folder holds all of it"), _("Leave it out.")
            )


def _write(path: Path, content: bytes) -> None:
    try:
        path.write_bytes(content)
    except OSError as problem:
        raise BadFile(
            _("{file} cannot be written ({reason}); name another file.").format(
                file=path, reason=problem.strerror
            )
        ) from None
