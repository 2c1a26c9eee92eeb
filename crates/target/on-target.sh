#!/usr/bin/env bash
# Builds Legwork's core for three bare-metal targets, and runs programs on emulated boards.
#
#   on-target.sh COMMAND...
#     build    the core, for each target and each set of features
#     vectors  every calculation: the same bits on the host and on each board
#     size     flash of each probe without an empty program's, the largest functions, and RAM a capacity
#     nopanic  the linker proves that no probe can panic, and refuses one that can
#     noheap   no program holds an allocator
#     stack    worst case from the call graph, beside the painted figure
#     bench    the reference home: one CHECK line for each target
#     meter    a conversation with the meter
#     c        the C library: header, example and test on the host and on a board
#     all      all of these
#
# A target that rustup has, or may add, is used as it is. RUSTUP_AUTO_INSTALL=0 forbids adding; then, or where
# rustup has no such target at hand, the standard library comes from Debian's source package, built once.
#
# Environment: LEGWORK_CACHE (a folder for sysroots and builds), LEGWORK_SYSROOT (rustup or private, to force
# one way), LEGWORK_SECONDS (the longest an emulator may run; 120).
set -euo pipefail
export LC_ALL=C
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
root=$(cd "$here/../.." && pwd -P)
cache=${LEGWORK_CACHE:-${XDG_CACHE_HOME:+$XDG_CACHE_HOME/legwork}}
cache=${cache:-$here/cache}
mkdir -p "$cache"
cache=$(cd "$cache" && pwd -P)
# Builds belong to one checkout: cargo trusts time stamps, and takes another checkout's program for fresh.
builds=$cache/build-$(printf %s "$root" | sha256sum | cut -c1-8)
log=$builds/log
mkdir -p "$builds"
# What a caller set for a host build must not reach the board's.
unset RUSTC RUSTFLAGS CARGO_ENCODED_RUSTFLAGS CARGO_BUILD_TARGET CARGO_BUILD_RUSTFLAGS CARGO_TARGET_DIR
unset RUSTC_WRAPPER RUSTC_WORKSPACE_WRAPPER RUSTC_BOOTSTRAP RUSTDOCFLAGS

M4=thumbv7em-none-eabihf M0=thumbv6m-none-eabi RV=riscv32imac-unknown-none-elf
targets=("$M4" "$M0" "$RV")
core_features=("" serde defmt serde,defmt)  # sets of the core's features, each built for each target
# crates/target's features, one for each calculation; the last only proves, it is larger than the smallest board
probes=(probe-build probe-level probe-noise probe-dc probe-singles probe-check probe-report probe-locate probe-plan probe-mend)
proofs=("${probes[@]}" probe-random)
oldest=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' "$here/Cargo.toml") # Rust that compiles the core
bounded=(bench_check bench_locate)  # functions whose stack is bounded

die() { printf 'on-target: %s\n' "$*" >&2; exit 1; }
ok() { printf 'ok   %s\n' "$*"; }
# try WHAT COMMAND...: runs quietly; shows what was said only when it fails
try() {
    local what=$1; shift
    "$@" >"$log" 2>&1 || { tail -n 40 "$log" >&2; die "failed: $what"; }
}

# ---- what the machine needs

apt_need() { # apt_need PACKAGE...: installs those that are missing
    local missing=() package
    for package; do
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
    done
    [ ${#missing[@]} = 0 ] || apt_newest "${missing[@]}"
}
apt_newest() { # apt_newest PACKAGE...: installs or upgrades, by today's lists: a machine's own may be months old
    local sudo=()
    command -v apt-get >/dev/null || die "please install the equivalent of: $*"
    [ "$(id -u)" = 0 ] || sudo=(sudo)
    echo "installing $*"
    try "apt-get update" "${sudo[@]}" apt-get update -qq </dev/null
    try "apt-get install $*" "${sudo[@]}" env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y -qq --no-install-recommends "$@" </dev/null
}
need() { command -v "$1" >/dev/null || apt_need "${2:-$1}"; } # need PROGRAM [PACKAGE]

rustup_has() { # rustup_has TARGET: there already, or added now
    command -v rustup >/dev/null || return 1
    (cd "$root" && rustup target list --installed 2>/dev/null) | grep -qx "$1" && return 0
    [ "${RUSTUP_AUTO_INSTALL:-1}" != 0 ] && (cd "$root" && timeout 300 rustup target add "$1") >"$log" 2>&1 </dev/null
}

# prepare TARGET: sets CARGO and the array BOARD_ENV that make `$CARGO build --target TARGET` work
prepared=
prepare() {
    local target=$1
    [ "$prepared" != "$target" ] || return 0
    prepared=$target
    case ${LEGWORK_SYSROOT:-} in
        rustup) rustup_has "$target" || die "rustup has no target $target" ;;
        private) private_sysroot "$target"; return ;;
        "") rustup_has "$target" || { private_sysroot "$target"; return; } ;;
        *) die "LEGWORK_SYSROOT takes rustup or private" ;;
    esac
    CARGO=cargo BOARD_ENV=() BOARD_FLAGS="" TOOLCHAIN=rustup
}

