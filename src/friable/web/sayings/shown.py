"""A saying as its page shows it: the answer, its table and drawings, and both sides of what is published."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from django.utils.safestring import SafeString

from friable.drawing.charts import ChartPoint, Series, air_by_height_spec
from friable.planning.sayings.asking import usual_case
from friable.planning.sayings.registry import answer
from friable.planning.sayings.values import NOT_COMPUTED, SayingAnswer, SayingCase
from friable.planning.sayings.words import FigureTable, table_of, topic_words, verdict_words
from friable.reference.sayings import Saying, SayingEvidence, all_sayings, evidence_for
from friable.web.mixes.answers import drawing
from friable.web.mixes.side_by_side import Chart

DRAWING_PX = 300.0


@dataclass(frozen=True, slots=True)
class ShownSaying:
    """An answer, ready for the page."""

    answer: SayingAnswer
    table: FigureTable
    drawings: Sequence[tuple[str, SafeString]]
    charts: Sequence[Chart]

    @property
    def verdict(self) -> str:
        """The verdict in words."""
        return verdict_words(self.answer.told.verdict)


@dataclass(frozen=True, slots=True)
class ListedSaying:
    """One line of the list."""

    saying: Saying
    verdict: str


def shown_saying(saying: Saying, case: SayingCase) -> ShownSaying:
    """Answer a saying for the page.

    Raises
    ------
    FriableError
        If what is asked is impossible.
    """
    found = answer(saying, case)
    told = found.told
    drawings = [
        (
            one.title,
            drawing(
                one.forecast,
                name=one.title,
                key=f"saying{place}",
                layer_material=one.layer_material,
                width=DRAWING_PX,
            ),
        )
        for place, one in enumerate(told.drawn)
    ]
    series = [Series(one.name, tuple(ChartPoint(*point) for point in one.points)) for one in told.by_height]
    charts = [Chart("air", air_by_height_spec(series), series)] if series else []
    return ShownSaying(found, table_of(told.numbers), drawings, charts)


def sides(saying: Saying) -> list[tuple[str, list[SayingEvidence]]]:
    """Return what is published, by the side it speaks for; sides without any are left out."""
    every = evidence_for(saying.key)
    by_side = [(side, [one for one in every if one.side == side]) for side in ("for", "against", "both")]
    return [(side, found) for side, found in by_side if found]


def sayings_by_topic() -> list[tuple[str, list[ListedSaying]]]:
    """Return all sayings under their topics, each with its verdict for what is taken if nobody says."""
    topics: dict[str, list[ListedSaying]] = {}
    for saying in all_sayings():
        verdict = verdict_words(_usual_verdict(saying.key))
        topics.setdefault(saying.topic, []).append(ListedSaying(saying, verdict))
    return [(topic_words(topic), listed) for topic, listed in topics.items()]


@lru_cache(maxsize=64)
def _usual_verdict(key: str) -> str:
    """Return the verdict for what is taken if nobody says; it hangs on the tables alone."""
    saying = next(one for one in all_sayings() if one.key == key)
    if not saying.is_computed:
        return NOT_COMPUTED
    return answer(saying, usual_case(saying, samples=0)).told.verdict
