#!/usr/bin/env bash
# Sets up what is missing, builds everything and runs every test but the long set, which "--long" runs alone, by hand.
# The last line is "N passed, N failed"; exit code 0 only when all passed.
set -uo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
log="$(mktemp)"
trap 'rm -f "$log"' EXIT

cd "$root" || exit 1
code=0
set_filter="Set!=long"
[ "${1:-}" = "--long" ] && set_filter="Set=long"
if dotnet build DeflectScan.sln -c Release -v q --nologo; then
    bash .ci/native-packages.sh src/DeflectScan.Cli/bin/Release/net10.0 libheif-examples chromium \
        || echo "The packages could not be installed: tests that need them will say so." >&2
    # One test project after the other: some tests watch the clock, and there may be two cores. The limit is for a test that hangs, not for a slow machine.
    timeout --kill-after=20 3600 dotnet test DeflectScan.sln -c Release --no-build --nologo -m:1 --filter "$set_filter" 2>&1 | tee "$log" || code=1
else
    code=1
fi

# dotnet test ends each project with: Passed!  - Failed: 0, Passed: 54, Skipped: 0, Total: 54, …
count() { sed -nE "s/.* - Failed: +([0-9]+), Passed: +([0-9]+), Skipped: +([0-9]+).*/\\$1/p" "$log" | awk '{ n += $1 } END { print n + 0 }'; }
failed="$(count 1)"
passed="$(count 2)"
if [ "$code" -ne 0 ] && [ "$failed" -eq 0 ]; then
    failed=1 # the build, or a test run that broke off or ran out of time
fi
if [ "$passed" -eq 0 ]; then
    code=1
fi
echo "$passed passed, $failed failed"
[ "$code" -eq 0 ] && [ "$failed" -eq 0 ]
