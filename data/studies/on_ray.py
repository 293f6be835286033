"""A study on Ray: every block a task, its part sent back and gathered here.

    python on_ray.py wheels.json wheels.parquet
"""

import sys
from pathlib import Path

import ray

import evenfall


def main(plan: str, table: str) -> None:
    study = evenfall.Study(plan)
    ray.init(ignore_reinit_error=True)
    shared = ray.put(study)
    run = ray.remote(max_retries=3)(lambda study, block: study.part(block))
    parts = ray.get([run.remote(shared, block) for block in range(study.blocks)])
    rows, _ = study.gather(parts)
    Path(table).write_bytes(rows)


if __name__ == "__main__":
    main(*sys.argv[1:])
