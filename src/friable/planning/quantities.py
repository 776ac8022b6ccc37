"""From pots on a bench to litres and buckets of each material.

The order of the allowances: net × (1 + overage) ÷ (1 - settling) ÷ (1 - shrinkage). Overage is more than is
needed, as a share of what is needed. Settling and shrinkage are shares of a volume that get lost,
the one later in
the pot, the other on mixing, so the volume before the loss is what is asked for.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from friable.errors import BadQuantity, BadRecipe
from friable.planning.job_advice import job_advice
from friable.planning.job_values import (
    JobAmounts,
    JobLine,
    LineDetail,
    MaterialAmount,
    Stage,
    StagePart,
    Step,
)
from friable.planning.known_names import finder, known_material, loose_factor
from friable.planning.nested_amounts import ExactStage, Key, Poured, poured_amounts
from friable.planning.recipe import RecipeBook, book_of
from friable.planning.root_ball import check_fit, root_ball_l
from friable.planning.rounding import add_up, rounded, step_for, whole_and_remainder
from friable.planning.units_in import LARGEST_L
from friable.science.conversion import exact
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material

__all__ = ["JobAmounts", "JobLine", "book_of", "job_amounts"]

Number = int | float | Fraction


def job_amounts(
    lines: Sequence[JobLine],
    recipe_book: RecipeBook,
    *,
    overage: Number = 0,
    settling: Number = 0,
    shrinkage: Number | None = None,
    bucket_l: float | None = None,
    litres: Number | None = None,
    find: "Callable[[str], Material] | None" = None,
) -> JobAmounts:
    """Return what to measure out for these pots, or for so many litres of finished mix.

    Parameters
    ----------
    lines : sequence of JobLine
        Containers and counts; empty where `litres` is given.
    recipe_book : RecipeBook
        The mix that is made, and those inside it.
    overage, settling : number
        Shares: made beyond the need [0..1]; lost later by filling, watering and time [0..1).
    shrinkage : number, optional
        Share lost on the last mixing; else what its recipe says. [0..1)
    bucket_l : float, optional
        What our bucket holds to its line. [L]
    litres : number, optional
        Net volume of finished mix wanted, instead of lines. [L]
    find : callable, optional
        From a name to a material, raising if nothing has it; else the tables.

    Raises
    ------
    BadQuantity, BadRecipe, Refused
        If there is nothing to make, an allowance is out of range, or a root ball does not fit.
    """
    over = _share(_("overage"), overage, upto_one=True)
    settles = _share(_("settling"), settling)
    shrinks = None if shrinkage is None else _share(_("shrinkage"), shrinkage)
    _check_bucket(bucket_l)
    working: list[Step] = []
    details = [_detail(line, working) for line in lines]
    net = _net(details, lines, litres)
    if recipe_book.made not in recipe_book.recipes:
        raise BadRecipe(_("No mix is chosen; say which one is made."))

    with_overage = net * (1 + over)
    with_settling = with_overage / (1 - settles)
    look_up = find or finder()
    names: dict[str, tuple[str, Material | None]] = {}
    unknown_states: list[tuple[str, str]] = []

    def identity(name: str) -> str:
        if name not in names:
            names[name] = (name, known_material(name, look_up))
        material = names[name][1]
        return material.key if material else " ".join(name.casefold().split())

    def factor(name: str, state: str) -> Fraction:
        identity(name)
        found = loose_factor(names[name][1], state)
        if found is None:
            unknown_states.append((name, state))
        return Fraction(1) if found is None else found

    poured = poured_amounts(
        recipe_book.recipes,
        recipe_book.made,
        with_settling,
        shrinkage=shrinks,
        identity=identity,
        loose_factor=factor,
    )
    written: dict[str, tuple[str, Material | None]] = {}
    for name, found in names.items():
        written.setdefault(identity(name), found)
    parts, total = _parts(poured, written, bucket_l)
    working += _allowance_steps(net, over, with_overage, settles, with_settling, poured)
    stages = tuple(_stage(stage) for stage in poured.stages)
    return JobAmounts(
        lines_detail=tuple(details),
        net_l=float(net),
        with_overage_l=float(with_overage),
        with_settling_l=float(with_settling),
        sum_of_parts_l=float(total),
        parts=parts,
        stages=stages,
        working=tuple(working),
        advice=tuple(job_advice(details, recipe_book, stages, unknown_states, shrinkage is not None)),
        bucket_l=bucket_l,
        step_l=step_for(float(total)),
    )


# --- pots ---------------------------------------------------------------------------------------


def _detail(line: JobLine, working: list[Step]) -> LineDetail:
    pot = line.container
    ball = 0.0
    if line.potted_from is not None and line.root == "root ball":
        check_fit(line.potted_from, pot)
        ball = root_ball_l(line.potted_from)
    each = pot.fill_volume_l - pot.layer_volume_l - ball
    working.append(
        Step(
            _("{pot}, filled to {headspace:.3g} cm below the rim").format(
                pot=pot.describe(), headspace=pot.headspace_cm
            ),
            pot.fill_volume_l,
        )
    )
    if pot.drainage_layer_cm:
        working.append(
            Step(
                _("less a drainage layer of {depth:.3g} cm").format(depth=pot.drainage_layer_cm),
                pot.layer_volume_l,
            )
        )
    if line.potted_from is not None and line.root == "root ball":
        working.append(Step(_("less the root ball from {old}").format(old=line.potted_from.describe()), ball))
    working.append(Step(_("new mix in each pot"), each))
    net = float(exact(each) * line.count)
    working.append(Step(_("for {count} pots").format(count=line.count), net))
    return LineDetail(
        container=pot,
        count=line.count,
        fill_volume_l=pot.fill_volume_l,
        root_ball_l=ball,
        layer_l=pot.layer_volume_l,
        new_mix_per_pot_l=each,
        net_l=net,
        potted_from=line.potted_from,
        root=line.root,
    )


def _net(details: Sequence[LineDetail], lines: Sequence[JobLine], litres: Number | None) -> Fraction:
    if litres is not None and lines:
        raise BadRecipe(_("Both pots and litres are given; leave one of them out."))
    if litres is None and not lines:
        raise BadRecipe(_("There is nothing to fill; give a container and a count, or the litres wanted."))
    if litres is None:
        net = sum((exact(d.new_mix_per_pot_l) * d.count for d in details), Fraction(0))
    else:
        if not 0 < litres <= LARGEST_L:
            raise BadQuantity(
                _("the volume wanted"),
                float(litres),
                "L",
                _("above 0 and at most {most} L").format(most=f"{LARGEST_L:,}"),
            )
        net = exact(litres)
    if net > LARGEST_L:
        raise BadQuantity(
            _("the mix for all pots"),
            float(net),
            "L",
            _("at most {most} L").format(most=f"{LARGEST_L:,}"),
            _("Check the count and the sizes."),
        )
    return net


def _share(name: str, value: Number, *, upto_one: bool = False) -> Fraction:
    if not (0 <= value <= 1 if upto_one else 0 <= value < 1):
        must = _("from 0 to 1 (100 %)") if upto_one else _("at least 0 and below 1 (100 %)")
        raise BadQuantity(name, float(value), "", must)
    return exact(value)


def _check_bucket(bucket_l: float | None) -> None:
    if bucket_l is not None and not 0.01 <= bucket_l <= 1e4:
        raise BadQuantity(_("the bucket"), bucket_l, "L", _("from 0.01 to 10000 L"))


# --- materials ----------------------------------------------------------------------------------


def _parts(
    poured: Poured, written: "dict[str, tuple[str, Material | None]]", bucket_l: float | None
) -> tuple[tuple[MaterialAmount, ...], Fraction]:
    total = sum(poured.volumes_l.values(), Fraction(0))
    step = step_for(float(total))
    keys: list[Key] = list(poured.volumes_l)
    printed = add_up([poured.volumes_l[key] for key in keys], total, step)
    amounts = []
    for key, print_l in zip(keys, printed, strict=True):
        name, material = written[key[0]]
        whole, rest = whole_and_remainder(print_l, bucket_l, step) if bucket_l else (0, print_l)
        amounts.append(
            MaterialAmount(
                material=name,
                known=material is not None,
                title=material.title if material else name,
                state=key[1],
                volume_l=float(poured.volumes_l[key]),
                share=float(poured.volumes_l[key] / total),
                share_by_finished=float(poured.share_by_finished[key]),
                rounded_l=print_l,
                buckets=whole,
                remainder_l=rest,
            )
        )
    return tuple(amounts), total


def _stage(stage: ExactStage) -> Stage:
    step = step_for(float(stage.poured_l))
    printed = add_up([part.volume_l for part in stage.parts], stage.poured_l, step)
    return Stage(
        mix=stage.mix,
        finished_l=float(stage.finished_l),
        shrinkage=float(stage.shrinkage),
        poured_l=float(stage.poured_l),
        parts=tuple(
            StagePart(p.component.name, p.component.state, float(p.volume_l), print_l, p.is_mix)
            for p, print_l in zip(stage.parts, printed, strict=True)
        ),
    )


def _allowance_steps(
    net: Fraction,
    over: Fraction,
    with_overage: Fraction,
    settles: Fraction,
    with_settling: Fraction,
    poured: Poured,
) -> list[Step]:
    steps = [Step(_("net"), float(net))]
    if over:
        steps.append(
            Step(_("with {over:g} % more than needed").format(over=float(100 * over)), float(with_overage))
        )
    if settles:
        steps.append(
            Step(
                _("before settling, which takes {lost:g} %").format(lost=float(100 * settles)),
                float(with_settling),
            )
        )
    for stage in poured.stages:
        steps.append(
            Step(
                _("{mix}: parts to pour for {finished} L, as mixing takes {lost:g} %").format(
                    mix=stage.mix,
                    finished=f"{float(rounded(stage.finished_l, step_for(float(stage.finished_l)))):g}",
                    lost=float(100 * stage.shrinkage),
                ),
                float(stage.poured_l),
            )
        )
    return steps
