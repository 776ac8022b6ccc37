"""The fewest mixes that keep a collection: the smallest set in which every group stands within its window.

The candidates are the mixes in use, those that are given, and recipes of what is at hand that suit a group
best, or several at once (`planning.fewest_recipes`). What is chosen among them is exact
(`planning.fewest_cover`); a mix that nobody named and no search brought up is not among them.
"""

import math
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning.fewest_candidates import candidates_of, fits
from friable.planning.fewest_card import mix_key
from friable.planning.fewest_cover import Cover, CoverCase, smallest_cover
from friable.planning.fewest_left import Leaving
from friable.planning.fewest_said import proof_said, reading_of, remarks_of, warnings_of
from friable.planning.fewest_values import (
    FOUND,
    GIVEN,
    PRESENT,
    Candidate,
    FewestAnswer,
    FewestCase,
    Fit,
    KeptMix,
    Left,
    Proof,
    Served,
    Stand,
)
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.fewest_candidates import Judge
    from friable.planning.fewest_recipes import Sought
    from friable.planning.find_values import FindAnswer


@dataclass(frozen=True, slots=True)
class _Pots:
    """Pots of one stand on one present mix: the place of the stand, that of the mix, and how many."""

    stand: int
    present: int | None
    count: int


@dataclass(frozen=True, slots=True)
class _AllLeft:
    """Pots that are left on their mix, by the reason why."""

    no_window: tuple[Left, ...]
    no_figure: tuple[Left, ...]
    cannot: tuple[Left, ...]

    @property
    def all(self) -> tuple[Left, ...]:
        return (*self.no_window, *self.no_figure, *self.cannot)


