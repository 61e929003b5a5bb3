#!/usr/bin/env bash
# Makes the release and looks at it as a builder gets it: checksums, what the .deb holds and needs, and the program as it is installed. By hand: it
# takes minutes. Nothing is installed on this machine: the package is unpacked into a temporary folder.
#   bash tests/release.sh [FOLDER with a release that src/release.sh made; default: makes one]
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
out="${1:-$work/release}"
[ -n "${1:-}" ] || bash "$root/src/release.sh" "$out"
out="$(cd "$out" && pwd)"
failed=0
must() { # what it is, then the command that must succeed
    local what="$1"
    shift
    if "$@" > "$work/said" 2>&1; then echo "ok: $what"; else echo "FAILED: $what"; cat "$work/said"; failed=$((failed + 1)); fi
}

deb="$(echo "$out"/deflectscan_*_amd64.deb)"
tar="$(echo "$out"/deflectscan-*-linux-x64.tar.gz)"
must "the checksums are those of the files" bash -c "cd '$out' && sha256sum -c SHA256SUMS"
must "both files have a checksum" test "$(wc -l < "$out/SHA256SUMS")" -eq 2
must "the package unpacks" dpkg-deb -x "$deb" "$work/deb"
must "the archive unpacks" tar -x -C "$work" -f "$tar"
must "the program is on the path" test -x "$work/deb/usr/bin/deflectscan"
must "it has its licence" test -s "$work/deb/usr/share/doc/deflectscan/copyright"
must "it has the ten cards" test "$(find "$work/deb/usr/lib/deflectscan/calibration" -name 'card-*.pdf' | wc -l)" -eq 10
must "package and archive hold the same program" diff -r "$work/deb/usr/lib/deflectscan" "$work/$(basename "$tar" .tar.gz)"
must "all of it is root's" bash -c "! dpkg-deb -c '$deb' | grep -v ' root/root '"
must "nothing but root may write to it" bash -c "! dpkg-deb -c '$deb' | grep -v '^l' | grep -E '^.{5}w|^.{8}w'"
# What the system must bring: the same list as on a machine that has none of it.
for package in libatomic1 libdrm2 libfreetype6 libgtk-3-0 libharfbuzz0b; do
    must "it depends on $package" bash -c "dpkg-deb -f '$deb' Depends | tr -d ' ' | tr , '\n' | grep -qx '$package'"
done
run() { env -i HOME=/nonexistent PATH=/usr/bin:/bin "$work/deb/usr/bin/deflectscan" "$@"; }
must "it starts without a home folder and without .NET" test "$(run --version)" = "$(dpkg-deb -f "$deb" Version)"
must "it measures a photo" run measure "$root/testimages/clean-spinning/photo.jpg" --out "$work/results"
must "the overlay is there" test -s "$work/results/overlay.png"
must "it prints a card" run card --letter A --paper a4 --out "$work/card.pdf"
echo "$failed failed"
[ "$failed" -eq 0 ]
