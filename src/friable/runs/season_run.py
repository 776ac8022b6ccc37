"""Working out a season: its blocks given out to workers, kept one by one, and added up at the end."""

from collections import Counter, deque
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from contextlib import AbstractContextManager
from pathlib import Path

from friable.errors import BadFile, FriableError, Refused, shown
from friable.planning.season_answer import SeasonAnswer
from friable.planning.season_plan import SeasonPlan, plan_of_parts
from friable.planning.season_pots import BlockResult, Solve, block_work
from friable.planning.season_sums import SeasonSums
from friable.runs import block_files, progress
from friable.runs.answer_file import read_answer, write_answer
from friable.runs.arrays import read_arrays, write_arrays
from friable.runs.block_files import read_block, write_block
from friable.runs.disk import clear_halves, room_said
from friable.runs.executors import Workers, local, worker_was_lost
from friable.runs.lock import held
from friable.runs.progress import Progress, Reporter
from friable.runs.worker import work_out
from friable.wording import gettext as _

PLAN_FILE = "plan.npz"
LOOKED_AT_EVERY_S = 0.25
TRIES = 3  # of a block whose worker is lost each time
READ_AGAIN = 3

Told = Callable[[Progress], None]
Open = Callable[[], AbstractContextManager[Workers]]


def keep_plan(folder: Path, plan: SeasonPlan) -> None:
    """Give a folder to a season; one that has it already is left as it is.

    Raises
    ------
    Refused
        If the folder holds another season, or other things.
    """
    with room_said(folder):
        (folder / block_files.FOLDER).mkdir(parents=True, exist_ok=True)
    if (folder / PLAN_FILE).exists():
        kept = read_plan(folder)
        if kept.mark != plan.mark:
            raise Refused(
                _(
                    "{folder} holds another season (“{name}”, {pots} pots); go on with that one, or choose "
                    "an empty folder."
                ).format(folder=shown(folder), name=shown(kept.name), pots=f"{kept.pots:,}")
            )
        return
    if any((folder / block_files.FOLDER).glob("*.npz")):
        raise Refused(
            _("{folder} holds blocks of a season whose plan is gone; choose an empty folder.").format(
                folder=shown(folder)
            )
        )
    write_arrays(folder / PLAN_FILE, *plan.parts())


def read_plan(folder: Path) -> SeasonPlan:
    """Return the plan of the season in a folder.

    Raises
    ------
    Refused
        If there is none.
    BadFile
        If it is damaged.
    """
    try:
        return plan_of_parts(*read_arrays(folder / PLAN_FILE))
    except FileNotFoundError:
        raise Refused(_("There is no season in {folder}.").format(folder=shown(folder))) from None
    except BadFile:
        raise BadFile(
            _("The plan of the season in {folder} is damaged; plan it again in a new folder.").format(
                folder=shown(folder)
            )
        ) from None


def run_season(
    folder: Path,
    workers: Open = local,
    *,
    solve: Solve | None = None,
    told: Told | None = None,
) -> SeasonAnswer | None:
    """Work out the season in a folder, or go on with it; what is done already is not done again.

    Parameters
    ----------
    folder : Path
        That `keep_plan` was given.
    workers : callable
        Opens an executor: `partial(executors.local, 2)` or `partial(executors.cluster, address)`; by default
        processes of this machine.
    solve : callable, optional
        See `run_block`; a function that workers can import.
    told : callable, optional
        Gets the progress whenever a block ends.

    Returns
    -------
    SeasonAnswer or None
        None if somebody asked it to stop (`progress.ask_to_stop`).

    Raises
    ------
    Refused
        If another run works in the folder, the disk is full, or a block loses its worker every time.
    """
    plan = read_plan(folder)
    with held(folder):
        answer = _answer_of(folder, plan)
        if answer is not None:
            return answer
        progress.forget_stop(folder)
        clear_halves(folder)
        clear_halves(folder / block_files.FOLDER)
        run = _Run(folder, plan, solve, told)
        return run.to_the_end(workers)


def _answer_of(folder: Path, plan: SeasonPlan) -> SeasonAnswer | None:
    try:
        answer = read_answer(folder)
    except BadFile:
        return None  # the blocks are there: it is added up again
    return answer if answer is not None and answer.mark == plan.mark else None


