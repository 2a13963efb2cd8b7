#!/usr/bin/env bash
# Fuzzes one target for so many seconds of its own processor time, whatever else the machine does, and keeps
# what it learned for the next time: long.sh TARGET [SECONDS, an hour] [FOLDER for corpus, log and finds]
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
target="$1"
seconds="${2:-3600}"
folder="${3:-$HOME/.cache/wheelpath-fuzz}"
built="$("$here/build.sh")"
mkdir -p "$folder/corpus/$target" "$folder/found"
log="$folder/$target-$(date -u +%Y%m%dT%H%M%SZ).log"
case "$target" in
    car_file) options=("$here/../../demo-cars" "$here/../../examples/linkages" -max_len=20000 -dict="$here/car_file.dict") ;;
    point_table) options=(-max_len=8000 -dict="$here/point_table.dict") ;;
    beside_car) options=(-max_len=12000 -dict="$here/car_file.dict") ;;
    *) options=(-max_len=700 -len_control=0) ;;
esac
# The executable as it is now: a later build must not change what runs.
cp "$built/$target" "$folder/$target-$$"
trap 'rm -f "$folder/$target-$$"' EXIT
{
    git -C "$here" log -1 --format='commit %H%ncommitted %cI'
    git -C "$here" status --short | sed 's/^/not committed: /'
    printf 'started %s\n' "$(date -u +%FT%TZ)"
} >"$log"
status=0
(
    # A process that has had its time is told so and ends as after the last run.
    "$folder/$target-$$" "$folder/corpus/$target" "$here/seeds/$target" "${options[@]}" -timeout=30 \
        -print_final_stats=1 -artifact_prefix="$folder/found/$target-" >>"$log" 2>&1 &
    process=$!
    hertz="$(getconf CLK_TCK)"
    while [ -r "/proc/$process/stat" ]; do
        # User and system ticks, behind the name in brackets.
        ticks="$(sed 's/.*) //' "/proc/$process/stat" 2>/dev/null | awk '{print $12 + $13}')"
        if [ "${ticks:-0}" -ge $((seconds * hertz)) ]; then
            kill -INT "$process" || true
            break
        fi
        sleep 2
    done
    wait "$process"
) || status=$?
printf 'ended %s, status %s\n' "$(date -u +%FT%TZ)" "$status" >>"$log"
# Interrupted (72) is the good end; a find has another.
grep -a -A4 'panicked at\|ERROR: libFuzzer' "$log" && exit 1
[ "$status" = 72 ] || [ "$status" = 0 ]