private_sysroot() { # core, alloc and compiler_builtins, built offline from the compiler's own source package
    local target=$1 version source key lib
    apt_need rustc-web rust-web-src cargo-web
    # An old one may be there already: it lacks what is vendored, or can't compile the core.
    version=$(/usr/bin/rustc --version | cut -d' ' -f2)
    if [ "$(printf '%s\n' "$oldest" "$version" | sort -V | head -n 1)" != "$oldest" ]; then
        apt_newest rustc-web rust-web-src cargo-web
    fi
    # the source must be the compiler's own: an upgrade may have come to only one of them
    version=$(dpkg-query -W -f='${Version}' rustc-web)
    [ "$version" = "$(dpkg-query -W -f='${Version}' rust-web-src)" ] || die "rustc-web and rust-web-src differ in version"
    source=$(/usr/bin/rustc --print sysroot)/lib/rustlib/src/rust/library
    key=$(printf %s "$version 1" | sha256sum | cut -c1-8)
    sysroot=$cache/sysroot-$key
    lib=$sysroot/lib/rustlib/$target/lib
    exec 9>"$cache/lock"
    flock 9
    if [ ! -e "$lib/complete" ]; then
        echo "building the standard library for $target"
        local stub=$cache/stub
        rm -rf "$stub"
        mkdir -p "$stub/src" "$stub/.cargo" "$lib"
        echo '#![no_std]' >"$stub/src/lib.rs"
        cat >"$stub/Cargo.toml" <<-'TOML'
		[package]
		name = "stub"
		version = "0.0.0"
		edition = "2021"
		[workspace]
		[profile.release]
		codegen-units = 1
		panic = "abort"
		TOML
        cat >"$stub/.cargo/config.toml" <<-TOML
		[source.crates-io]
		replace-with = "vendored"
		[source.vendored]
		directory = "$source/vendor"
		TOML
        # RUSTC_BOOTSTRAP only here: building the standard library is not a stable feature
        # shellcheck disable=SC2016
        try "standard library for $target" env -C "$stub" RUSTC_BOOTSTRAP=1 RUSTC=/usr/bin/rustc \
            CARGO_HOME="$stub/home" CARGO_TARGET_DIR="$stub/target" \
            RUSTFLAGS="-Cembed-bitcode=yes -Zemit-stack-sizes --remap-path-prefix=$source=/rust/library" \
            /usr/bin/cargo build --offline --release -Zbuild-std=core,alloc --target "$target"
        cp "$stub/target/$target/release/deps/"lib{core,alloc,compiler_builtins}-*.rlib "$lib/"
        touch "$lib/complete"
        rm -rf "$stub"
    fi
    flock -u 9
    CARGO=/usr/bin/cargo BOARD_ENV=(RUSTC=/usr/bin/rustc) TOOLCHAIN=private
    BOARD_FLAGS="--sysroot=$sysroot -Clinker=$(linker)"
}

linker() { # Debian's compiler comes without one: rustup's if there is a rustup, else lld
    local found
    found=$(command -v rustup >/dev/null && rustc --print sysroot 2>/dev/null || true)
    found=$(compgen -G "${found:-/nowhere}/lib/rustlib/*/bin/rust-lld" | head -n 1 || true)
    [ -n "$found" ] || { need ld.lld lld >&2; found=$(command -v ld.lld); }
    echo "$found"
}

