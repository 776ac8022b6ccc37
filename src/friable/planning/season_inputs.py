"""What a season gathers once: the media of its mixes, the layers of its pots, the weather of its places."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import Refused
from friable.planning.collection_values import GLASS, OUTDOORS, Collection, Kind, Place, mix_facts
from friable.planning.flow_media import MediumFigures, media
from friable.planning.flow_pot import BROKEN, CONTINUOUS, layer_in_pot
from friable.planning.season_draws import drawn
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.climate import Climate
    from friable.reference.materials import Material

    Array = NDArray[np.float64]

CM_PER_MM = 0.1


class Media:
    """The drawn media of each distinct mix."""

    def __init__(self, draws: int) -> None:
        self._draws = draws
        self._known: dict[str, tuple[int, tuple[MediumFigures, ...]]] = {}
        self.water: list[Array] = []
        self.conductivity_cm_h: list[Array] = []
        self.total_porosity: list[Array] = []

    def of(self, kind: Kind) -> tuple[int, tuple[MediumFigures, ...]]:
        facts = mix_facts(kind.mix)
        if facts not in self._known:
            found = media(kind.mix.parts, draws=self._draws, pair_overlap_loss=kind.mix.pair_overlap_loss)[1:]
            self._known[facts] = len(self.water), found
            self.water.append(np.stack([one.medium.water for one in found]))
            self.conductivity_cm_h.append(np.stack([one.medium.conductivity_cm_h for one in found]))
            self.total_porosity.append(np.array([one.total_porosity for one in found]))
        return self._known[facts]


class Layers:
    """Each distinct material of a drainage layer, with broken and with continuous films."""

    def __init__(self) -> None:
        self._places: dict[str, tuple[int, int]] = {}
        self.water: list[Array] = []
        self.conductivity_cm_h: list[Array] = []

    def of(self, material: "Material | None") -> tuple[int, int]:
        if material is None:
            return -1, -1
        if material.key not in self._places:
            first = len(self.water)
            self._places[material.key] = first, first + 1
            for films in (BROKEN, CONTINUOUS):
                medium = layer_in_pot(material, films)
                self.water.append(medium.water)
                self.conductivity_cm_h.append(medium.conductivity_cm_h)
        return self._places[material.key]


class Places:
    """The weathers at each distinct place."""

    def __init__(self, collection: Collection, climates: "Sequence[Climate]") -> None:
        self._of_kind: list[int] = []
        self._weathers: list[list[Climate]] = []
        known: dict[Place, int] = {}
        for number, kind in enumerate(collection.kinds):
            if kind.place not in known:
                if kind.place.where == OUTDOORS and climates[0].under_glass:
                    line = next(line.number for line in collection.lines if line.kind == number)
                    raise Refused(
                        _(
                            "Line {line} of the collection stands outdoors, but the weather of {climate} "
                            "is that of a house; give weather from outdoors."
                        ).format(line=line, climate=climates[0].name)
                    )
                known[kind.place] = len(known)
                self._weathers.append([_weather_at(kind.place, climate) for climate in climates])
            self._of_kind.append(known[kind.place])

    def of_kind(self, number: int) -> int:
        return self._of_kind[number]

    def reference_cm(self) -> "Array":
        return np.stack([[CM_PER_MM * one.reference_mm for one in at] for at in self._weathers])

    def rain_cm(self) -> "Array":
        return np.stack([[CM_PER_MM * one.rain_at_plants_mm for one in at] for at in self._weathers])

    def factors(self, place: int, draws: int) -> "Array":
        """Return what the reference at a place is multiplied by, one factor a draw."""
        low, high = self._weathers[place][0].reference_factors
        return drawn("reference", draws, min(low, 1.0), 1.0, max(high, 1.0))


def _weather_at(place: Place, climate: "Climate") -> "Climate":
    if place.where == GLASS and not climate.under_glass:
        climate = climate.under_glass_of()
    return climate if place.light_share == 1 else climate.shaded_to(place.light_share)
