"""Many seasons: the balance, and mean maps."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _evenfall
from .grids import centers, data_array, index_of
from .rows import SeasonRows

if TYPE_CHECKING:
    import xarray

__all__ = ["Worth"]


class Worth:
    """What the alternatives are worth; made by :meth:`Scenario.worth`."""

    def __init__(self, made: _evenfall.Worth, alternatives: list[str], origin: dict[str, Any]) -> None:
        self._made = made
        self.seasons = SeasonRows(made.columns, origin)
        """Every season and alternative a row."""
        self.alternatives = alternatives
        self.summary: dict[str, Any] = json.loads(made.summary_json)
        """What ``evenfall worth`` writes into ``worth.json``."""

    @property
    def answer(self) -> list[str]:
        """The verdict in sentences."""
        sentences: list[str] = self.summary["answer"]
        return sentences

    def yield_fraction(self, alternative: str | int = 0) -> NDArray[np.float64]:
        """Mean over the seasons of the yield as a fraction of that without stress, shape (y, x); NaN
        outside the field's boundary."""
        return self._made.yield_fraction(index_of(self.alternatives, alternative))

    def percolation_mm(self, alternative: str | int = 0) -> NDArray[np.float64]:
        """Mean over the seasons of the water lost below the roots, mm, shape (y, x); NaN outside the
        field's boundary."""
        return self._made.percolation_mm(index_of(self.alternatives, alternative))

    def to_xarray(self) -> xarray.Dataset:
        """Both maps: dims alternative, y, x, with units (CF)."""
        numbers = range(len(self.alternatives))
        maps = {
            "yield_fraction": ("mean yield as a fraction of that without stress", "1", self.yield_fraction),
            "percolation": ("mean water lost below the roots in a season", "mm", self.percolation_mm),
        }
        arrays = []
        for name, (long_name, units, of) in maps.items():
            values = np.stack([of(at) for at in numbers])
            coordinates: dict[str, ArrayLike] = {"alternative": self.alternatives}
            coordinates |= centers(values.shape[1:], self._made.cell_m)
            naming = (name, long_name, units)
            arrays.append(data_array(values, ("alternative", "y", "x"), coordinates, naming, self.summary))
        import xarray

        return xarray.merge(arrays, combine_attrs="override")

    def __repr__(self) -> str:
        return f"<evenfall.Worth of {self.summary['seasons_finished']} seasons: {self.answer[0]}>"
