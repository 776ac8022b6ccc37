"""What pots of a name hold, and what a larger pot means for the plant in it."""

from friable.planning.reading import per_cent
from friable.planning.root_ball import check_fit, root_ball_l
from friable.planning.sayings.drawn_together import in_pot
from friable.planning.sayings.said import between_litres, litres, times
from friable.planning.sayings.values import (
    DEPENDS,
    FAILS,
    HOLDS,
    Asked,
    Number,
    Role,
    SayingCase,
    Told,
)
from friable.reference.containers import KnownContainer, find_container, known_containers
from friable.wording import gettext as _

US_GALLON_L = 3.785411784  # exact, 231 cubic inches
NEAR = 0.05  # of a volume: as good as the same; common practice, no source
CLASS_MARK = "#"
MOST_NAMES = 12


def asked_of_gallon() -> Asked:
    """What it is asked of."""
    return Asked(
        container="", container_words=_("a gallon pot of yours, measured inside"), container_needed=False
    )


def gallon_pot(case: SayingCase) -> Told:
    """Published volumes of pots that are numbered in gallons, and of one of ours."""
    rows = [
        _against_gallons(_("published: {name}").format(name=known.name), gallons, known)
        for known in known_containers()
        if (gallons := _gallons(known.name)) and known.volume_low_l is not None
    ]
    first = next(known for known in known_containers() if known.name == "#1")
    low, high = (first.volume_low_l or 0.0), (first.volume_high_l or 0.0)
    said = _(
        "Published #1 pots hold {low:.3g} to {high:.3g} L, {least} to {most} of a gallon ({gallon:.3g} L)."
    ).format(
        low=low,
        high=high,
        least=per_cent(low / US_GALLON_L),
        most=per_cent(high / US_GALLON_L),
        gallon=US_GALLON_L,
    )
    fits = high >= (1 - NEAR) * US_GALLON_L
    verdict = FAILS if not fits else DEPENDS if low < (1 - NEAR) * US_GALLON_L else HOLDS
    if case.container is not None:
        brim = case.container.brim_volume_l
        rows.insert(
            0,
            Number(
                case.container.describe(),
                {"volume_low_l": brim, "volume_high_l": brim, "share": brim / US_GALLON_L},
            ),
        )
        own = _("Yours holds {brim} to the brim, {share} of a gallon.").format(
            brim=litres(brim), share=per_cent(brim / US_GALLON_L)
        )
        verdict = HOLDS if abs(brim / US_GALLON_L - 1) <= NEAR else FAILS if not fits else DEPENDS
        said = f"{own} {said}"
    return Told(verdict=verdict, answer=said, numbers=tuple(rows), remarks=(first.advice,))


def _gallons(name: str) -> int:
    number = name.removeprefix(CLASS_MARK)
    return int(number) if name.startswith(CLASS_MARK) and number.isdecimal() else 0


def _against_gallons(what: str, gallons: int, known: KnownContainer) -> Number:
    low, high = known.volume_low_l or 0.0, known.volume_high_l or 0.0
    return Number(
        what,
        {"volume_low_l": low, "volume_high_l": high, "share": (low + high) / 2 / (gallons * US_GALLON_L)},
    )


def asked_of_names() -> Asked:
    """What it is asked of."""
    return Asked(pot_name="20 cm")


def same_name_pots(case: SayingCase) -> Told:
    """How far published volumes of one name of a pot lie apart."""
    known = find_container(case.pot_name)
    spans = sorted(
        ((pot, *span) for pot in known_containers() if (span := _span(pot)) is not None),
        key=lambda one: -one[2] / one[1],
    )
    span = _span(known)
    rows = [_span_row(known, *span)] if span else []
    rows += [_span_row(pot, low, high) for pot, low, high in spans if pot.name != known.name][:MOST_NAMES]
    if span is None:
        return Told(
            verdict=DEPENDS,
            answer=_(
                "Only one figure is published for {name}, so this name says nothing here; others do."
            ).format(name=known.name),
            numbers=tuple(rows),
            remarks=(known.advice,),
        )
    low, high = span
    alike = high / low <= 1 + NEAR
    return Told(
        verdict=HOLDS if alike else FAILS,
        answer=_(
            "Pots called {name} are published with {span}: {times} times as much in the largest."
        ).format(name=known.name, span=between_litres(low, high), times=times(high / low)),
        numbers=tuple(rows),
        remarks=(known.advice,),
    )


def _span(known: KnownContainer) -> tuple[float, float] | None:
    """Return the least and the most that a name holds by any list or by its sizes; None for one figure."""
    volumes = [v for v in (known.volume_low_l, known.volume_high_l) if v]
    if known.container is not None:
        volumes.append(known.container.brim_volume_l)
    return (min(volumes), max(volumes)) if len({round(v, 6) for v in volumes}) > 1 else None


def _span_row(known: KnownContainer, low: float, high: float) -> Number:
    return Number(known.name, {"volume_low_l": low, "volume_high_l": high, "ratio": high / low})


def asked_of_next_size() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"),),
        container="round 9/6/8.5 cm",
        container_words=_("the pot it comes from"),
        other="round 17/12/13 cm",
        other_words=_("the pot it goes into"),
    )


def one_size_up(case: SayingCase) -> Told:
    """How many times the water of the old pot stands in the new one, for the same plant."""
    old, new = case.pot, case.other_pot
    check_fit(old, new)
    mix = case.media[0]
    each = [in_pot((mix,), [(1.0,)], pot, case.samples) for pot in (old, new)]
    water = [
        pot.medium_volume_l * found.water.of(0).value for pot, found in zip((old, new), each, strict=True)
    ]
    ratio = water[1] / water[0]
    ball = root_ball_l(old)
    unrooted = 1 - ball / new.medium_volume_l
    return Told(
        verdict=DEPENDS,
        answer=_(
            "After potting on, {ratio} times the water stands in the pot for the same plant, and "
            "{unrooted} of the mix has no roots yet. It depends on how fast the plant uses it: what "
            "dried in two days now takes about {days:.2g}."
        ).format(ratio=times(ratio), unrooted=per_cent(unrooted), days=2 * ratio),
        numbers=tuple(
            Number(
                words,
                {
                    "medium_volume_l": pot.medium_volume_l,
                    "air_space": found.air.of(0),
                    "container_capacity": found.water.of(0),
                    "water_l": held,
                },
            )
            for words, pot, found, held in (
                (old.describe(), old, each[0], water[0]),
                (new.describe(), new, each[1], water[1]),
            )
        ),
        remarks=(
            _("It counts what the leaves use, not what the larger surface loses by itself."),
            _("No source says how many times is too many."),
        ),
    )