def fewest(
    case: FewestCase,
    *,
    seeker: "Callable[..., Sought] | None" = None,
    finder: "Callable[..., FindAnswer] | None" = None,
    judge: "Judge | None" = None,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> FewestAnswer:
    """Return the fewest mixes that keep every group that has a window within it, in its container.

    Left on their present mix are groups without a window, groups of which nothing is asked of air, water or
    weight (nobody knows whether they could stand another mix), and groups that no candidate keeps. These
    mixes stay, and serve others where they can.

    Parameters
    ----------
    case : FewestCase
    seeker : callable, optional
        From the case to recipes of what is at hand; by default `planning.fewest_recipes.sought`.
    finder : callable, optional
        From a `FindCase` to a `FindAnswer`, asked for stands that nothing keeps; by default
        `planning.find.find`.
    judge : callable, optional
        From mix and stand to a `Fit`; by default by `planning.chances`.
    progress, cancelled : callable, optional
        Told how far it is (done, of all); asked whether to stop.

    Raises
    ------
    BadQuantity
        If the least chance is not above 0 and at most 1.
    Cancelled
        If it was stopped.
    """
    if not 0 < case.least_chance <= 1:
        raise BadQuantity(
            _("the least chance"),
            case.least_chance,
            "",
            _("above 0 and at most 1 (that is, more than 0 % to 100 %)"),
        )
    from friable.planning.fewest_judged import judge_by_chances
    from friable.planning.fewest_recipes import sought

    judge = judge or judge_by_chances(case.at_hand)
    began = time.monotonic()
    found = (seeker or sought)(case, progress=progress, cancelled=cancelled)
    known = candidates_of(case, found.recipes)
    judged = fits(case, tuple(known.values()), judge, cancelled)
    candidates = tuple(candidate for candidate, _recipe in known.values())
    choosing = _Choosing(case, candidates, judged, judge)
    leaving = Leaving(case, candidates, judged, judge, finder, found.refused, cancelled)
    return choosing.answer(leaving, began)


class _Choosing:
    """Chooses among the candidates, and tells what was chosen."""

    def __init__(
        self,
        case: FewestCase,
        candidates: tuple[Candidate, ...],
        judged: Mapping[int, Sequence[Fit]],
        judge: "Judge",
    ) -> None:
        self.case, self.candidates, self.judged, self.judge = case, candidates, judged, judge
        place_of = {mix_key(one.mix): place for place, one in enumerate(candidates)}
        counts: dict[tuple[int, int | None], int] = {}
        for line in case.stands.lines:
            key = line.stand, None if line.mix is None else place_of[mix_key(line.mix)]
            counts[key] = counts.get(key, 0) + line.count
        self.pots = [_Pots(stand, present, count) for (stand, present), count in counts.items()]

    def answer(self, leaving: Leaving, began: float) -> FewestAnswer:
        able = {
            stand: any(fit.serves(self.case.least_chance) for fit in of_stand)
            for stand, of_stand in self.judged.items()
        }
        asking = {n for n, stand in enumerate(self.case.stands.stands) if stand.asks_of_pot}
        served = [one for one in self.pots if one.stand in asking and able[one.stand]]
        kept_by_none = [one for one in self.pots if one.stand in asking and not able[one.stand]]
        nameless = [one for one in self.pots if one.stand not in self.judged]
        blind = [one for one in self.pots if one.stand in self.judged and one.stand not in asking]
        cover = self._cover(served, [*nameless, *blind, *kept_by_none])
        ends = [self._served(one, end) for one, end in zip(served, cover.serving, strict=True)]
        left = _AllLeft(
            no_window=tuple(Left(*one) for one in self._by_stand(nameless)),
            no_figure=self._without_figure(blind),
            cannot=tuple(leaving.left(*one) for one in self._by_stand(kept_by_none)),
        )
        return self._told(cover, ends, left, began)

    def _without_figure(self, pots: Sequence[_Pots]) -> tuple[Left, ...]:
        """Return pots of which nothing is asked of air and water, and what their mixes do not hold."""
        found = []
        for stand, count, mixes in self._by_stand(pots):
            of_stand = self.judged[self.case.stands.stands.index(stand)]
            why = tuple(
                _("{mix}: {verdict}").format(mix=candidate.name, verdict=verdict)
                for candidate, fit in zip(self.candidates, of_stand, strict=True)
                for verdict in fit.outside
                if candidate.name in mixes
            )
            found.append(Left(stand, count, mixes, why=why))
        return tuple(found)

    def _by_stand(self, left: Sequence[_Pots]) -> list[tuple[Stand, int, tuple[str, ...]]]:
        """Return each stand that is left, its pots, and what they stand in."""
        found = []
        for place in dict.fromkeys(one.stand for one in left):
            here = [one for one in left if one.stand == place]
            mixes = tuple(self.candidates[one.present].name for one in here if one.present is not None)
            found.append((self.case.stands.stands[place], sum(one.count for one in here), mixes))
        return found

    @staticmethod
    def _names_of(left: "_AllLeft") -> set[str]:
        return {name for one in left.all for name in one.mixes}

    def _cover(self, served: Sequence[_Pots], left: Sequence[_Pots]) -> Cover:
        chances = np.full((len(self.candidates), len(served)), math.nan)
        for line, one in enumerate(served):
            for place, fit in enumerate(self.judged[one.stand]):
                if fit.chance is not None and fit.serves(self.case.least_chance):
                    chances[place, line] = fit.chance
        return smallest_cover(
            CoverCase(
                names=tuple(one.name for one in self.candidates),
                chances=chances,
                pots=tuple(one.count for one in served),
                present=tuple(one.present for one in served),
                must=frozenset(one.present for one in left if one.present is not None),
            ),
            longest_s=self.case.longest_s,
        )

    def _served(self, one: _Pots, end: int) -> Served:
        stand, candidate = self.case.stands.stands[one.stand], self.candidates[end]
        fit = self.judged[one.stand][end]
        if not fit.figures:  # of a recipe that was found only the chance is known so far
            fit = replace(self.judge(candidate.mix, stand), chance=fit.chance)
        before = None if one.present is None else self.judged[one.stand][one.present]
        return Served(
            stand=stand,
            pots=one.count,
            before="" if one.present is None else self.candidates[one.present].name,
            mix=candidate.name,
            chance=fit.chance or 0.0,
            figures=fit.figures,
            before_chance=None if before is None else before.chance,
            why_not_before=() if before is None else before.outside,
        )

    def _told(
        self,
        cover: Cover,
        ends: Sequence[Served],
        left: "_AllLeft",
        began: float,
    ) -> FewestAnswer:
        kept = tuple(
            KeptMix(
                self.candidates[place],
                tuple(one for one in ends if one.mix == self.candidates[place].name),
                tuple(one for one in left.all if self.candidates[place].name in one.mixes),
            )
            for place in cover.kept
        )
        now = tuple(dict.fromkeys(one.present for one in self.pots if one.present is not None))
        can_go = tuple(
            (self.candidates[place].name, sum(one.count for one in self.pots if one.present == place))
            for place in now
            if place not in cover.kept
        )
        origins = [one.origin for one in self.candidates]
        return FewestAnswer(
            kept=kept,
            can_go=can_go,
            no_window=left.no_window,
            no_figure=left.no_figure,
            cannot=left.cannot,
            present=tuple(self.candidates[place].name for place in now),
            pots=self.case.stands.pots,
            staying=sum(one.pots for one in ends if one.stays),
            candidates={origin: origins.count(origin) for origin in (PRESENT, GIVEN, FOUND)},
            least_chance_asked=self.case.least_chance,
            proof=Proof(
                fewest=len(kept),
                bound=int(cover.mixes.bound),
                proved=cover.mixes.proved,
                staying_bound=int(cover.staying.bound),
                staying_proved=cover.staying.proved,
                least_chance_proved=cover.least_chance.proved,
                names_proved=cover.names_proved,
                seconds=time.monotonic() - began,
                said=proof_said(
                    cover, len(self.candidates), must=len(self._names_of(left)), anything_served=bool(ends)
                ),
            ),
            reading=reading_of(kept, len(can_go), len(now), all_kept=not left.cannot),
            remarks=remarks_of(kept, left.no_window, left.no_figure, left.cannot),
            warnings=warnings_of(self.case),
        )
