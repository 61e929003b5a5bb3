#!/usr/bin/env bash
# Sets up what is missing, builds the program and measures a photo: one from testimages, or the one that is given.
#   bash src/demo.sh [PHOTO [options of "deflectscan measure"]]
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
dotnet build "$root/src/DeflectScan.Cli" -c Release -v q --nologo >&2
program="$root/src/DeflectScan.Cli/bin/Release/net10.0"
bash "$root/.ci/native-packages.sh" "$program"
if [ $# -eq 0 ]; then
    set -- "$root/testimages/clean-spinning/photo.jpg" --out "$root/out/clean-spinning"
fi
exec "$program/deflectscan" measure "$@"
