"""Catch-can tests."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from . import _evenfall

__all__ = ["CatchTest", "catch_test"]


@dataclass(frozen=True)
class CatchTest:
    """What a test caught. CU and DUlq are those of cans under laterals, with their intervals; around
    a single sprinkler or beside one lateral they mean nothing before an overlap and are ``None``."""

    title: str
    x_m: NDArray[np.float64]
    y_m: NDArray[np.float64]
    depth_mm: NDArray[np.float64]
    missing: int
    mean_wind_m_s: float | None
    cu_percent: float | None
    cu_interval_percent: tuple[float, float] | None
    du_lq_percent: float | None
    du_lq_interval_percent: tuple[float, float] | None
    notes: list[str]


def catch_test(path: str | os.PathLike[str], *, confidence_level: float = 0.9) -> CatchTest:
    """Reads a catch test's table (CSV, as ``evenfall catch --help`` describes it)."""
    path = Path(path)
    found = json.loads(_evenfall.catch_test(path.read_bytes(), path.name, confidence_level))
    cans = np.array(found["cans_x_y_m_depth_mm"], dtype=np.float64).reshape(-1, 3)
    pair = {key: found[key] and tuple(found[key]) for key in ("cu_interval_percent", "du_lq_interval_percent")}
    return CatchTest(
        title=found["title"],
        x_m=cans[:, 0],
        y_m=cans[:, 1],
        depth_mm=cans[:, 2],
        missing=found["missing"],
        mean_wind_m_s=found["mean_wind_m_s"],
        cu_percent=found["cu_percent"],
        du_lq_percent=found["du_lq_percent"],
        notes=found["notes"],
        **pair,
    )
