#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# What becomes of a series when the machine lets it down: makes each fault, looks at every file
# afterwards, runs again, and compares all results byte for byte with those of an undisturbed run.
# Prints the table of tests/faults/table.md; ends with 1 where a trial failed.
# Usage: run.sh PROGRAM SERIES_MAKER SCRATCH [KILLS | short]     (KILLS: 50 if not given)
# "short" makes every kind of fault too, on one filmed bar less and at fewer moments.
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")"
mkdir -p "$3"
scratch="$(realpath "$3")" kills="${4:-50}"
filmed=3 percents="1 2 5 10 20 40 60 80" at_once=8
memories="150 250 300 350 400 450 500 550 600 700 800 1000"
if [ "$kills" = short ]; then
  kills=1 filmed=2 percents="1 40" at_once=1 memories="150 350 600"
fi
cd "$scratch"
mounted=
end() { [ -z "$mounted" ] || umount "$mounted" 2> /dev/null || true; }
trap end EXIT
failures=0
RANDOM=7 # the moments of the kills are the same in every call, the machine's pace is not

# --- what is looked at after every fault -----------------------------------------------------

# Every file of FOLDER is one of the undisturbed run's, with all of its bytes, or a half file under
# a name of its own that says so; says what is wrong.
torn_files() { # FOLDER
  local file name
  [ -d "$1/results" ] || return 0
  while IFS= read -r file; do
    name="${file#"$1"/results/}"
    [[ "$name" == *.part-*-*-* || "$name" == settled.json ]] && continue
    cmp -s "$file" "$scratch/wanted/results/$name" || echo "torn: $name"
  done < <(find "$1/results" -type f)
}

# As torn_files, for a run that ended by itself with an account of bars that are missing: its report
# is another, its records are not.
torn_records() { # FOLDER
  torn_files "$1" | grep -E 'torn: (swings|surfaces|free-swings)/' || true
}

# A run that is not disturbed gives what it should, to the byte, and nothing else.
heals() { # FOLDER
  (cd "$1/.." && "$program" run "$(basename "$1")" --quiet > /dev/null 2>&1) || { echo "the rerun ended with $?"; return 0; }
  diff -rq -x settled.json "$scratch/wanted/results" "$1/results" || true
}

rows=()
# One kind of fault: how often, how often as wanted, what the program said, the first failure.
row() { # FAULT TRIALS GOOD SAID WHAT
  local verdict=passed
  [ "$2" -eq "$3" ] || { verdict="FAILED: $5"; failures=$((failures + 1)); }
  rows+=("| $1 | $2 | $3 | $4 | $verdict |")
  echo "${rows[-1]}" >&2
}

# The message of a run that was refused, without what differs from machine to machine.
said() { # LOG
  tail -1 "$1" | tr '|\n' '/ ' | sed "s#$scratch/##g" | cut -c1-160
}

fresh_series() { # FOLDER
  rm -rf "$1"
  mkdir -p "$(dirname "$1")"
  cp -r "$scratch/series" "$1"
}

# --- the undisturbed run ---------------------------------------------------------------------

rm -rf series wanted
"$maker" series "$filmed" 2
cp -r series wanted
mkdir -p once && rm -rf once/s
begin=$(date +%s%N)
cp -r series once/s
(cd once && "$program" run s --quiet) || { echo "the undisturbed run ended with $?" >&2; exit 1; }
lasts_ms=$((($(date +%s%N) - begin) / 1000000))
mv once/s/results wanted/results

# --- killed ----------------------------------------------------------------------------------

killed() { # NAME TRIALS STORED_BEFORE OPTION...
  local name="$1" trials="$2" before="$3" good=0 what="" fault moment
  shift 3
  for _ in $(seq 1 "$trials"); do
    fresh_series once/s
    [ "$before" = no ] || cp -r wanted/results once/s/results
    moment=$((RANDOM * lasts_ms / 32768))
    (cd once && exec "$program" run s --quiet "$@" > /dev/null 2>&1) &
    local pid=$!
    sleep "$((moment / 1000)).$(printf %03d $((moment % 1000)))"
    kill -9 "$pid" 2> /dev/null || true
    wait "$pid" 2> /dev/null || true
    fault="$(torn_files once/s)$(heals once/s)"
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
  done
  row "$name" "$trials" "$good" "–" "$what"
}
killed "kill -9 at a random moment of a run" "$kills" no
killed "kill -9 at a random moment of a run that measures all again (\`--fresh\`)" $(((kills + 4) / 5)) yes --fresh

# --- full disk, read-only --------------------------------------------------------------------

full_disk() {
  local need have good=0 trials=0 what="" fault status line=""
  need=$(du -sk series | cut -f1)
  have=$(du -sk wanted/results | cut -f1)
  for percent in $percents; do
    trials=$((trials + 1))
    mkdir -p disk
    mount -t tmpfs -o "size=$((need + 200 + have * percent / 100))k" tmpfs disk
    mounted="$scratch/disk"
    cp -r series disk/s
    status=0
    (cd disk && "$program" run s --quiet > ../full.out 2> ../full.err) || status=$?
    fault="$(torn_records disk/s)"
    [ "$status" -eq 2 ] || fault="$fault; exit code $status on a full disk ($percent %)"
    line="$(said full.err)"
    mount -o remount,size=1g disk
    fault="$fault$(heals disk/s)"
    umount disk
    mounted=
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
  done
  row "disk full, after 1 to 80 % of the results" "$trials" "$good" "$line" "$what"
}

