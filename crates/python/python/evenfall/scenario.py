"""Scenarios: read, changed and simulated."""

from __future__ import annotations

import copy
import json
import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from . import _evenfall
from .pointers import pointer_to, put
from .rows import SeasonRows
from .season import Season
from .worth import Worth

__all__ = ["Progress", "Scenario"]

Progress = Callable[[int, int], object]
"""Called with steps done and steps in all, some ten times a second, on the calling thread."""


class Scenario:
    """A checked scenario: field, lateral, outlets, sprinkler, season, weather and alternatives.

    Parameters
    ----------
    what
        A scenario as a dictionary, or the text of a scenario file (JSON).
    folder
        Where files that it names (records of weather, boundaries) are read from.
    seed
        Random seed in place of the scenario's.

    Raises
    ------
    ScenarioError
        Everything that is wrong with it, at once.
    """

    def __init__(
        self,
        what: Mapping[str, Any] | str,
        *,
        folder: str | os.PathLike[str] = ".",
        seed: int | None = None,
        name: str = "scenario",
    ) -> None:
        text = what if isinstance(what, str) else json.dumps(what, indent=2)
        if seed is not None:
            text = json.dumps({**json.loads(text), "seed": seed}, indent=2)
        self._folder = Path(folder)
        self._made = _evenfall.Scenario(text, self._load, name)

    def _load(self, name: str) -> bytes:
        return (self._folder / name).read_bytes()

    @classmethod
    def demo(cls) -> Scenario:
        """The demo: an invented field with a wheel line, three alternatives, crop, soil and climate."""
        return cls(_evenfall.demo(), name="the built-in demo")

    @classmethod
    def read(cls, path: str | os.PathLike[str], *, seed: int | None = None) -> Scenario:
        """Reads a scenario file; the files that it names are read from beside it."""
        path = Path(path)
        return cls(path.read_text(encoding="utf-8"), folder=path.parent, seed=seed, name=path.name)

    def change(self, changes: Mapping[str, Any] | None = None, /, **sections: Any) -> Scenario:
        """The same scenario with some entries changed.

        Parameters
        ----------
        changes
            New values by JSON pointer (RFC 6901): ``{"/outlets/spacing": "50 ft"}``. Sections on the
            way that are missing are made; ``/-`` at the end of a list adds to it, ``None`` takes an
            entry away.
        sections
            Entries of a section by name: ``season={"set_time": "8 h"}``, or keys of the whole
            scenario: ``seed=5``. Other entries of the section stay; ``None`` takes one away:
            ``wheel={"size": None, "outside_diameter": "6 ft"}``.

        Returns
        -------
        Scenario
            A new one; this one stays as it is.
        """
        new = copy.deepcopy(self.to_dict())
        for pointer, value in (changes or {}).items():
            put(new, pointer, value)
        for section, value in sections.items():
            if isinstance(value, Mapping) and isinstance(new.get(section), dict):
                for key, entry in value.items():
                    put(new[section], pointer_to(key), entry)
            else:
                put(new, pointer_to(section), value)
        return Scenario(new, folder=self._folder)

    def to_dict(self) -> dict[str, Any]:
        """The scenario as a dictionary, as it is written in its file."""
        written: dict[str, Any] = json.loads(self._made.text)
        return written

    def write(self, path: str | os.PathLike[str]) -> None:
        """Writes the scenario file; refuses to replace one that is there."""
        with open(path, "x", encoding="utf-8") as file:
            file.write(self._made.text.rstrip("\n") + "\n")

    @property
    def digest(self) -> str:
        """SHA-256 (hexadecimal) of the scenario, however laid out, and of the files that it names."""
        return self._made.digest

    @property
    def seed(self) -> int:
        """Random seed of its weather."""
        return self._made.seed

    @property
    def alternatives(self) -> list[str]:
        """Names of its alternatives, the baseline first."""
        return self._made.alternatives

    @property
    def warnings(self) -> list[str]:
        """What to look at in it, in words."""
        return self._made.warnings

    @property
    def starting_values(self) -> list[dict[str, str]]:
        """What it does not say and what is taken instead: ``key``, ``value`` and ``reason``."""
        keys = ("key", "value", "reason")
        return [dict(zip(keys, row, strict=True)) for row in self._made.starting_values]

    def stops(self) -> dict[str, Any]:
        """Where each alternative's lateral can stand beside its outlets, as ``evenfall stops --json``."""
        return _read(self._made.stops_json())

    def clock(self) -> dict[str, Any]:
        """Every set of every alternative, place and times, as ``evenfall clock --json``."""
        return _read(self._made.clock_json())

    def sets(self) -> list[dict[str, Any]]:
        """The same as rows, one a set: ready for ``pandas.DataFrame(scenario.sets())``."""
        rows = []
        for alternative in self.clock()["alternatives"]:
            for of_pass in alternative["passes"]:
                head = {key: of_pass[key] for key in of_pass if key != "sets"}
                rows += [{"alternative": alternative["name"], **head, **one} for one in of_pass["sets"]]
        return rows

    def check(self) -> dict[str, Any]:
        """The plan before the rotation, each number beside a yardstick, as ``evenfall check --json``."""
        return _read(self._made.check_json())

    def methods(self) -> dict[str, Any]:
        """Every equation with symbols, values and source, for a paper, as ``evenfall methods --json``."""
        return _read(self._made.methods_json())

    def season(self, *, passes: bool = False, progress: Progress | None = None) -> Season:
        """Simulates one season of every alternative.

        Parameters
        ----------
        passes
            Keep the depth of every pass too: 8 bytes a cell, pass and alternative.
        progress
            Told how far it is.
        """
        return Season(self._made.season(passes, progress), self.alternatives)

    def worth(
        self,
        seasons: int | None = None,
        *,
        first: int = 1,
        own_wind: bool = False,
        progress: Progress | None = None,
    ) -> Worth:
        """Runs many seasons through soil, crop and money to a verdict, with its uncertainty.

        Parameters
        ----------
        seasons
            How many; the scenario's number without.
        first
            Number of the first season, from 1.
        own_wind
            Lay every hour in its own wind, not in the nearest of winds 0.25 m/s apart (some ten
            times as long).
        progress
            Told how many seasons are done.

        Raises
        ------
        ValueError
            Without crop, soil and climate in the scenario.
        """
        found = self._made.worth(seasons, first, own_wind, progress)
        return Worth(found, self.alternatives, self._origin())

    def seasons(
        self,
        seasons: int,
        *,
        first: int = 1,
        own_wind: bool = False,
        progress: Progress | None = None,
    ) -> SeasonRows:
        """The figures of many seasons alone: CU, DUlq, systematic and random unevenness, yields, water.

        Any range of seasons can be asked for, so that an ensemble can be split: the parameters are those
        of :meth:`worth`. Where doubts are drawn, two seasons share a draw, and ``first`` is odd.
        """
        return SeasonRows(self._made.seasons(seasons, first, own_wind, progress), self._origin())

    def _origin(self) -> dict[str, Any]:
        version = _evenfall.__version__
        return {"seed": self.seed, "scenario_sha256": self.digest, "version": version}

    def search(self, seasons: int | None = None, *, progress: Progress | None = None) -> dict[str, Any]:
        """Rotations worth considering on this machine, as ``summary.json`` of ``evenfall search``."""
        return _read(self._made.search_json(seasons, progress))

    def __repr__(self) -> str:
        return repr(self._made)


def _read(text: str) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(text)
    return answer
