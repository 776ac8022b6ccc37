"""Adding up a season block by block, so that nothing grows with the number of pots."""

from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.collection_values import EVERY_DAYS, ON_NEED
from friable.planning.season_answer import (
    GAPS,
    SECONDS_AN_HOUR,
    DaySeason,
    GroupSeason,
    KindSeason,
    MonthShare,
    SeasonAnswer,
    estimates_over_members,
    over_members,
)
from friable.planning.season_plan import DAYS_A_WEEK, PlannedKind, SeasonPlan
from friable.planning.season_pots import CM3_PER_L, TENTHS, BlockResult
from friable.planning.watering_text import FLOOD, STANDING
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

LITRES, WATERED, HAND_LITRES = 0, 1, 2  # weekly sums of a group
WET, DRY = 0, 1
POTS_TO_WATER = 1  # daily sums of the collection: litres, pots to water, too wet, too dry


class SeasonSums:
    """Sums of a season while its blocks come in, which must be in the order of their numbers."""

    def __init__(self, plan: SeasonPlan) -> None:
        self._plan = plan
        self._next = 0
        dates = plan.dates()
        self._week_starts = np.arange(0, plan.days, DAYS_A_WEEK)
        months = [f"{day:%Y-%m}" for day in dates]
        self._months = list(dict.fromkeys(months))
        self._month_starts = np.array([months.index(month) for month in self._months])
        self._lines_of: list[list[tuple[int, int]]] = [[] for _kind in plan.kinds]
        for line in plan.lines:
            self._lines_of[line.kind].append((line.group, line.count))
        groups, members, weeks = len(plan.groups), plan.members, len(self._week_starts)
        self._weekly = np.zeros((groups, members, weeks, 3))
        self._monthly = np.zeros((groups, members, len(self._months), 2))
        self._daily = np.zeros((members, plan.days, 4))
        shape = (len(plan.kinds), plan.days)
        self._kind_watered = np.zeros(shape, dtype=np.uint16)
        self._kind_litres = np.zeros(shape)
        self._kind_wet, self._kind_dry = np.zeros(shape, dtype=np.uint16), np.zeros(shape, dtype=np.uint16)
        self._next_within = np.zeros((*shape, GAPS), dtype=np.uint16)
        self._handed_over = self._lost = 0

    def add(self, result: BlockResult) -> None:
        """Add one block.

        Raises
        ------
        ValueError
            If it is not the next block of this plan.
        """
        plan = self._plan
        if result.number != self._next or result.plan_mark != plan.mark:
            raise ValueError(f"block {result.number} is not block {self._next} of the plan")
        self._next += 1
        self._handed_over += result.handed_over
        self._lost += result.lost
        numbers = plan.pots_of(result.number)
        first = numbers.start
        while first < numbers.stop:
            kind, member = divmod(first, plan.members)
            last = min(numbers.stop, (kind + 1) * plan.members)
            rows = slice(first - numbers.start, last - numbers.start)
            self._add_kind(kind, slice(member, member + last - first), result, rows)
            first = last

    def _add_kind(self, number: int, members: slice, result: BlockResult, rows: slice) -> None:
        plan, kind = self._plan, self._plan.kinds[number]
        litres = result.watered_cm3[rows].astype(float) / CM3_PER_L
        watered = result.waterings[rows] > 0
        wet = result.wet_tenths[rows] >= TENTHS * plan.too_wet_day_hours
        dry = result.dry_tenths[rows] >= TENTHS * plan.too_dry_day_hours
        to_water = result.waterings[rows].astype(float)
        hand_litres = litres if _hand_pours(kind) else np.zeros_like(litres)
        weekly = np.stack(
            [
                np.add.reduceat(litres, self._week_starts, axis=1),
                np.add.reduceat(to_water if by_hand(kind) else 0 * to_water, self._week_starts, axis=1),
                np.add.reduceat(hand_litres, self._week_starts, axis=1),
            ],
            axis=-1,
        )
        monthly = np.stack(
            [np.add.reduceat(flags.astype(float), self._month_starts, axis=1) for flags in (wet, dry)],
            axis=-1,
        )
        pots = 0
        for group, count in self._lines_of[number]:
            self._weekly[group, members] += count * weekly
            self._monthly[group, members] += count * monthly
            pots += count
        self._daily[members] += pots * np.stack([litres, watered, wet, dry], axis=-1)
        self._kind_watered[number] += watered.sum(axis=0).astype(np.uint16)
        given = np.where(watered, litres, 0.0) if by_hand(kind) else litres
        for of_member in given:  # one by one: the same sum however blocks are cut
            self._kind_litres[number] += of_member
        self._kind_wet[number] += wet.sum(axis=0).astype(np.uint16)
        self._kind_dry[number] += dry.sum(axis=0).astype(np.uint16)
        again = np.zeros_like(watered)
        for gap in range(1, GAPS + 1):
            again[:, :-gap] |= watered[:, gap:]
            self._next_within[number, :, gap - 1] += (watered & again).sum(axis=0).astype(np.uint16)

    def answer(self) -> SeasonAnswer:
        """Return the answer once every block is in.

        Raises
        ------
        ValueError
            If blocks are missing.
        """
        plan = self._plan
        if self._next != plan.blocks:
            raise ValueError(f"{plan.blocks - self._next} blocks are missing")
        hours = self._hours_by_week()
        hands = np.array([by_hand(kind) for kind in plan.kinds])
        times = np.where(hands[:, None], np.maximum(self._kind_watered, 1), plan.members)
        return SeasonAnswer(
            name=plan.name,
            climate=plan.climate,
            mark=plan.mark,
            compared_by=plan.compared_by,
            starts_on=plan.starts_on,
            pots=plan.pots,
            distinct_kinds=len(plan.kinds),
            weathers=plan.weathers,
            draws=plan.draws,
            way=plan.way,
            weeks=tuple(plan.starts_on + timedelta(days=int(day)) for day in self._week_starts),
            groups=self._groups(hours),
            days=self._days(),
            kinds=self._kinds(),
            warnings=tuple(self._warnings()),
            watered=(self._kind_watered / plan.members).astype(np.float32),
            litres_each=(self._kind_litres / times).astype(np.float32),
            wet=(self._kind_wet / plan.members).astype(np.float32),
            dry=(self._kind_dry / plan.members).astype(np.float32),
            next_within=self._next_within,
            watered_in=self._kind_watered,
            member_litres=self._weekly[..., LITRES].sum(axis=0),
            member_hours=hours.sum(axis=0),
        )

    def _hours_by_week(self) -> "Array":
        """Hours of watering by group, member and week: pots, litres poured, and pots passed by. [h]"""
        plan = self._plan
        pot_s, litre_s, look_s = np.tile(plan.work_s.T, plan.weathers)[:, :, None]
        length = np.diff(np.append(self._week_starts, plan.days))
        looked_at = np.zeros(len(plan.groups))
        for line in plan.lines:
            kind = plan.kinds[line.kind]
            if kind.habit.by == ON_NEED and by_hand(kind):
                looked_at[line.group] += line.count
        hours = np.empty(self._weekly.shape[:3])
        for group in range(len(plan.groups)):
            sums = self._weekly[group]
            seconds = pot_s * sums[..., WATERED] + litre_s * sums[..., HAND_LITRES]
            seconds = seconds + look_s * looked_at[group] * length
            hours[group] = seconds / SECONDS_AN_HOUR
        return hours

    def _groups(self, hours: "Array") -> tuple[GroupSeason, ...]:
        plan = self._plan
        month_days = np.diff(np.append(self._month_starts, plan.days))
        found = []
        for group, name in enumerate(plan.groups):
            pots = sum(line.count for line in plan.lines if line.group == group)
            sums = self._monthly[group]
            whole = sums.sum(axis=1) / (pots * plan.days)
            monthly = sums / (pots * month_days)[:, None]
            wet, dry = (estimates_over_members(monthly[..., which]) for which in (WET, DRY))
            found.append(
                GroupSeason(
                    name=name,
                    pots=pots,
                    too_wet=over_members(whole[:, WET]),
                    too_dry=over_members(whole[:, DRY]),
                    litres_by_week=estimates_over_members(self._weekly[group, :, :, LITRES]),
                    hours_by_week=estimates_over_members(hours[group]),
                    by_month=tuple(
                        MonthShare(month, w, d) for month, w, d in zip(self._months, wet, dry, strict=True)
                    ),
                )
            )
        return tuple(found)

    def _days(self) -> tuple[DaySeason, ...]:
        pots = self._plan.pots
        figures = [
            estimates_over_members(self._daily[..., place] / (1 if place <= POTS_TO_WATER else pots))
            for place in range(4)
        ]
        return tuple(
            DaySeason(day, *of_day) for day, *of_day in zip(self._plan.dates(), *figures, strict=True)
        )

    def _kinds(self) -> tuple[KindSeason, ...]:
        plan = self._plan
        runs = plan.members * plan.days
        found = []
        for line in plan.lines:
            kind = plan.kinds[line.kind]
            found.append(
                KindSeason(
                    kind=line.kind,
                    group=plan.groups[line.group],
                    mix=kind.mix,
                    container=kind.container_said,
                    plant=kind.plant,
                    place=kind.place,
                    watering=kind.watering,
                    count=line.count,
                    by_hand=by_hand(kind),
                    topped_up=kind.habit.base.kind == STANDING,
                    too_wet=float(self._kind_wet[line.kind].sum() / runs),
                    too_dry=float(self._kind_dry[line.kind].sum() / runs),
                )
            )
        return tuple(found)

    def _warnings(self) -> list[str]:
        said = []
        if self._lost:
            said.append(
                _(
                    "{count} of {all} pots could not be worked out to the end; their last days are empty."
                ).format(count=f"{self._lost:,}", all=f"{self._plan.pots_to_run:,}")
            )
        if self._handed_over:
            said.append(
                _("{count} of {all} pots were worked out by the slower, more careful method.").format(
                    count=f"{self._handed_over:,}", all=f"{self._plan.pots_to_run:,}"
                )
            )
        return said


def by_hand(kind: PlannedKind) -> bool:
    """Say whether somebody waters pots of this kind from above."""
    habit = kind.habit
    return habit.by in (ON_NEED, EVERY_DAYS) and habit.base.kind != FLOOD


def _hand_pours(kind: PlannedKind) -> bool:
    """Whether somebody carries its water: from above, or into the tray it stands in."""
    return by_hand(kind) or kind.habit.base.kind == STANDING
