"""Every season a row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _evenfall

if TYPE_CHECKING:
    import pandas
    import pyarrow

__all__ = ["SeasonRows"]

_ABOUT = {
    "season": ("1", "Number of the season, from 1"),
    "alternative": ("", "Name of the alternative"),
    **{key: (unit, about) for key, unit, about in _evenfall.season_columns()},
}


class SeasonRows(Mapping[str, Any]):
    """A row for each season and alternative, as columns by name: NumPy arrays, NaN where there is no
    number. ``units`` and ``about`` say what each column is.

    Two ranges of seasons put one after the other are the whole, digit by digit.
    """

    def __init__(self, columns: dict[str, Any], origin: dict[str, Any]) -> None:
        self._columns = columns
        self.origin = origin
        """Seed, digest of the scenario and version: the same in all rows."""
        self.units: dict[str, str] = {name: _ABOUT[name][0] for name in columns}
        self.about: dict[str, str] = {name: _ABOUT[name][1] for name in columns}

    def __getitem__(self, name: str) -> Any:
        return self._columns[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)

    def of(self, alternative: str) -> dict[str, Any]:
        """The columns of one alternative alone."""
        mine = np.array([name == alternative for name in self["alternative"]])
        if not mine.any():
            raise KeyError(f"no alternative is called {alternative!r}")
        return {name: np.asarray(column)[mine] for name, column in self._columns.items()}

    def to_pandas(self) -> pandas.DataFrame:
        """The rows as a table of pandas; ``attrs`` has units, words and origin."""
        import pandas

        table = pandas.DataFrame(self._columns)
        table.attrs = {"units": self.units, "about": self.about, **self.origin}
        return table

    def to_arrow(self) -> pyarrow.Table:
        """The rows as an Arrow table; every field carries unit and description."""
        import pyarrow

        arrays = {name: pyarrow.array(column, from_pandas=True) for name, column in self._columns.items()}
        fields = [
            pyarrow.field(name, array.type, metadata={"unit": self.units[name], "description": self.about[name]})
            for name, array in arrays.items()
        ]
        metadata = {key: str(value) for key, value in self.origin.items()}
        return pyarrow.table(list(arrays.values()), schema=pyarrow.schema(fields, metadata))

    def __repr__(self) -> str:
        return f"<evenfall.SeasonRows: {len(self['season'])} rows, {len(self)} columns>"