# ---- building and running

# program TARGET NAME [ARGUMENT...]: builds a program, and sets ELF to it. KIND keeps builds with other flags apart.
program() {
    local target=$1 name=$2; shift 2
    prepare "$target"
    local dir=$builds/${KIND:-plain}
    try "$name for $target" env -C "$here" "${BOARD_ENV[@]}" CARGO_TARGET_DIR="$dir" RUSTFLAGS="$BOARD_FLAGS ${FLAGS:-}" \
        nice "$CARGO" build --locked --release --target "$target" --bin "$name" "$@"
    ELF=$dir/$target/release/$name
}

# emulate TARGET ELF [OPTION...]: runs a program; its console is ours, its exit code the result
emulate() {
    local target=$1 elf=$2 machine; shift 2
    case $target in
        "$M4") machine=(qemu-system-arm -machine mps2-an386) ;;
        "$M0") machine=(qemu-system-arm -machine microbit) ;;
        "$RV") machine=(qemu-system-riscv32 -machine virt -cpu "rv32,f=off,d=off" -bios none) ;;
    esac
    [ -z "${BOARD_RAM:-}" ] || machine+=(-global nrf51-soc.sram-size=$((${BOARD_RAM%K} * 1024)))
    timeout -k 5 "${LEGWORK_SECONDS:-120}" "${machine[@]}" -nographic -monitor none -serial none \
        -semihosting-config "enable=on,target=native${ARGUMENT:+,arg=$ARGUMENT}" -kernel "$elf" "$@"
}
# roomy TARGET COMMAND...: with 64 kB of RAM, where the smallest board has 16
roomy() {
    local target=$1; shift
    if [ "$target" = "$M0" ]; then BOARD_RAM=64K KIND=roomy "$@"; else "$@"; fi
}
emulators() { need qemu-system-arm; need qemu-system-riscv32 qemu-system-misc; }
elf() { need python3; python3 "$here/elf.py" "$@"; }

# ---- the commands

cmd_build() {
    local target features
    for target in "${targets[@]}"; do
        prepare "$target"
        for features in "${core_features[@]}"; do
            try "core for $target, features: ${features:-none}" env -C "$root" "${BOARD_ENV[@]}" \
                CARGO_TARGET_DIR="$builds/core" RUSTFLAGS="$BOARD_FLAGS" \
                nice "$CARGO" build --release --target "$target" -p legwork --no-default-features --features "$features"
            ok "core for $target, features: ${features:-none} ($TOOLCHAIN)"
        done
    done
}

cmd_vectors() {
    local target want=$builds/host.txt got code
    emulators
    (cd "$here" && CARGO_TARGET_DIR="$builds/host" nice cargo run -q --locked --release --bin vectors) >"$want" </dev/null
    [ -s "$want" ] || die "the host printed no vectors"
    for target in "${targets[@]}"; do
        got=$builds/$target.txt
        roomy "$target" program "$target" vectors
        roomy "$target" emulate "$target" "$ELF" >"$got" </dev/null || die "vectors on $target: exit code $?"
        diff "$want" "$got" >"$log" || { head -n 20 "$log" >&2; die "$target differs from the host"; }
        ok "$target: $(wc -l <"$want") results, the same bits as on the host"
        code=0
        ARGUMENT=wrong roomy "$target" emulate "$target" "$ELF" >"$got" </dev/null || code=$?
        [ "$code" = 1 ] || die "$target: a failing program ended with $code"
        ! cmp -s "$want" "$got" || die "$target: a wrong bit went unseen"
        ok "$target: a wrong bit and a failing program are both seen"
    done
}

cmd_size() {
    local target probe empty
    for target in "${targets[@]}"; do
        program "$target" probe
        empty=$(elf flash "$ELF")
        for probe in "${probes[@]}"; do
            case $probe in # a search needs more RAM than the smallest board has
                probe-plan | probe-mend) BOARD_RAM=256K KIND=spacious program "$target" probe --features "$probe" ;;
                *) program "$target" probe --features "$probe" ;;
            esac
            echo "SIZE $target ${probe#probe-} flash=$(($(elf flash "$ELF") - empty)) ram=$(elf ram "$ELF")"
        done
        elf largest "$ELF" 10
        capacities "$target"
    done
}

