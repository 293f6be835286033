"""Studies: many scenarios made of one, run in parts that anybody may distribute."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from . import _evenfall

__all__ = ["Study"]


class Study:
    """A study after a plan, as ``evenfall study`` reads it.

    Blocks are independent and each gives the same bytes wherever and in whatever order it is run, so a
    study can be handed to a pool of processes, to Dask or to Ray::

        study = evenfall.Study("plan.json")
        parts = client.gather(client.map(study.part, range(study.blocks)))
        table, lines = study.gather(parts)

    A study can be pickled; it then carries its scenario and the files that it has read.

    Parameters
    ----------
    plan
        A plan file, or its content as a dictionary.
    base
        The scenario that is varied, as a dictionary; without it, the file that the plan names.
    folder
        Where the plan's files lie; for a plan file its own folder.

    Raises
    ------
    ValueError
        Everything that is wrong with the plan, at once.
    """

    def __init__(
        self,
        plan: Mapping[str, Any] | str | os.PathLike[str],
        *,
        base: Mapping[str, Any] | None = None,
        folder: str | os.PathLike[str] | None = None,
    ) -> None:
        if isinstance(plan, Mapping):
            text, beside = json.dumps(plan), Path(folder or ".")
        else:
            path = Path(plan)
            text, beside = path.read_text(encoding="utf-8"), Path(folder or path.parent)
        # What is wrong with the plan itself is told by its reader.
        written: Any = json.loads(text) if text.lstrip().startswith("{") else {}
        if base is not None:
            base_text, files = json.dumps(base, indent=2), beside
        else:
            base_path = beside / str(written.get("base", ""))
            base_text, files = base_path.read_text(encoding="utf-8"), base_path.parent
        design = written.get("design")
        listed = design.get("list") if isinstance(design, dict) else None
        points = (beside / str(listed)).read_text(encoding="utf-8") if listed else None
        self._begin(text, base_text, points, str(files.resolve()), {})

    def _begin(self, plan: str, base: str, points: str | None, folder: str, files: dict[str, bytes]) -> None:
        self._texts = (plan, base, points, folder)
        self._files = files
        self._made = _evenfall.Study(plan, base, self._load, points)

    def _load(self, name: str) -> bytes:
        if name not in self._files:
            self._files[name] = (Path(self._texts[3]) / name).read_bytes()
        return self._files[name]

    def __reduce__(self) -> tuple[Any, ...]:
        return (_again, (*self._texts, self._files))

    @property
    def digest(self) -> str:
        """SHA-256 of the plan, its points, the scenario with its files, and the version."""
        return self._made.digest

    @property
    def points(self) -> int:
        """Number of points: scenarios that differ."""
        return self._made.points

    @property
    def blocks(self) -> int:
        """Number of blocks, in which the work is parted."""
        return self._made.blocks

    @property
    def rows(self) -> int:
        """Rows to expect: points times seasons times alternatives."""
        return self._made.rows

    def about(self) -> dict[str, Any]:
        """What the study is, with unit and description of every column: ``study.json``."""
        about: dict[str, Any] = json.loads(self._made.about_json())
        return about

    def part(self, block: int) -> bytes:
        """Runs a block; the bytes of its part, a Parquet file."""
        return self._made.part(block)

    def keep_part(self, block: int, into: str | os.PathLike[str]) -> Path:
        """Runs a block unless its part lies in the folder ``into`` already, whole and of this study, and
        keeps it there: written aside, synced and renamed, in a folder that ``evenfall study`` reads too."""
        folder = Path(into)
        target = folder / "parts" / f"block-{block:06}.parquet"
        if target.exists() and self._made.block_of(target.read_bytes()) == block:
            return target
        self._claim(folder)
        aside = target.with_name(f".{target.name}.{os.getpid()}")
        try:
            with open(aside, "wb") as file:
                file.write(self.part(block))
                file.flush()
                os.fsync(file.fileno())
            os.replace(aside, target)
        finally:
            aside.unlink(missing_ok=True)
        return target

    def _claim(self, folder: Path) -> None:
        """Makes the folder this study's, or says whose it is."""
        mark = folder / "study.json"
        (folder / "parts").mkdir(parents=True, exist_ok=True)
        if not mark.exists():
            aside = folder / f".study.json.{os.getpid()}"
            aside.write_text(self._made.about_json(), encoding="utf-8")
            os.replace(aside, mark)
        known = json.loads(mark.read_text(encoding="utf-8"))
        if known.get("study_sha256") != self.digest:
            raise FileExistsError(f"{folder} holds another study. Nothing was changed; name another folder")

    def gather(self, parts: Iterable[bytes | str | os.PathLike[str]]) -> tuple[bytes, bytes]:
        """All parts as one table: the bytes of a Parquet file and of a CSV file.

        What a column is and its unit stand in the Parquet file's own metadata, as JSON under the key
        ``columns``: a list of name, unit and description.

        Raises
        ------
        ValueError
            A part is not whole, is of another study, or comes twice; or one is missing.
        """
        known: dict[int, bytes] = {}
        for part in parts:
            content = part if isinstance(part, bytes) else Path(part).read_bytes()
            block = self._made.block_of(content)
            if block is None:
                raise ValueError("a part is not whole, or of another study. Run its block again")
            known[block] = content
        missing = [block for block in range(self.blocks) if block not in known]
        if missing:
            raise ValueError(f"{len(missing)} of {self.blocks} blocks are missing: {missing[:10]}")
        return self._made.gather([known[block] for block in range(self.blocks)])

    def __repr__(self) -> str:
        return f"<evenfall.Study of {self.points} points in {self.blocks} blocks>"


def _again(plan: str, base: str, points: str | None, folder: str, files: dict[str, bytes]) -> Study:
    study = Study.__new__(Study)
    study._begin(plan, base, points, folder, files)
    return study
