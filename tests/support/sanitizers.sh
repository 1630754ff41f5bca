# The tests under sanitizers, a part of `check`, which gives build, one_test, say, jobs, passed and failed. They work beside the live tests and give way
# whenever those have something to do: in the idle class, where there is one.

sanitized() { build "$1" "${@:3}" && ctest --test-dir "build/$1" -j "$jobs" --timeout 600 --output-on-failure -R "$2"; }
# Two tests; exits with the number that failed. What this process starts inherits its class.
sanitizers() {
  chrt -i -p 0 "$BASHPID" >/dev/null 2>&1 || renice -n 19 -p "$BASHPID" >/dev/null
  failed=0
  say "address and undefined-behaviour sanitizers, every test"
  one_test "address and undefined-behaviour sanitizers" sanitized asan '.*'
  say "thread sanitizer, rings and listener"
  one_test "thread sanitizer" sanitized tsan '^(audio|listen)$' test_audio test_listen
  exit "$failed"
}

begin_sanitizers() {
  set -m  # in a process group of its own, so that all of it can be found
  (sanitizers) >build/sanitizers.log 2>&1 &
  sanitizers=$!
  set +m
  trap 'kill -- "-$sanitizers" 2>/dev/null' EXIT
}

# Gives them their share of the processors again, waits for them, says what they said and counts it.
end_sanitizers() {
  local process broken
  for process in $(pgrep -g "$sanitizers"); do chrt -o -p 0 "$process"; done >/dev/null 2>&1
  wait "$sanitizers"
  broken=$?
  trap - EXIT
  cat build/sanitizers.log
  [ "$broken" -le 2 ] || broken=2
  passed=$((passed + 2 - broken)) failed=$((failed + broken))
}
