# The parts of `check`, sourced by it: builds, and what is counted.

passed=0 failed=0
jobs=$(nproc) launcher=$(command -v ccache || true)

say() { printf '\n== %s\n' "$*"; }

# one_test NAME COMMAND...: counts as one, passed when the command exits 0.
one_test() {
  local name=$1; shift
  if "$@"; then passed=$((passed + 1)); echo "passed: $name"; else failed=$((failed + 1)); echo "FAILED: $name"; fi
}

# build PRESET [TARGET...]
build() {
  local preset=$1; shift
  cmake --preset "$preset" -DCMAKE_CXX_COMPILER_LAUNCHER="$launcher" >"/tmp/gripline-configure.$$" ||
    { cat "/tmp/gripline-configure.$$"; return 1; }
  rm -f "/tmp/gripline-configure.$$"
  cmake --build "build/$preset" -j "$jobs" ${1:+--target "$@"}
}

# Adds up the lines "test cases: N | N passed | N failed" and "N passed, N failed" of a test log.
count() {
  local p f
  read -r p f < <(tests/support/count_cases.sh "$1")
  passed=$((passed + p)) failed=$((failed + f))
}

finish() { printf '%d passed, %d failed\n' "$passed" "$failed"; [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]; exit; }

# sanitized PRESET TESTS [TARGET...]: builds, and runs the tests whose names match.
sanitized() { build "$1" "${@:3}" && ctest --test-dir "build/$1" -j "$jobs" --timeout 600 --output-on-failure -R "$2"; }