read_only() {
  local fault status=0
  mkdir -p disk
  mount -t tmpfs -o size=1g tmpfs disk
  mounted="$scratch/disk"
  cp -r series disk/s
  mount -o remount,ro disk
  (cd disk && "$program" run s --quiet > ../ro.out 2> ../ro.err) || status=$?
  fault="$([ ! -e disk/s/results ] || echo "results were written")"
  [ "$status" -eq 2 ] || fault="$fault; exit code $status"
  mount -o remount,rw disk
  fault="$fault$(heals disk/s)"
  umount disk
  mounted=
  row "series on a read-only disk" 1 "$([ -z "$fault" ] && echo 1 || echo 0)" "$(said ro.err)" "$fault"
}

if [ "$(id -u)" -eq 0 ] && mkdir -p disk && mount -t tmpfs -o size=1m tmpfs disk 2> /dev/null; then
  umount disk
  full_disk
  read_only
else
  rows+=("| disk full; read-only disk | 0 | 0 | skipped: only root can mount a small disk | skipped |")
fi

# --- clip taken away -------------------------------------------------------------------------

clip_gone() {
  local good=0 what="" fault status
  for number in $(seq 2 "$filmed"); do
    fresh_series once/s
    status=0
    (cd once && exec "$program" run s --quiet --jobs 1 > ../gone.out 2> ../gone.err) &
    local pid=$!
    until [ -e once/s/results/swings/F1.json ]; do sleep 0.01; done
    mv "once/s/clips/F$number.mp4" once/away.mp4
    wait "$pid" || status=$?
    fault="$(torn_records once/s)"
    # It may have been read already; then the run is whole, but for its pictures.
    if [ "$status" -ne 0 ]; then
      [ "$status" -eq 1 ] && grep -q "^F$number: " gone.err || fault="$fault; exit code $status, $(said gone.err)"
    fi
    mv once/away.mp4 "once/s/clips/F$number.mp4"
    fault="$fault$(heals once/s)"
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
  done
  row "clip taken away during the run" $((filmed - 1)) "$good" "$(said gone.err)" "$what"
}
clip_gone

# --- memory ----------------------------------------------------------------------------------

little_memory() {
  local good=0 trials=0 what="" fault status line="" codes=""
  for megabytes in $memories; do
    trials=$((trials + 1))
    fresh_series once/s
    status=0
    (cd once && ulimit -v $((megabytes * 1024)) && exec "$program" run s --quiet --jobs 1 > ../memory.out 2> ../memory.err) 2> /dev/null || status=$?
    codes="$codes $status"
    fault="$(torn_records once/s)"
    [ "$status" -eq 0 ] || [ ! -s memory.err ] || line="$(said memory.err)"
    fault="$fault$(heals once/s)"
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-at $megabytes MB: $fault}"; fi
  done
  row "address space limited to 150 ... ${memories##* } MB (exit codes:$codes)" "$trials" "$good" "$line" "$what"
}
little_memory

# --- two runs at once ------------------------------------------------------------------------

two_at_once() {
  local good=0 trials="$at_once" what="" fault first second
  for _ in $(seq 1 $trials); do
    fresh_series once/s
    first=0 second=0
    (cd once && exec "$program" run s --quiet > /dev/null 2>&1) &
    local pid=$!
    sleep "0.$((RANDOM % 10))"
    (cd once && exec "$program" run s --quiet > /dev/null 2>&1) || second=$?
    wait "$pid" || first=$?
    fault="$(diff -rq -x settled.json wanted/results once/s/results || true)"
    [ "$first$second" = 00 ] || fault="$fault; exit codes $first and $second"
    fault="$fault$(heals once/s)"
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
  done
  row "two runs at once on one series" "$trials" "$good" "–" "$what"
}
two_at_once

# --- the clock -------------------------------------------------------------------------------

clock() {
  local good=0 trials=0 what="" fault stored
  for when in "-400 days" "+400 days"; do
    trials=$((trials + 1))
    fresh_series once/s
    cp -r wanted/results once/s/results
    rm once/s/results/swings/F2.json once/s/results/report.html
    find once/s -type f -exec touch -d "$when" {} +
    stored="$(stat -c %Y once/s/results/swings/F1.json)"
    fault="$(heals once/s)"
    [ "$(stat -c %Y once/s/results/swings/F1.json)" = "$stored" ] || fault="$fault; a stored bar was measured again"
    if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
  done
  if command -v faketime > /dev/null; then
    for when in "-400 days" "+400 days"; do
      trials=$((trials + 1))
      fresh_series once/s
      cp -r wanted/results once/s/results
      rm once/s/results/swings/F2.json
      fault="$(cd once && faketime -f "${when/ days/d}" "$program" run s --quiet 2>&1 || echo "exit code $?")"
      fault="$fault$(diff -rq -x settled.json wanted/results once/s/results || true)"
      if [ -z "$fault" ]; then good=$((good + 1)); else what="${what:-$fault}"; fi
    done
  fi
  row "clock set back or ahead by 400 days; files from the future" "$trials" "$good" "–" "$what"
}
clock

cat << EOF
# Faults

By \`tests/faults/run.sh\`: each trial makes the fault, looks at every file afterwards (all of its bytes
or none under its name), runs again without the fault, and compares all results byte for byte with those
of an undisturbed run. $filmed filmed and 2 typed bars; the undisturbed run took $((lasts_ms / 1000)).$((lasts_ms % 1000 / 100)) s.

| fault | trials | as wanted | the program's last words | verdict |
| --- | --- | --- | --- | --- |
EOF
printf '%s\n' "${rows[@]}"
[ "$failures" -eq 0 ]
