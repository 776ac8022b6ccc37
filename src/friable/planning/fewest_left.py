"""Stands that nothing keeps within their window: what comes nearest, and what would open it."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from friable.errors import FriableError
from friable.planning.fewest_candidates import found_mix
from friable.planning.fewest_values import Candidate, FewestCase, Fit, Left, Stand
from friable.planning.find_values import Cancelled, FindCase

if TYPE_CHECKING:
    from friable.planning.fewest_candidates import Judge
    from friable.planning.find_values import FindAnswer


class Leaving:
    """Tells of each stand that nothing keeps what comes nearest."""

    def __init__(
        self,
        case: FewestCase,
        candidates: Sequence[Candidate],
        judged: Mapping[int, Sequence[Fit]],
        judge: "Judge",
        finder: "Callable[..., FindAnswer] | None",
        refused: Mapping[int, str],
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self.case, self.candidates, self.judged, self.judge = case, candidates, judged, judge
        self.finder, self.refused, self.cancelled = finder, refused, cancelled

    def left(self, stand: Stand, pots: int, mixes: tuple[str, ...]) -> Left:
        """Return what is told of a stand that nothing keeps."""
        place = self.case.stands.stands.index(stand)
        known = [
            (fit, candidate.name)
            for fit, candidate in zip(self.judged[place], self.candidates, strict=True)
            if fit.keeps or fit.outside
        ]
        openings: tuple[str, ...] = ()
        if not any(fit.keeps for fit, _name in known):
            answer, problem = self._nearest(place)
            openings = (problem,) if problem else ()
            if answer is not None:
                openings = tuple(opening.said for opening in answer.openings)
                for found in answer.nearest[:1]:
                    mix = found_mix(found.text, found.parts, self.case.pair_overlap_loss)
                    known.append((self.judge(mix, stand), found.text))
        if not known:
            return Left(stand, pots, mixes, openings=openings)
        fit, name = min(known, key=lambda one: (*_far(one[0]), one[1]))
        return Left(stand, pots, mixes, name, fit.chance, fit.outside, openings)

    def _nearest(self, place: int) -> "tuple[FindAnswer | None, str]":
        """Return what a search says of a stand; if it cannot be made, why."""
        if place in self.refused or not self.case.at_hand:
            return None, self.refused.get(place, "")
        from friable.planning.find import find

        finder = self.finder or find
        stand = self.case.stands.stands[place]
        question = FindCase(
            windows=stand.windows,
            container=stand.container,
            at_hand=self.case.at_hand,
            parts=self.case.parts,
            kinds=self.case.kinds,
            limits=self.case.limits,
            pair_overlap_loss=self.case.pair_overlap_loss,
        )
        try:
            return finder(question, best=1, cancelled=self.cancelled), ""
        except Cancelled:
            raise
        except FriableError as problem:
            return None, str(problem)


def _far(fit: Fit) -> tuple[int, float, float]:
    """Return how near a mix comes: within first, by chance, then by how far outside."""
    return (0 if fit.keeps else 1), -(fit.chance or 0.0), fit.distance
