#!/bin/bash
# The study as an array of jobs:
#
#     sbatch array.sh wheels.json wheels      # plan, folder of the results
#     evenfall study gather wheels.json --into wheels
#
# A job that is ended early gives up the block at hand and keeps those before it; submitted again, or sent
# back to wait (`scontrol requeue`), it goes on where it was. B: the warning a minute before the time is over
# goes to the script, which here is the program; without it Slurm tells only steps that `srun` starts.
#SBATCH --job-name=evenfall-study
#SBATCH --array=1-8
#SBATCH --cpus-per-task=2
#SBATCH --time=01:00:00
#SBATCH --signal=B:TERM@60

set -eu
exec evenfall --quiet --threads "${SLURM_CPUS_PER_TASK:-1}" study run "$1" --into "$2" \
    --shard "${SLURM_ARRAY_TASK_ID}/${SLURM_ARRAY_TASK_COUNT}"
