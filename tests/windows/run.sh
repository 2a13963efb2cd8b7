#!/usr/bin/env bash
# Windows: builds the executable without its window and the tests of what touches files for Windows, and runs
# both under Wine. Wants gcc-mingw-w64-x86-64 and wine64, and a compiler that has a standard library for that
# system or its sources: `rustup target add x86_64-pc-windows-gnu`, or Debian's rustc-web, cargo-web and
# rust-web-src. Where one of them is missing, one line says so and nothing is tried.
#
#   tests/windows/run.sh            build the executable, compare what it prints, build and run the tests
#   tests/windows/run.sh --build    build the executable alone; its path is the last line
#   tests/windows/run.sh --numbers  build the executable and compare what it prints, without the tests
set -euo pipefail
cd "$(dirname "$0")/../.."
target=x86_64-pc-windows-gnu
missing() { echo "Windows is not tried here: $1 is missing"; exit 0; }

command -v x86_64-w64-mingw32-gcc >/dev/null || missing "x86_64-w64-mingw32-gcc (gcc-mingw-w64-x86-64)"
wine=$(command -v wine64 || ls /usr/lib/wine/wine64 2>/dev/null || true)
[ -n "$wine" ] || [ "${1:-}" = --build ] || missing "wine64"

export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$HOME/.cache/wheelpath-target}/windows"
build=(--locked --target "$target" --config "target.$target.linker='x86_64-w64-mingw32-gcc'")
if ! [ -d "$(rustc --print target-libdir --target "$target" 2>/dev/null)" ]; then
    # No such library beside the usual compiler: it is built from the sources of a compiler that has them.
    [ -d "$(/usr/bin/rustc --print sysroot 2>/dev/null)/lib/rustlib/src/rust/library/std" ] ||
        missing "a standard library for $target (rustc-web, cargo-web, rust-web-src)"
    export PATH=/usr/bin:$PATH RUSTC=/usr/bin/rustc RUSTDOC=/usr/bin/rustdoc RUSTC_BOOTSTRAP=1
    build+=(-Zbuild-std=std,panic_unwind,test)
fi

cargo build --release "${build[@]}" -p wheelpath --no-default-features --bin wheelpath
program="$CARGO_TARGET_DIR/$target/release/wheelpath.exe"
if [ "${1:-}" = --build ]; then
    echo "$program"
    exit 0
fi

work=$(mktemp -d)
trap 'WINEPREFIX="$work/wine" "${wine%64}server" -k 2>/dev/null || true; rm -rf "$work"' EXIT
export WINEPREFIX="$work/wine" WINEDEBUG=-all
"$wine" wineboot -i >/dev/null 2>&1 || true
# Wine 8 has no bcryptprimitives.dll, which every Windows since 8 has: a stand-in, for these tests alone.
system="$WINEPREFIX/drive_c/windows/system32"
if ! [ -e "$system/bcryptprimitives.dll" ]; then
    printf '%s\n' '#include <windows.h>' 'BOOLEAN WINAPI SystemFunction036(PVOID, ULONG);' \
        '__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE p, SIZE_T n) { return SystemFunction036(p, (ULONG)n); }' \
        >"$work/prng.c"
    x86_64-w64-mingw32-gcc -shared -o "$system/bcryptprimitives.dll" "$work/prng.c" -ladvapi32
fi

# Whether two texts say the same, their numbers to 1e-9: the sines of the two systems differ in the last bit.
same() {
    awk 'function next_number(text) { return match(text, /-?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?/) }
         function size(x) { return x < 0 ? -x : x }
         NR == FNR { here[FNR] = $0; lines = FNR; next }
         {
             a = here[FNR]; b = $0
             while (next_number(a)) {
                 before = substr(a, 1, RSTART - 1); x = substr(a, RSTART, RLENGTH); a = substr(a, RSTART + RLENGTH)
                 if (!next_number(b) || before != substr(b, 1, RSTART - 1)) { print "line " FNR; exit 1 }
                 y = substr(b, RSTART, RLENGTH); b = substr(b, RSTART + RLENGTH)
                 if (size(x - y) > 1e-9 * (1 + size(x))) { print "line " FNR ": " x " here, " y " there"; exit 1 }
             }
             if (a != b) { print "line " FNR; exit 1 }
         }
         END { if (FNR != lines) { print lines " lines here, " FNR " there"; exit 1 } }' "$1" "$2"
}

echo "the executable: the same numbers as here"
here="${HERE_PROGRAM:-}"
for car in demo-cars/*.ron; do
    for words in "readings --all --format json" "sweep --format csv" "check"; do
        # shellcheck disable=SC2086
        "$wine" "$program" ${words%% *} "$car" $(echo "$words" | cut -s -d' ' -f2-) >"$work/there" 2>"$work/said" ||
            { cat "$work/said"; echo "$words $car: ended with an error under Wine"; exit 1; }
        [ -s "$work/there" ] || { echo "$words $car: nothing printed under Wine"; exit 1; }
        [ -n "$here" ] || continue
        # shellcheck disable=SC2086
        "$here" ${words%% *} "$car" $(echo "$words" | cut -s -d' ' -f2-) >"$work/here"
        same "$work/here" "$work/there" || { echo "$words $car: differs from here"; exit 1; }
    done
done

[ "${1:-}" != --numbers ] || exit 0
echo "the tests of files and of the command line"
export "CARGO_TARGET_X86_64_PC_WINDOWS_GNU_RUNNER=$wine"
cargo test --no-fail-fast "${build[@]}" -p wheelpath-car-file -p wheelpath-project -p wheelpath-command-line
