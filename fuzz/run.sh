#!/usr/bin/env bash
# Runs the targets guided by coverage, on stable Rust.
#
#   fuzz/run.sh [SECONDS] [TARGET...]     20 seconds each, all targets, unless said otherwise
#
# A target begins with its seeds in fuzz/corpus and keeps what it finds in a folder of its own under the build
# folder, so that a checkout stays clean and the next run goes on from there. It fails where an input breaks a promise,
# takes longer than 20 s or more than 2 GB, and where a target turns out not to be guided.
#
# Environment: CARGO_TARGET_DIR (target/guided).
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
target_dir=$(realpath -m "${CARGO_TARGET_DIR:-$here/../target/guided}")
cd "$here"
seconds=${1:-20}
shift || true
if [ $# = 0 ]; then
    for file in targets/*.rs; do set -- "$@" "$(basename "$file" .rs)"; done
fi

if ! command -v c++ >/dev/null; then # libFuzzer is compiled from its source
    sudo=(); [ "$(id -u)" = 0 ] || sudo=(sudo)
    "${sudo[@]}" apt-get update -qq
    "${sudo[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends g++
fi

# The compiler's own pass counts edges and hands comparisons to the fuzzer. With a target named, build scripts and macros
# are left as they are. Sums that overflow and failed assertions are findings too.
host=$(rustc -vV | sed -n 's/^host: //p')
flags=(--cfg fuzzing -Ccodegen-units=1 -Cdebug-assertions=yes -Coverflow-checks=yes -Cpasses=sancov-module)
for pass in level=4 inline-8bit-counters pc-table trace-compares; do
    flags+=("-Cllvm-args=-sanitizer-coverage-$pass")
done
bins=()
for name; do bins+=(--bin "$name"); done
CARGO_TARGET_DIR=$target_dir RUSTFLAGS="${flags[*]}" cargo build -q --release --locked --target "$host" "${bins[@]}"

for name; do
    corpus=$target_dir/corpus/$name
    findings=$target_dir/findings/$name
    log=$target_dir/$name.log
    mkdir -p "$corpus" "$findings"
    words=()
    if [ -f "words/$name" ]; then words=("-dict=words/$name"); fi
    if ! "$target_dir/$host/release/$name" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 -max_len=4096 \
        -print_final_stats=1 -artifact_prefix="$findings/" "${words[@]}" "$corpus" "corpus/$name" 2>"$log" >/dev/null; then
        grep -v '^#' "$log" | head -n 40 >&2
        echo "fuzz: $name: an input that breaks it is in $findings" >&2
        exit 1
    fi
    last=$(grep -E '^#[0-9]+.* cov: [1-9]' "$log" | tail -n 1) || { echo "fuzz: $name is not guided" >&2; exit 1; }
    printf 'ok   %-10s %s\n' "$name" "$(tr -s '\t ' ' ' <<<"$last")"
done
