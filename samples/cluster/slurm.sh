#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Measures a series on the nodes of a Slurm cluster that share its folder, then ranks it.
#   samples/cluster/slurm.sh SERIES PARTS [SBATCH OPTION]...
# sends a job array of PARTS parts and one job after them that collects. swingloss must be on
# PATH on the nodes (or name it: SWINGLOSS=.../swingloss). A part that was killed is queued again,
# three times at most, and measures only what it had not finished.
#SBATCH --job-name=swingloss
#SBATCH --ntasks=1
#SBATCH --requeue
#SBATCH --open-mode=append
set -euo pipefail
program="${SWINGLOSS:-swingloss}"

# Exit code 1 is "done, but some bars could not be measured": the series goes on.
run() {
  local status=0
  "$program" "$@" || status=$?
  [ "$status" -ne 1 ] || status=0
  return "$status"
}

if [ -n "${SLURM_ARRAY_TASK_ID:-}" ]; then # a part, on its node
  status=0
  run run "$1" --only "$SLURM_ARRAY_TASK_ID/$2" --jobs "${SLURM_CPUS_PER_TASK:-1}" || status=$?
  if [ "$status" -ge 128 ] && [ "${SLURM_RESTART_COUNT:-0}" -lt 3 ]; then
    echo "part $SLURM_ARRAY_TASK_ID was killed (exit code $status): queued again" >&2
    scontrol requeue "${SLURM_ARRAY_JOB_ID}_$SLURM_ARRAY_TASK_ID"
    sleep 60 # the requeue ends this
  fi
  exit "$status"
fi

if [ -n "${SLURM_JOB_ID:-}" ]; then # the last job
  run collect "$1"
  exit
fi

if [ $# -lt 2 ]; then
  echo "usage: $0 SERIES PARTS [SBATCH OPTION]..." >&2
  exit 2
fi
series="$1" parts="$2"
shift 2
array=$(sbatch --parsable --array="1-$parts" "$@" "$0" "$series" "$parts")
last=$(sbatch --parsable --dependency="afterok:${array%%;*}" --kill-on-invalid-dep=yes "$@" "$0" "$series" "$parts")
echo "parts: job ${array%%;*}, collecting: job ${last%%;*}"
