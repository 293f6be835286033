"""Arrays with their axes, and alternatives by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

if TYPE_CHECKING:
    import xarray

__all__ = ["centers", "data_array", "index_of"]


def index_of(alternatives: Sequence[str], wanted: str | int) -> int:
    """Place of an alternative that is told by its name or number."""
    if isinstance(wanted, int):
        if not 0 <= wanted < len(alternatives):
            raise IndexError(f"alternative {wanted} is not among 0 to {len(alternatives) - 1}")
        return wanted
    if wanted not in alternatives:
        raise KeyError(f"no alternative is called {wanted!r}. There are: {', '.join(alternatives)}")
    return list(alternatives).index(wanted)


def centers(shape: tuple[int, ...], cell_m: float) -> dict[str, ArrayLike]:
    """Centers of cells, m, along y (across the field) and x (along the pipe)."""
    return {axis: (np.arange(n) + 0.5) * cell_m for axis, n in zip("yx", shape, strict=True)}


def data_array(
    values: NDArray[np.float64],
    dims: tuple[str, ...],
    coordinates: Mapping[str, ArrayLike],
    naming: tuple[str, str, str],
    summary: Mapping[str, Any],
) -> xarray.DataArray:
    """A labeled array with attributes by the CF conventions 1.11."""
    try:
        import xarray
    except ImportError as error:
        raise ImportError("labeled grids need xarray: pip install 'evenfall[grids]'") from error
    name, long_name, units = naming
    found = xarray.DataArray(values, dims=dims, coords=dict(coordinates), name=name)
    found.attrs = {
        "long_name": long_name,
        "units": units,
        "comment": "NaN where the field is not: outside its boundary",
        "source": f"Evenfall {summary['version']}" if "version" in summary else "Evenfall",
        **{key: summary[key] for key in ("seed", "scenario_sha256") if key in summary},
    }
    for axis, words in (("y", "across the field, direction of travel"), ("x", "along the pipe")):
        found[axis].attrs = {"units": "m", "long_name": f"distance {words}"}
    return found
