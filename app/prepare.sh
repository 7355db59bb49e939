# Shared by app/run-sample and tests/run: installs what is missing from Debian 12, then configures and builds.
# Sourced, not run. Everything is quiet but for one line a step; what failed is shown from the log.

ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
BUILD=$ROOT/build/release
LOG=$ROOT/build/log
PACKAGES=(g++ cmake ninja-build ccache mold libboost-dev qt6-base-dev qt6-svg-dev libqt6sql6-sqlite
          fonts-dejavu-core libgtest-dev)

step() { printf '%s  %s\n' "$(date +%H:%M:%S)" "$*"; }
fail() {
    printf '\nStopped: %s\n' "$1" >&2
    if [ -n "${2:-}" ] && [ -s "$2" ]; then
        printf 'Last lines of %s:\n' "$2" >&2
        tail -n 30 "$2" >&2
    fi
    exit 1
}

install_packages() {
    mkdir -p "$ROOT/build"
    local missing=() package
    for package in "${PACKAGES[@]}"; do
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
    done
    [ ${#missing[@]} -gt 0 ] || return 0
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || fail "these Debian packages are missing and neither root nor sudo is at hand: ${missing[*]}"
        as_root=(sudo)
    fi
    step "Installing from Debian: ${missing[*]}"
    "${as_root[@]}" apt-get update -qq >"$LOG.apt" 2>&1 || fail "apt-get update did not work; is the network up?" "$LOG.apt"
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" \
        >>"$LOG.apt" 2>&1 || fail "apt-get could not install the packages" "$LOG.apt"
}

# build TARGET...: configures if needed and builds, with a line every tenth of the way.
build() {
    step "Configuring (build/release)"
    (cd "$ROOT" && cmake --preset release) >"$LOG.configure" 2>&1 || fail "CMake could not configure the build" "$LOG.configure"
    step "Building ($(nproc) at a time; the first time takes some minutes)"
    cmake --build "$BUILD" --parallel "$(nproc)" --target "$@" 2>&1 | tee "$LOG.build" | awk '
        match($0, /^\[[0-9]+\/[0-9]+\]/) {
            split(substr($0, 2, RLENGTH - 2), part, "/")
            tenth = int(10 * part[1] / part[2])
            if (tenth > shown) { shown = tenth; printf "          built %d %%\n", 10 * tenth; fflush() }
        }'
    [ "${PIPESTATUS[0]}" -eq 0 ] || fail "the build did not succeed" "$LOG.build"
}
