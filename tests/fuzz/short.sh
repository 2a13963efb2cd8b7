#!/usr/bin/env bash
# A short run of each target, the same every time: the seeds, then a fixed count of changes of them.
# It fails where the targets cannot be built, and where one finds something; the input is then left in
# the folder it names.
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
built="$("$here/build.sh")"
found="$(dirname "$(dirname "$built")")/found"
mkdir -p "$found"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT

short() {
    target="$1" runs="$2" more=()
    [ "$target" != car_file ] || more=("$here/../../demo-cars" "$here/../../examples/linkages")
    shift 2
    mkdir "$work/$target"
    printf -- '-- %s, %s runs\n' "$target" "$runs"
    "$built/$target" "$work/$target" "$here/seeds/$target" "${more[@]}" -runs="$runs" -seed=1 -timeout=20 \
        -artifact_prefix="$found/$target-" "$@" >"$work/$target.log" 2>&1 || {
        cat "$work/$target.log"
        printf '%s found something: see above; run the input again with %s/%s FILE\n' "$target" "$built" "$target"
        exit 1
    }
    grep -a DONE "$work/$target.log"
}

short car_file 20000 -max_len=20000 -dict="$here/car_file.dict"
short point_table 40000 -max_len=8000 -dict="$here/point_table.dict"
short solver 4000 -max_len=700 -len_control=0
short beside_car 20000 -max_len=12000 -dict="$here/car_file.dict"
short two_writers 400 -max_len=200 -len_control=0
