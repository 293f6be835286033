"""A study on a Dask cluster: every block a task, kept in a folder that all workers see.

    python on_dask.py wheels.json wheels tcp://scheduler:8786

Without an address a cluster of this machine's cores is started. A worker that is lost costs its block
alone: the task is run again elsewhere and gives the same bytes.
"""

import sys
from pathlib import Path

from dask.distributed import Client, LocalCluster, as_completed

import evenfall


def main(plan: str, into: str, address: str | None = None) -> None:
    study = evenfall.Study(plan)
    with Client(address or LocalCluster(threads_per_worker=1)) as client:
        shared = client.scatter(study, broadcast=True)
        tasks = client.map(
            lambda block, study: str(study.keep_part(block, into)), range(study.blocks), study=shared, pure=False
        )
        for done, task in enumerate(as_completed(tasks), 1):
            print(f"{done} of {study.blocks} blocks: {task.result()}", flush=True)
    parts = sorted(Path(into, "parts").glob("block-*.parquet"))
    table, lines = study.gather(parts)
    Path(into, "study.parquet").write_bytes(table)
    Path(into, "study.csv").write_bytes(lines)


if __name__ == "__main__":
    main(*sys.argv[1:])
