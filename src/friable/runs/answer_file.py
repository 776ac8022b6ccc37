"""The answer of a season on disk."""

from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import Any

from friable.errors import BadFile
from friable.planning.season_answer import DaySeason, GroupSeason, KindSeason, MonthShare, SeasonAnswer
from friable.runs.arrays import read_arrays, write_arrays
from friable.science.estimate import Estimate
from friable.wording import gettext as _

FILE = "answer.npz"
FORM = 1
ARRAYS = (
    "watered", "litres_each", "wet", "dry", "next_within", "watered_in", "member_litres", "member_hours",
)  # fmt: skip


def write_answer(folder: Path, answer: SeasonAnswer) -> None:
    """Keep the answer of a season.

    Raises
    ------
    NoRoom, Refused
    """
    facts = {
        **answer.to_json(),
        "form": FORM,
        "mark": answer.mark,
        "compared_by": answer.compared_by,
    }
    write_arrays(folder / FILE, facts, {name: getattr(answer, name) for name in ARRAYS})


def read_answer(folder: Path) -> SeasonAnswer | None:
    """Return the answer of a season, None if it is not worked out yet.

    Raises
    ------
    BadFile
        If it is damaged or of another version.
    """
    try:
        facts, arrays = read_arrays(folder / FILE)
    except FileNotFoundError:
        return None
    if facts.pop("form", None) != FORM:
        raise BadFile(_("The answer of this season is from another version of friable; run it again."))
    try:
        plain: dict[str, Any] = dict(facts)
        plain["starts_on"] = date.fromisoformat(facts["starts_on"])
        plain["weeks"] = tuple(date.fromisoformat(week) for week in facts["weeks"])
        plain["groups"] = tuple(_group(group) for group in facts["groups"])
        plain["days"] = tuple(_day(day) for day in facts["days"])
        plain["kinds"] = tuple(KindSeason(**kind) for kind in facts["kinds"])
        plain["warnings"] = tuple(facts["warnings"])
        return SeasonAnswer(**plain, **{name: arrays[name] for name in ARRAYS})
    except (KeyError, TypeError, ValueError):
        raise BadFile(_("The answer of this season is damaged; run it again.")) from None


def _group(facts: dict[str, Any]) -> GroupSeason:
    return GroupSeason(
        name=facts["name"],
        pots=facts["pots"],
        too_wet=Estimate(**facts["too_wet"]),
        too_dry=Estimate(**facts["too_dry"]),
        litres_by_week=tuple(Estimate(**one) for one in facts["litres_by_week"]),
        hours_by_week=tuple(Estimate(**one) for one in facts["hours_by_week"]),
        by_month=tuple(
            MonthShare(one["month"], Estimate(**one["too_wet"]), Estimate(**one["too_dry"]))
            for one in facts["by_month"]
        ),
    )


def _day(facts: dict[str, Any]) -> DaySeason:
    estimates = {f.name: Estimate(**facts[f.name]) for f in fields(DaySeason) if f.name != "date"}
    return DaySeason(date=date.fromisoformat(facts["date"]), **estimates)
