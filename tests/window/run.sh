#!/usr/bin/env bash
# The real window under a virtual display: it opens, costs nothing at rest, the first click after a long
# rest counts, and after a resize it is wholly drawn without anyone touching it. Wants xvfb, xdotool, imagemagick and a Vulkan driver (mesa-vulkan-drivers draws in
# software), and the executable that `cargo test` built.
set -euo pipefail
cd "$(dirname "$0")/../.."
program="${1:-${CARGO_TARGET_DIR:-$HOME/.cache/wheelpath-target}/debug/wheelpath}"
work=$(mktemp -d)
export XDG_RUNTIME_DIR="$work/run" XDG_STATE_HOME="$work/state"
mkdir -m 700 "$XDG_RUNTIME_DIR"
display=:$((90 + RANDOM % 900))
# Room for a window of 1440x860 beside the bars that a system has.
Xvfb "$display" -screen 0 1456x932x24 >/dev/null 2>&1 &
server=$!
export DISPLAY=$display WAYLAND_DISPLAY=
pid=
finish() {
    [ -z "$pid" ] || kill "$pid" 2>/dev/null || true
    kill "$server" 2>/dev/null || true
    rm -rf "$work"
}
trap finish EXIT
for _ in $(seq 50); do xdotool getmouselocation >/dev/null 2>&1 && break; sleep 0.2; done

"$program" open alder >"$work/log" 2>&1 &
pid=$!

picture() { import -window root "$work/$1.png"; }
# How many pixels of the window's middle differ between two pictures.
differing() {
    compare -metric AE -extract 700x600+420+100 "$work/$1.png" "$work/$2.png" null: 2>&1 | cut -d' ' -f1 | cut -d. -f1 || true
}
ticks() { awk '{print $14 + $15}' "/proc/$pid/stat"; }
# Waits until two pictures a few seconds apart are the same, and not an empty screen, and nothing was drawn
# between them: on a busy machine the same picture may be on its way once more.
settle() {
    for _ in $(seq 60); do
        picture a; busy=$(ticks); sleep 3; busy=$(($(ticks) - busy)); picture b
        kill -0 "$pid" 2>/dev/null || { echo "the window closed by itself:"; tail -5 "$work/log"; exit 1; }
        colours=$(identify -format %k "$work/b.png")
        [ "$(differing a b)" = 0 ] && [ "$colours" -gt 100 ] && [ "$busy" -le 2 ] && return
    done
    echo "the window never came to rest"; exit 1
}

settle
picture rest
before=$(ticks); sleep 12; after=$(ticks)
echo "processor ticks (1/$(getconf CLK_TCK) s) in 12 s at rest: $((after - before))"
[ $((after - before)) -le 2 ] || { echo "the window does not rest"; exit 1; }

# The button "Front", after the rest: the very first click.
xdotool mousemove 353 14 click 1
sleep 1
settle
picture front
changed=$(differing rest front)
echo "pixels of the stage changed by the first click: $changed"
[ "$changed" -gt 20000 ] || { echo "the first click after a rest was lost"; exit 1; }

# Another size: nobody touches the window, and it is drawn as it stays. The pointer rests where nothing shows
# that it is there.
timeout 10 xdotool mousemove 4 130
settle
window=$(timeout 10 xdotool search --onlyvisible --name Wheelpath | tail -1)
timeout 10 xdotool windowsize "$window" 1200 760
sleep 6
picture resized
before=$(ticks); sleep 6; after=$(ticks)
echo "processor ticks in 6 s after a resize: $((after - before))"
[ $((after - before)) -le 2 ] || { echo "the window does not rest after a resize"; exit 1; }
timeout 10 xdotool mousemove_relative 3 3
settle
picture touched
left=$(compare -metric AE -extract 1200x760+0+0 "$work/resized.png" "$work/touched.png" null: 2>&1 | cut -d' ' -f1 | cut -d. -f1 || true)
echo "pixels that were drawn only when the pointer moved: $left"
[ "$left" -lt 500 ] || { echo "after a resize the window is half drawn"; exit 1; }
echo "the window opens, rests, takes the first click and another size"
