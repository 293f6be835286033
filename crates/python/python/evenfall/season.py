"""One season: depths as arrays, figures as rows."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _evenfall
from .grids import centers, data_array, index_of

if TYPE_CHECKING:
    import xarray

__all__ = ["Season"]


class Season:
    """What one season did under every alternative; made by :meth:`Scenario.season`."""

    def __init__(self, made: _evenfall.Season, alternatives: list[str]) -> None:
        self._made = made
        self.alternatives = alternatives
        self.summary: dict[str, Any] = json.loads(made.summary_json)
        """What ``evenfall season`` writes into ``summary.json``."""

    def depth_mm(self, alternative: str | int = 0) -> NDArray[np.float64]:
        """Net depth at the end of the season, mm, shape (y, x): y across the field in the direction
        of travel, x along the pipe away from the mainline; NaN outside the field's boundary."""
        return self._made.depth_mm(index_of(self.alternatives, alternative))

    def pass_depth_mm(self, alternative: str | int = 0) -> NDArray[np.float64]:
        """Net depth of every pass, mm, shape (pass, y, x); NaN outside the field's boundary. Asks for
        ``season(passes=True)``."""
        found = self._made.pass_depth_mm(index_of(self.alternatives, alternative))
        if found is None:
            raise ValueError("depths of passes were not kept. Call scenario.season(passes=True)")
        return found

    def figures(self, region: str = "interior") -> list[dict[str, Any]]:
        """CU, DUlq and the other figures of the whole season, a row an alternative."""
        return [
            {"alternative": one["name"], **_figures(one["season"], region)}
            for one in self.summary["alternatives"]
        ]

    def passes(self, region: str = "interior", scope: str = "cumulative") -> list[dict[str, Any]]:
        """Figures pass by pass, a row a pass and alternative.

        ``region`` is interior, whole, first_strip or last_strip; ``scope`` is cumulative (all water so
        far) or alone (the pass's own).
        """
        return [
            {
                "alternative": one["name"],
                **{key: row[key] for key in row if key not in ("alone", "cumulative")},
                **_figures(row[scope], region),
            }
            for one in self.summary["alternatives"]
            for row in one["passes"]
        ]

    def to_xarray(self) -> xarray.DataArray:
        """Depths at the end of the season: dims alternative, y, x, with units (CF)."""
        grids = [self.depth_mm(at) for at in range(len(self.alternatives))]
        return data_array(
            np.stack(grids),
            ("alternative", "y", "x"),
            {"alternative": self.alternatives, **centers(grids[0].shape, self._made.cell_m)},
            ("season_depth", "net irrigation depth of the season", "mm"),
            self.summary,
        )

    def passes_to_xarray(self) -> xarray.DataArray:
        """Depths of every pass: dims alternative, pass, y, x; fewer passes are padded with NaN."""
        grids = [self.pass_depth_mm(at) for at in range(len(self.alternatives))]
        most = max(len(grid) for grid in grids)
        shape = (len(grids), most, *grids[0].shape[1:])
        depth_mm = np.full(shape, np.nan)
        for at, grid in enumerate(grids):
            depth_mm[at, : len(grid)] = grid
        coordinates: dict[str, ArrayLike] = {
            "alternative": self.alternatives,
            "pass": np.arange(1, most + 1),
            **centers(grids[0].shape[1:], self._made.cell_m),
        }
        naming = ("pass_depth", "net irrigation depth of the pass", "mm")
        return data_array(depth_mm, ("alternative", "pass", "y", "x"), coordinates, naming, self.summary)

    def __repr__(self) -> str:
        rows = (f"{row['alternative']}: CU {row['cu_percent']:.1f} %" for row in self.figures())
        return f"<evenfall.Season {'; '.join(rows)}>"


def _figures(regions: dict[str, Any], region: str) -> dict[str, Any]:
    if region not in regions:
        raise ValueError(f"region is {region!r}. Expected one of: {', '.join(regions)}")
    return regions[region] or {}
