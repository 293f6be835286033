"""A study on a Dask cluster of this machine, with a worker that is killed on the way."""

from __future__ import annotations

import json
import os
import runpy
import signal
from pathlib import Path

import pytest

from evenfall import Scenario, Study

STUDIES = Path(__file__).parents[3] / "data" / "studies"


@pytest.fixture
def plan(small: Scenario, tmp_path: Path) -> Path:
    """Six blocks of a point each."""
    small.write(tmp_path / "base.json")
    levels = [f"{number} ft" for number in (40, 42, 44, 46, 48, 50)]
    factor = {"name": "spacing", "pointer": "/outlets/spacing", "levels": levels}
    plan = {"base": "base.json", "factors": [factor], "replicates": 2, "block_points": 1}
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(plan), encoding="utf-8")
    return path


def test_the_ready_file_for_dask_gives_the_same_table(plan: Path, tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    study = Study(plan)
    assert study.blocks == 6
    table, lines = study.gather([study.part(block) for block in range(study.blocks)])
    driver = runpy.run_path(str(STUDIES / "on_dask.py"))
    driver["main"](str(plan), str(tmp_path / "out"))
    assert (tmp_path / "out" / "study.parquet").read_bytes() == table
    assert (tmp_path / "out" / "study.csv").read_bytes() == lines


def test_a_worker_that_is_killed_costs_nothing_but_time(plan: Path) -> None:
    distributed = pytest.importorskip("distributed")
    study = Study(plan)
    table, _ = study.gather([study.part(block) for block in range(study.blocks)])
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        with distributed.Client(cluster) as client:
            shared = client.scatter(study, broadcast=True)
            tasks = [client.submit(study_part, shared, block, pure=False) for block in range(study.blocks)]
            distributed.wait(tasks, return_when="FIRST_COMPLETED")
            pids = client.run(os.getpid)
            os.kill(next(iter(pids.values())), signal.SIGKILL)
            parts = client.gather(tasks)
    again, _ = study.gather(parts)
    assert again == table


def study_part(study: Study, block: int) -> bytes:
    return study.part(block)
