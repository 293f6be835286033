#!/bin/bash
# The study as an array of jobs:
#
#     sbatch array.sh wheels.json wheels      # plan, folder of the results
#     evenfall study gather wheels.json --into wheels
#
# Jobs that are ended early (TERM) stop after the block at hand; submitted again they go on where they were.
#SBATCH --job-name=evenfall-study
#SBATCH --array=1-8
#SBATCH --cpus-per-task=2
#SBATCH --time=01:00:00
#SBATCH --signal=TERM@60

set -eu
exec evenfall --quiet --threads "${SLURM_CPUS_PER_TASK:-1}" study run "$1" --into "$2" \
    --shard "${SLURM_ARRAY_TASK_ID}/${SLURM_ARRAY_TASK_COUNT}"
