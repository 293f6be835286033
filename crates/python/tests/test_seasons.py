"""Every season a row, and studies in parts."""

from __future__ import annotations

import json
import pickle
from concurrent.futures import ProcessPoolExecutor
from io import BytesIO
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import pytest

import evenfall
from evenfall import Scenario, Study

PLAN = {
    "title": "Two spacings",
    "base": "base.json",
    "factors": [
        {"name": "spacing", "pointer": "/outlets/spacing", "levels": ["50 ft", "60 ft"]},
        {"name": "reach", "pointer": "/outlets/reach", "levels": ["25 ft", "30 ft", "10 ft"]},
    ],
    "replicates": 4,
    "block_points": 2,
    "responses": ["cu_percent", "yield_percent"],
}


def test_ranges_of_seasons_are_the_whole_in_parts(small: Scenario) -> None:
    whole, head, tail = small.seasons(6), small.seasons(4), small.seasons(2, first=5)
    assert whole["season"].tolist() == [number for number in range(1, 7) for _ in range(3)]
    for name in whole:
        both = [*head[name], *tail[name]]
        np.testing.assert_array_equal(np.asarray(whole[name]), np.asarray(both), err_msg=name)
    assert (whole.of("Fixed")["random_points"] > 0).all(), "wind varies"
    with pytest.raises(ValueError, match="must be odd"):
        small.seasons(2, first=4)


def test_rows_are_those_of_the_worth(small: Scenario) -> None:
    worth = small.worth(seasons=4)
    again = small.seasons(4)
    for name in again:
        np.testing.assert_array_equal(np.asarray(worth.seasons[name]), np.asarray(again[name]))
    mean = worth.seasons.of("Fixed")["cu_percent"].mean()
    assert worth.summary["alternatives"][0]["cu"]["mean_percent"] == pytest.approx(mean, rel=1e-12)


def test_tables_say_what_their_columns_are(small: Scenario) -> None:
    rows = small.seasons(2)
    pandas = pytest.importorskip("pandas")
    table = rows.to_pandas()
    assert isinstance(table, pandas.DataFrame) and len(table) == 6
    assert table.attrs["units"]["cu_percent"] == "%"
    pytest.importorskip("pyarrow")
    arrow = rows.to_arrow()
    field = arrow.schema.field("irrigation_mm")
    assert field.metadata[b"unit"] == b"mm" and field.metadata[b"description"]
    assert arrow.schema.metadata[b"scenario_sha256"].decode() == small.digest


@pytest.fixture(scope="module")
def plan(small: Scenario, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("study")
    small.write(folder / "base.json")
    path = folder / "plan.json"
    path.write_text(json.dumps(PLAN))
    return path


def test_parts_are_the_same_bytes_in_whatever_process(plan: Path) -> None:
    study = Study(plan)
    assert (study.points, study.blocks) == (6, 3)
    here = [study.part(block) for block in range(study.blocks)]
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        there = list(pool.map(study.part, reversed(range(study.blocks))))
    assert here == there[::-1]
    assert pickle.loads(pickle.dumps(study)).digest == study.digest


def test_a_gathered_study_is_a_table_with_units_and_reasons(plan: Path, tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    study = Study(plan)
    kept = [study.keep_part(block, tmp_path / "out") for block in range(study.blocks)]
    times = [path.stat().st_mtime_ns for path in kept]
    assert [study.keep_part(block, tmp_path / "out") for block in range(study.blocks)] == kept
    assert [path.stat().st_mtime_ns for path in kept] == times, "what is there is not computed again"
    table, lines = study.gather(kept)
    rows = parquet.read_table(BytesIO(table))
    about = {column["name"]: column for column in json.loads(rows.schema.metadata[b"columns"])}
    assert list(about) == rows.column_names
    assert about["cu_percent"]["unit"] == "%" and about["cu_percent"]["description"]
    frame = rows.to_pandas()
    assert lines.count(b"\n") == len(frame) + 1
    reached = frame[frame["cu_percent"].notna()]
    assert set(reached["factor_reach"]) == {"25 ft", "30 ft"} and len(reached) == 2 * 2 * 4 * 3
    assert len(frame) == len(reached) + 2, "a point that cannot be reached is a row with its reason"


def test_broken_and_missing_parts_are_told(plan: Path) -> None:
    study = Study(plan)
    part = study.part(0)
    with pytest.raises(ValueError, match="not whole"):
        study.gather([part[:-20]])
    with pytest.raises(ValueError, match="2 of 3 blocks are missing"):
        study.gather([part])


def test_all_that_is_wrong_with_a_plan_comes_at_once(small: Scenario) -> None:
    wrong = {**PLAN, "factors": [{"pointer": "/outlets/spacin", "levels": ["50 ft"]}, {"pointer": "/seed"}]}
    with pytest.raises(ValueError) as raised:
        Study(wrong, base=small.to_dict())
    assert "/outlets/spacin" in str(raised.value) and "“seed” has no levels" in str(raised.value)


def test_another_study_in_the_folder_is_left_alone(plan: Path, small: Scenario, tmp_path: Path) -> None:
    Study(plan).keep_part(0, tmp_path)
    before = (tmp_path / "study.json").read_text()
    with pytest.raises(FileExistsError, match="another study"):
        Study({**PLAN, "replicates": 2}, base=small.to_dict()).keep_part(0, tmp_path)
    assert (tmp_path / "study.json").read_text() == before


def test_points_of_a_study_are_scenarios(plan: Path, small: Scenario) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    study = Study(plan)
    first = parquet.read_table(BytesIO(study.part(0))).to_pandas()
    same = small.change({"/outlets/spacing": "50 ft", "/outlets/reach": "30 ft"}).seasons(4)
    mine = first[(first["factor_spacing"] == "50 ft") & (first["factor_reach"] == "30 ft")]
    np.testing.assert_array_equal(mine["cu_percent"].to_numpy(), same["cu_percent"])
    assert evenfall.__version__ in study.about()["version"]
