#!/bin/bash
# count_cases.sh LOG: prints "PASSED FAILED" over all test programs in a log of `ctest -V` or of a test script.
# A test that ctest reports as failed but that counted no failed case (crash, time-out, missing program) counts as one.
awk '
  /\[doctest\] test cases:/ { split($0, part, "|"); passed += number(part[2]); failed += number(part[3]) }
  /^([0-9]+: )?[0-9]+ passed, [0-9]+ failed$/ { sub(/^[0-9]+: /, ""); passed += $1; failed += $3 }
  /^\t *[0-9]+ - .*\(.*\)$/ || /^ *[0-9]+ - .*\((Failed|Timeout|SEGFAULT|Not Run|Child aborted|.*xception.*)\)/ { broken++ }
  /^No tests were found/ { broken++ }
  { lines++ }
  function number(text) { gsub(/[^0-9]/, "", text); return text + 0 }
  END {
    if (lines == 0 || passed + failed == 0) broken++
    print passed + 0, (failed > broken ? failed : broken) + 0
  }' "$1"