# capacities TARGET: the chapter "In firmware" states what capacities cost there; LEGWORK_BLESS=1 corrects it
capacities() {
    local target=$1 chapter=$root/crates/core/docs/firmware.md stated=$builds/stated made=$builds/sizes.txt
    emulators
    program "$target" sizes
    emulate "$target" "$ELF" </dev/null >"$made" || die "sizes on $target: exit code $?"
    if [ "${LEGWORK_BLESS:-}" = 1 ]; then
        awk -F '|' 'NR == FNR { bytes[$1] = $2; next }
            NF == 6 { name = $2; gsub(/^ +| +$/, "", name) }
            NF == 6 && name in bytes { $0 = "|" $2 "|" $3 "| " bytes[name] " |" $5 "|" } { print }' "$made" "$chapter" >"$stated"
        cat "$stated" >"$chapter"
    fi
    awk -F ' *[|] *' 'NF == 6 && $4 ~ /^[0-9]+$/ { print $2 "|" $4 }' "$chapter" >"$stated"
    diff "$stated" "$made" >"$log" || { cat "$log" >&2; die "docs/firmware.md has other capacities than $target; LEGWORK_BLESS=1 corrects it"; }
    ok "$target: $(wc -l <"$made") capacities cost what the chapter says"
}

cmd_nopanic() {
    local target probe name missing=()
    # Whatever is public must be called by a probe; what is for tables alone may panic, while compiling.
    for name in $(grep -rhoE '^ *pub (const )?fn [a-z_0-9]+' "$root/crates/core/src" | sed 's/.* //' | sort -u); do
        case $name in constant | flat | table) continue ;; esac
        grep -qw "$name" "$here"/src/{faults,home,random,singles,sums,truck,work}.rs "$here/src/bin/probe.rs" || missing+=("$name")
    done
    [ ${#missing[@]} = 0 ] || die "public, but in no probe: ${missing[*]}"
    for target in "${targets[@]}"; do
        for probe in "${proofs[@]}"; do
            if ! (BOARD_RAM=256K KIND=spacious program "$target" probe --features "$probe") 2>"$builds/refused"; then
                grep -q ERROR_a_panic_is_reachable "$builds/refused" || { cat "$builds/refused" >&2; exit 1; }
                BOARD_RAM=256K PANIC_SYMBOL=1 KIND=panics program "$target" probe --features "$probe"
                elf callers "$ELF" panic >&2
                die "$target: ${probe#probe-} can panic"
            fi
            ok "$target: ${probe#probe-} links without a way to panic"
        done
        ! (program "$target" probe --features probe-panics) 2>"$builds/refused" || die "$target: a panic went unseen"
        grep -q ERROR_a_panic_is_reachable "$builds/refused" || { cat "$builds/refused" >&2; die "refused, but not for its panic"; }
        ok "$target: a program that can panic is refused"
    done
}

cmd_noheap() {
    local target
    for target in "${targets[@]}"; do
        for probe in "${proofs[@]}"; do
            BOARD_RAM=256K KIND=spacious program "$target" probe --features "$probe"
            elf allocators "$ELF" || die "$target: ${probe#probe-} holds an allocator"
        done
        program "$target" meter
        elf allocators "$ELF" || die "$target: the meter holds an allocator"
        ok "$target: no probe, and not the meter, holds an allocator"
        PANIC_SYMBOL=1 KIND=panics program "$target" probe --features probe-heap # a heap can panic, too
        ! elf allocators "$ELF" >"$log" || die "$target: an allocator went unseen"
        ok "$target: a program with an allocator is caught"
    done
}

cmd_stack() {
    local target
    for target in "${targets[@]}"; do
        # the compiler lists frames only behind a flag that is not stable, hence RUSTC_BOOTSTRAP, and here only
        RUSTC_BOOTSTRAP=1 KIND=frames FLAGS=-Zemit-stack-sizes program "$target" bench
        elf stack "$ELF" "${bounded[@]}" | sed "s/^/STACK $target /" || die "$target: no bound"
    done
}

cmd_bench() {
    local target probe=probe-check line again flash shift=8 # the shift is known to src/count.rs too
    emulators
    for target in "${targets[@]}"; do
        program "$target" bench
        line=$(emulate "$target" "$ELF" -icount "shift=$shift" </dev/null) || die "bench on $target: $line"
        again=$(emulate "$target" "$ELF" -icount "shift=$shift" </dev/null)
        [ "$line" = "$again" ] || die "bench on $target does not repeat: $line, then $again"
        program "$target" probe
        flash=$(elf flash "$ELF")
        program "$target" probe --features "$probe"
        flash=$(($(elf flash "$ELF") - flash))
        echo "CHECK $target ${line/$'\n'/ flash=$flash ram=$(elf ram "$ELF") }"
        # searches need more RAM than the smallest board has
        BOARD_RAM=256K KIND=spacious program "$target" truck
        line=$(BOARD_RAM=256K emulate "$target" "$ELF" -icount "shift=$shift" </dev/null) || die "truck on $target: $line"
        echo "TRUCK $target $line ram=$(elf ram "$ELF")"
    done
}

cmd_meter() { # meter.txt is a conversation: > is said to the meter, < is its answer
    local target=$M4 said=$builds/said got=$builds/got
    emulators
    program "$target" meter
    sed -n 's/^> \{0,1\}//p' "$here/meter.txt" >"$said"
    sed -n 's/^< \{0,1\}//p' "$here/meter.txt" >"$builds/want"
    emulate "$target" "$ELF" <"$said" >"$got" || die "the meter ended with $?: $(tail -n 3 "$got")"
    diff "$builds/want" "$got" >"$log" || { cat "$log" >&2; die "the meter's answers are not those of meter.txt"; }
    ok "$target: $(wc -l <"$said") lines said, $(wc -l <"$got") lines answered"
}

# ---- C: the header, a C program on the host and on a board, and what the library refuses

c=$root/crates/c
c_warnings=(-std=c11 -Wall -Wextra -Wpedantic -Werror)

c_header() { # the committed header is what cbindgen makes of the sources, and is C and C++ both
    local version=0.29.4 tool=$cache/tools/bin/cbindgen made=$builds/c/legwork.h
    if [ "$("$tool" --version 2>/dev/null)" != "cbindgen $version" ]; then
        echo "building cbindgen $version"
        try "cbindgen" env CARGO_TARGET_DIR="$cache/tools/build" \
            nice cargo install -q --locked --root "$cache/tools" --version "=$version" cbindgen
        rm -rf "$cache/tools/build"
    fi
    try "the header" env -C "$c" "$tool" -q --config cbindgen.toml --output "$made" .
    diff "$c/include/legwork.h" "$made" >"$log" || { head -n 20 "$log" >&2; die "include/legwork.h is not what cbindgen makes"; }
    try "the header in C" gcc "${c_warnings[@]}" -fsyntax-only -x c "$made"
    try "the header in C++" g++ -std=c++17 -Wall -Wextra -Werror -fsyntax-only -x c++ "$made"
    ok "the header is the one that cbindgen makes, and C and C++ both take it"
}

c_host() { # the example and the test: as they are, under sanitizers, under valgrind
    local lib=$builds/host/release/liblegwork_c.a name source want=$builds/c/want flags
    try "the C library" env -C "$c" CARGO_TARGET_DIR="$builds/host" nice cargo build --locked --release
    (cd "$c" && CARGO_TARGET_DIR="$builds/host" nice cargo run -q --locked --release --example reference) >"$want" </dev/null
    for name in main border; do
        source=$c/example/main.c
        [ "$name" = main ] || source=$c/test/border.c
        for flags in "-O2 -g" "-O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all"; do
            # shellcheck disable=SC2086
            try "$name.c on the host" gcc "${c_warnings[@]}" $flags -I"$c/include" -I"$c/example" \
                "$source" "$c/example/house.c" "$lib" -o "$builds/c/$name"
            "$builds/c/$name" >"$builds/c/$name.txt" 2>&1 || { cat "$builds/c/$name.txt" >&2; die "$name.c ($flags) ended with an error"; }
            [[ $flags = *sanitize* ]] || try "$name.c under valgrind" \
                valgrind -q --error-exitcode=9 --leak-check=full --show-leak-kinds=all --errors-for-leak-kinds=all "$builds/c/$name"
            [ "$name" = border ] || diff "$want" "$builds/c/$name.txt" || die "main.c and reference.rs differ ($flags)"
        done
    done
    sed 's/^/     /' "$builds/c/main.txt"
    ok "host: C and Rust print the same bits; sanitizers and valgrind are content; $(tail -n 1 "$builds/c/border.txt")"
}

c_link() { # c_link ELF FILE...: links for the board
    local elf=$1; shift
    arm-none-eabi-gcc "${c_warnings[@]}" -mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16 -Os \
        -ffunction-sections -fdata-sections -I"$c/include" -I"$c/example" -L"$builds/c" -T "$here/board.ld" \
        -nostartfiles -Wl,--gc-sections -Wl,--no-warn-rwx-segments -Wl,--defsym=end=_bss_end "$@" -o "$elf"
}

c_board() { # the same programs on a Cortex-M4F; and all of the library, without a way to panic
    local lib=$builds/c-board/$M4/release/liblegwork_c.a name source flags function all=()
    prepare "$M4"
    # as crates/target/build.rs has it for this board
    printf 'MEMORY {\n  FLASH : ORIGIN = 0x00000000, LENGTH = 4M\n  RAM : ORIGIN = 0x20000000, LENGTH = 4M\n}\n' >"$builds/c/memory.x"
    for function in $(grep -o 'legwork_[a-z_]*(' "$c/include/legwork.h" | tr -d '(' | sort -u); do
        all+=("-Wl,-u,$function")
    done
    for flags in "--cfg=panic_symbol --cfg=panic_control" "--cfg=panic_symbol"; do
        try "the C library for $M4" env -C "$c" "${BOARD_ENV[@]}" CARGO_TARGET_DIR="$builds/c-board" \
            RUSTFLAGS="$BOARD_FLAGS $flags" nice "$CARGO" build --locked --release --target "$M4"
        if [[ $flags = *control* ]]; then
            ! c_link "$builds/c/whole" -nostdlib "${all[@]}" -Wl,-u,legwork_panic_control "$lib" >"$log" 2>&1 || die "a panic in the C library went unseen"
            grep -q ERROR_a_panic_is_reachable "$log" || { cat "$log" >&2; die "refused, but not for its panic"; }
        fi
    done
    try "all of the C library for $M4" c_link "$builds/c/whole" -nostdlib "${all[@]}" "$lib"
    ok "$M4: ${#all[@]} functions, flash=$(elf flash "$builds/c/whole"), none can panic; one that can is refused"
    for name in main border; do
        source=$c/example/main.c
        [ "$name" = main ] || source=$c/test/border.c
        try "$name.c for $M4" c_link "$builds/c/$name.elf" --specs=rdimon.specs "$c/example/board.c" "$source" "$c/example/house.c" "$lib"
        emulate "$M4" "$builds/c/$name.elf" >"$builds/c/$name.txt" </dev/null || { cat "$builds/c/$name.txt" >&2; die "$name.c on $M4: exit code $?"; }
    done
    diff "$builds/c/want" "$builds/c/main.txt" || die "main.c on $M4 and reference.rs on the host differ"
    ok "$M4: main.c prints the same bits; $(tr '\n' ';' <"$builds/c/border.txt")"
}

cmd_c() {
    apt_need gcc libc6-dev g++ valgrind gcc-arm-none-eabi libnewlib-arm-none-eabi
    need qemu-system-arm
    mkdir -p "$builds/c"
    c_header
    c_host
    c_board
}

main() { # read as a whole before anything runs, so that an edit meanwhile does no harm
    [ $# -gt 0 ] || { sed -n '2,/^set/s/^# \{0,1\}//p' "$0"; exit 2; }
    [ "$1" != all ] || set -- build vectors size nopanic noheap stack bench meter c
    for command; do
        case $command in
            build | vectors | size | nopanic | noheap | stack | bench | meter | c) ;;
            *) die "unknown command $command" ;;
        esac
    done
    for command; do
        from=$SECONDS
        "cmd_$command"
        echo "-- $command: $((SECONDS - from)) s"
    done
}
main "$@"; exit