class _Run:
    """One run of a season."""

    def __init__(self, folder: Path, plan: SeasonPlan, solve: Solve | None, told: Told | None) -> None:
        self.folder, self.plan, self.solve, self.told = folder, plan, solve, told
        self.missing, torn = self._missing()
        self.reporter = Reporter(
            folder,
            Progress(
                state=progress.RUNNING,
                name=plan.name,
                pots=plan.pots,
                distinct_kinds=len(plan.kinds),
                pot_days=plan.pots_to_run * plan.days,
                blocks=plan.blocks,
                done=plan.blocks - len(self.missing),
                torn=torn,
            ),
        )

    def to_the_end(self, workers: Open) -> SeasonAnswer | None:
        """Have what is missing worked out and add up; None if somebody asked to stop."""
        try:
            for _reading in range(READ_AGAIN):
                if self.missing:
                    with workers() as open_workers:
                        self._tell(workers=open_workers.count)
                        if not self._run(open_workers):
                            self._tell(state=progress.STOPPED, force=True)
                            return None
                answer = self._added_up()
                if answer is not None:
                    write_answer(self.folder, answer)
                    self._tell(state=progress.DONE, force=True)
                    return answer
            raise Refused(
                _("{folder} loses what is written to it; choose a folder on another disk.").format(
                    folder=shown(self.folder)
                )
            )
        except FriableError as problem:
            self._tell(state=progress.FAILED, problem=str(problem), force=True)
            raise
        except BaseException as problem:
            state = progress.STOPPED if isinstance(problem, KeyboardInterrupt) else progress.FAILED
            said = "" if state == progress.STOPPED else f"{type(problem).__name__}: {problem}"
            self._tell(state=state, problem=said, force=True)
            raise

    def _missing(self) -> tuple[list[int], int]:
        """Return the blocks that are not there whole, and how many of them were torn."""
        missing, torn = [], 0
        for number in range(self.plan.blocks):
            if read_block(self.folder, self.plan, number) is None:
                missing.append(number)
                torn += block_files.block_file(self.folder, number).exists()
        return missing, torn

    def _run(self, workers: Workers) -> bool:
        """Have the missing blocks worked out; False if somebody asked to stop."""
        waiting, given = deque(self.missing), dict[Future[BlockResult], int]()
        lost: Counter[int] = Counter()
        stopping = False
        while given or (waiting and not stopping):
            if not stopping and progress.asked_to_stop(self.folder):
                stopping = True
                given = {future: number for future, number in given.items() if not future.cancel()}
            self._give(workers, waiting if not stopping else deque(), given)
            ended, _going = wait(given, timeout=LOOKED_AT_EVERY_S, return_when=FIRST_COMPLETED)
            results = []
            for future in ended:
                number = given.pop(future)
                problem = future.exception() if not future.cancelled() else None
                if future.cancelled() or (problem is not None and worker_was_lost(problem)):
                    lost[number] += 1
                    self._again(number, lost[number], waiting)
                elif problem is not None:
                    for other in given:
                        other.cancel()
                    raise problem
                else:
                    results.append(future.result())
            self._give(workers, waiting if not stopping else deque(), given)
            for result in results:
                write_block(self.folder, result)
                self.missing.remove(result.number)
                self._tell(done=self.plan.blocks - len(self.missing))
            self._tell()
        return not self.missing

    def _give(self, workers: Workers, waiting: "deque[int]", given: "dict[Future[BlockResult], int]") -> None:
        while waiting and len(given) < workers.window:
            number = waiting.popleft()
            given[workers.executor.submit(work_out, block_work(self.plan, number), self.solve)] = number

    def _again(self, number: int, times: int, waiting: "deque[int]") -> None:
        if times >= TRIES:
            raise Refused(
                _(
                    "Block {number} of the season lost its worker {times} times, which happens when memory "
                    "runs out; what was worked out so far is kept. Go on with fewer workers."
                ).format(number=number, times=times)
            )
        self._tell(redone=self.reporter.now.redone + 1)
        waiting.appendleft(number)

    def _added_up(self) -> SeasonAnswer | None:
        """Return the answer, or None if a block went bad meanwhile; it is missing again."""
        sums = SeasonSums(self.plan)
        for number, result in self._results():
            if result is None:
                self.missing.append(number)
            elif not self.missing:
                sums.add(result)
        return None if self.missing else sums.answer()

    def _results(self) -> Iterator[tuple[int, BlockResult | None]]:
        for number in range(self.plan.blocks):
            yield number, read_block(self.folder, self.plan, number)

    def _tell(self, *, force: bool = False, **changes: object) -> None:
        self.reporter.tell(force=force, **changes)
        if self.told is not None:
            self.told(self.reporter.now)
