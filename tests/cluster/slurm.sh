#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The Slurm job array on a cluster of two nodes that live on this machine: one part killed midway,
# queued again, the same bytes. Wants root (for the daemons) and slurmctld, slurmd, munged.
# Usage: slurm.sh PROGRAM SERIES_MAKER SCRATCH [BARS]
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")"
mkdir -p "$3"
scratch="$(realpath "$3")" bars="${4:-24}"
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
source "$here/common.sh"
for tool in slurmctld slurmd munged sbatch; do
  command -v "$tool" > /dev/null || PATH="$PATH:/usr/sbin"
  command -v "$tool" > /dev/null || skip "there is no $tool (Debian packages slurm-wlm, munge)"
done
[ "$(id -u)" -eq 0 ] || skip "only root can start the daemons"

two_series "$bars"
site=$(mktemp -d) # sockets want a short path of root's own
chmod 755 "$site"
daemons=()
end() {
  local pid
  for pid in "${daemons[@]}"; do kill "$pid" 2> /dev/null || true; done
  wait
  rm -rf "$site"
}
trap end EXIT

export SLURM_CONF="$site/slurm.conf"
mkdir -p "$site/state" "$site/n1" "$site/n2"
dd if=/dev/urandom of="$site/key" bs=1 count=1024 status=none
chmod 400 "$site/key"
cat > "$SLURM_CONF" << EOF
ClusterName=swingloss
SlurmctldHost=$(hostname -s)(localhost)
SlurmctldPort=26817
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$site/munge.socket
CredType=cred/munge
StateSaveLocation=$site/state
SlurmdSpoolDir=$site/%n
SlurmctldPidFile=$site/slurmctld.pid
SlurmdPidFile=$site/%n.pid
SlurmctldLogFile=$site/slurmctld.log
SlurmdLogFile=$site/%n.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
MpiDefault=none
SwitchType=switch/none
ReturnToService=2
SchedulerParameters=sched_interval=2,sched_min_interval=100000
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
NodeName=n1 NodeHostname=$(hostname -s) NodeAddr=localhost Port=26818 CPUs=1
NodeName=n2 NodeHostname=$(hostname -s) NodeAddr=localhost Port=26819 CPUs=1
PartitionName=all Nodes=n1,n2 Default=YES MaxTime=INFINITE State=UP
EOF
munged --foreground --force --key-file="$site/key" --socket="$site/munge.socket" \
  --pid-file="$site/munge.pid" --log-file="$site/munge.log" --seed-file="$site/munge.seed" > "$site/munge.out" 2>&1 &
daemons+=($!)
sleep 1
slurmctld -D > "$site/ctl.out" 2>&1 &
daemons+=($!)
for node in n1 n2; do
  slurmd -D -N "$node" > "$site/$node.out" 2>&1 &
  daemons+=($!)
done
for _ in $(seq 1 60); do
  [ "$(sinfo -h -t idle -o %D 2> /dev/null | head -1)" = 2 ] && break
  sleep 0.5
done
[ "$(sinfo -h -t idle -o %D)" = 2 ] || { tail "$site"/*.out "$site"/*.log; fail "the two nodes did not come up"; }

cd "$scratch"
SWINGLOSS="$program" "$here/../../samples/cluster/slurm.sh" parts 4 --output="$scratch/job-%a.log"
kill_one_part $((bars / 3))
for _ in $(seq 1 1200); do
  [ -n "$(squeue -h)" ] || break
  # Slurm holds a job that was queued again for two minutes; the test does not wait so long.
  for job in $(squeue -h -t PD -o '%i %r' | awk '$2 == "BeginTime" {print $1}'); do
    scontrol update "JobId=$job" StartTime=now
  done
  sleep 0.5
done
[ -z "$(squeue -h)" ] || { squeue; fail "the jobs do not end"; }
grep -h "queued again" job-*.log || { tail job-*.log; fail "no part was queued again"; }
for node in n1 n2; do grep -q "Launching batch job\|launch task\|JobId" "$site/$node.log" || fail "$node had no work"; done
[ -f parts/results/report.html ] || { tail job-*.log; fail "nothing was collected"; }
same_results "$bars"
