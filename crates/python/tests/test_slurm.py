"""The ready file for a job array on a real Slurm of one node, with tasks lost on the way."""

from __future__ import annotations

import json
import os
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from slurm import Cluster, NotToBeHad, cluster, wait_until

from evenfall import Scenario

ARRAY = Path(__file__).parents[3] / "data" / "studies" / "array.sh"
TASKS, BLOCKS = 3, 12


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """The folder of a program named `evenfall`."""
    told = os.environ.get("EVENFALL_BIN")
    if told is None:
        pytest.skip("Slurm: EVENFALL_BIN names no program to run")
    folder = tmp_path / "bin"
    folder.mkdir()
    (folder / "evenfall").symlink_to(told)
    return folder


@pytest.fixture
def slurm(tmp_path_factory: pytest.TempPathFactory, program: Path) -> Iterator[Cluster]:
    """A cluster whose jobs find the program."""
    kept = os.environ.get("EVENFALL_SLURM")
    packages = Path(kept) if kept else tmp_path_factory.mktemp("packages") / "slurm"
    try:
        running = cluster(packages, tmp_path_factory.mktemp("slurm"))
        with running as one:
            one.env["PATH"] = f"{program}{os.pathsep}{one.env['PATH']}"
            yield one
    except NotToBeHad as why:
        pytest.skip(f"Slurm: {why}")


@pytest.fixture
def plan(small: Scenario, tmp_path: Path) -> Path:
    """Blocks of a point each, four to a task."""
    small.write(tmp_path / "base.json")
    levels = [f"{40 + number} ft" for number in range(BLOCKS)]
    factor = {"name": "spacing", "pointer": "/outlets/spacing", "levels": levels}
    plan = {"base": "base.json", "factors": [factor], "replicates": 12, "block_points": 1}
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(plan), encoding="utf-8")
    return path


def test_a_job_array_with_tasks_lost_on_the_way_gives_the_same_bytes(
    slurm: Cluster, program: Path, plan: Path
) -> None:
    folder = plan.parent

    def evenfall(*words: str) -> str:
        done = subprocess.run(
            [str(program / "evenfall"), "study", *words], capture_output=True, text=True, cwd=folder, timeout=120
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def parts(into: str) -> dict[str, bytes]:
        return {path.name: path.read_bytes() for path in (folder / into / "parts").iterdir()}

    def has_begun(task: int) -> bool:
        """Whether the first of a task's blocks is there, which are every third one."""
        return (folder / "out" / "parts" / f"block-{task - 1:06}.parquet").exists()

    array = f"--array=1-{TASKS}"
    job = slurm.said("sbatch", "--parsable", array, str(ARRAY), "plan.json", "out", cwd=folder)
    # One is killed as by a machine that is lost, at once after its first block, another is sent back to wait.
    # By its process: Slurm's own words for killing go a longer way, and the task might have ended by then.
    wait_until("task 1 has a block", lambda: has_begun(1), 60)
    lost = slurm.processes(job, 1)
    assert lost, "task 1 runs"
    for process in lost:
        os.kill(process, signal.SIGKILL)
    wait_until("task 2 has a block", lambda: has_begun(2), 60)
    slurm.said("scontrol", "requeue", f"{job}_2")
    wait_until("task 1 has ended", lambda: slurm.states(job)["1"] not in ("RUNNING", "COMPLETING"), 20)
    assert slurm.states(job)["1"] != "COMPLETED", "it was killed before its last block"
    wait_until("task 2 waits again", lambda: slurm.states(job)["2"] == "PENDING", 20)
    assert len(parts("out")) < BLOCKS
    slurm.said("scontrol", "requeue", f"{job}_1")
    for task in ("1", "2"):
        # Else Slurm waits two minutes, so that what the task was allowed before has run out everywhere: its
        # node refuses whatever was allowed in the second in which the task ended.
        slurm.said("scontrol", "update", f"JobId={job}_{task}", "StartTime=now+3")
    wait_until("all tasks have ended", lambda: slurm.all_ended(job), 90)
    told = "\n".join(path.read_text() for path in sorted(folder.glob("slurm-*.out"))) + slurm.log()
    assert slurm.states(job) == {str(task): "COMPLETED" for task in range(1, TASKS + 1)}, told

    evenfall("run", "plan.json", "--into", "plain")
    assert len(parts("plain")) == BLOCKS
    assert parts("out") == parts("plain")
    for into in ("out", "plain"):
        evenfall("gather", "plan.json", "--into", into)
    for table in ("study.parquet", "study.csv"):
        assert (folder / "out" / table).read_bytes() == (folder / "plain" / table).read_bytes()
