"""Containers by their trade names: a name is a first guess with a range, a measure of ours is better."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.words import nearest, tokens
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.science.containers import Container


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownContainer:
    """What published lists say of one trade name.

    `container` stands only where a list prints top, bottom and height, and they can be right. The volumes are
    the lowest and the highest that any list gives to this name; None where none gives one.
    """

    name: str
    system: str
    container: Container | None
    volume_low_l: float | None
    volume_high_l: float | None
    how_known: str
    source: str
    note: str = ""
    other_names: tuple[str, ...] = ()

    @property
    def advice(self) -> str:
        """What to do before relying on the name."""
        return _(
            "Weigh one of ours empty and filled with water to the fill line: 1 kg of water is 1 L. "
            "Pots of one name differ."
        )


@cache
def known_containers() -> tuple[KnownContainer, ...]:
    """Return what is known of every trade name, in the order of the table."""
    names: dict[str, list[Row]] = {}
    for row in read_table("containers"):
        names.setdefault(row["name"], []).append(row)
    return tuple(_known(name, rows) for name, rows in names.items())


def find_container(text: str) -> KnownContainer:
    """Return what is known of a container by a trade name, such as "2 L", "P9", "trade gallon" or "#1".

    Raises
    ------
    UnknownName
        If no list has this name; the nearest names are given.
    AmbiguousName
        If several containers have it.
    """
    words = _tokens(text)
    known = known_containers()
    exact = [c for c in known if words in {_tokens(name) for name in (c.name, *c.other_names)}]
    loose = [c for c in known if words and any(words <= _tokens(name) for name in (c.name, *c.other_names))]
    for found in (exact, loose):
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousName(_("container"), text, [container.name for container in found])
    spellings = {
        name: container.name for container in known for name in (container.name, *container.other_names)
    }
    raise UnknownName(_("container"), text, nearest(text, spellings))


def _tokens(text: str) -> frozenset[str]:
    return tokens(text.replace("#", " no "))


def _known(name: str, rows: list[Row]) -> KnownContainer:
    volumes = [row for row in rows if row["volume_low_l"] and row["trusted"] in ("yes", "volume")]
    sized = [row for row in rows if row["bottom_cm"] and row["trusted"] in ("yes", "sizes")]
    ours = dict.fromkeys(row["how_known"] for row in rows)
    return KnownContainer(
        name=name,
        system=rows[0]["system"],
        container=_container(sized[0]) if sized else None,
        volume_low_l=min((row.number("volume_low_l") for row in volumes), default=None),
        volume_high_l=max((row.number("volume_high_l") for row in volumes), default=None),
        how_known="published" if "published" in ours else next(iter(ours)),
        source=";".join(dict.fromkeys(row["source"] for row in rows)),
        note=" ".join(dict.fromkeys(row["note"] for row in rows if row["note"])),
        other_names=tuple(dict.fromkeys(other for row in rows for other in row.list("other_names"))),
    )


def _container(row: Row) -> Container:
    from friable.science.containers import Container  # here: it loads NumPy, which a name alone does not need

    top_cm, bottom_cm = row.number("top_cm"), row.number("bottom_cm")
    return Container(
        shape=row["shape"],
        top_length_cm=top_cm,
        top_width_cm=top_cm,
        bottom_length_cm=bottom_cm,
        bottom_width_cm=bottom_cm,
        height_cm=row.number("height_cm"),
    )
