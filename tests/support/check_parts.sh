# The parts of `check`, sourced by it: builds, what is counted, and what is built on the side.

passed=0 failed=0
jobs=$(nproc) launcher=$(command -v ccache || true)
export jobs launcher

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

# Builds the programs of both sanitizers in the processor time that is left over. In a session of its own, since Linux shares
# processors among sessions first.
build_sanitizers() {
  { echo 19 >/proc/self/autogroup; renice -n 19 $$; chrt --idle --pid 0 $$; } >/dev/null 2>&1
  build asan; build tsan test_audio test_listen
}
begin_sanitizers() {
  export -f build build_sanitizers
  setsid bash -c build_sanitizers >build/sanitizers.log 2>&1 & builder=$!
  trap 'kill -- -$builder 2>/dev/null' EXIT
}
# Whatever is not built yet is left to `sanitized`, which does not wait for others.
end_sanitizers() { kill -- "-$builder" 2>/dev/null; wait "$builder"; }

# sanitized PRESET TESTS [TARGET...]: builds what is missing, and runs the tests whose names match.
sanitized() { build "$1" "${@:3}" && ctest --test-dir "build/$1" -j "$jobs" --timeout 600 --output-on-failure -R "$2"; }
