#!/usr/bin/env bash
# Makes what a builder installs without an SDK, for Linux x64: a .tar.gz and a .deb with the program (one executable with its three native libraries
# beside it), and their checksums.
#   bash src/release.sh [FOLDER; default: out/release]
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
out="$(mkdir -p "${1:-$root/out/release}" && cd "${1:-$root/out/release}" && pwd)"
version="$(sed -n 's:.*<Version>\(.*\)</Version>.*:\1:p' "$root/Directory.Build.props")"
name="deflectscan-$version-linux-x64"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT

program="$work/$name"
command -v clang > /dev/null || { echo "The program is linked with clang: apt-get install clang zlib1g-dev" >&2; exit 1; }
dotnet publish "$root/src/DeflectScan.Cli" -c Release -r linux-x64 -o "$program" -v q --nologo >&2
rm -f "$program"/*.pdb "$program"/*.dbg
cp "$root/LICENSE" "$root/src/DeflectScan/Reporting/Fonts/OFL.txt" "$program/"
mkdir -p "$program/calibration"
cp "$root"/calibration/*.pdf "$program/calibration/"
chmod -R u+rwX,go+rX,go-w "$program"

# What the system must bring, as on a machine that has none of it: from the libraries themselves and the table that the program uses too.
needs="$(for file in "$program"/*.so; do objdump -p "$file"; done | awk '$1 == "NEEDED" { print $2 }' | sort -u)"
packages=()
for need in $needs; do
    line="$(awk -v name="$need" '$1 == name' "$root/src/DeflectScan.Cli/NativePackages.txt")"
    if [ -n "$line" ]; then
        read -r _ package along <<< "$line"
        [ -n "$along" ] || [[ " ${packages[*]-} " == *" $package "* ]] || packages+=("$package")
    elif [[ "$need" != lib[cm].so* && "$need" != libpthread.so* && "$need" != libdl.so* && "$need" != librt.so* && "$need" != ld-linux* ]]; then
        echo "$need is in no package that src/DeflectScan.Cli/NativePackages.txt names: add it there." >&2
        exit 1
    fi
done

cat > "$program/README.txt" <<TEXT
DeflectScan $version for Linux x64 (Debian 12, Ubuntu 22.04 or later). Start ./deflectscan --help, or ./deflectscan demo.
It needs these packages: apt-get install ${packages[*]}
The scale cards to print lie in calibration/.
A loaded rod can break or let go: wear eye protection, stay out of the cord's line, keep the tip at 90 degrees or less to the butt.
TEXT
# It starts without a home folder, as a service's user has none.
env -i HOME=/nonexistent PATH=/usr/bin:/bin "$program/deflectscan" --version >&2
tar -C "$work" --owner=0 --group=0 --sort=name -czf "$out/$name.tar.gz" "$name"

if command -v dpkg-deb > /dev/null; then
    deb="$work/deb"
    mkdir -p "$deb/DEBIAN" "$deb/usr/lib" "$deb/usr/bin" "$deb/usr/share/doc/deflectscan"
    cp -r "$program" "$deb/usr/lib/deflectscan"
    ln -s ../lib/deflectscan/deflectscan "$deb/usr/bin/deflectscan"
    cp "$root/LICENSE" "$deb/usr/share/doc/deflectscan/copyright"
    chmod -R u+rwX,go+rX,go-w "$deb"
    cat > "$deb/DEBIAN/control" <<TEXT
Package: deflectscan
Version: $version
Architecture: amd64
Maintainer: The DeflectScan authors <noreply@localhost>
Depends: $(IFS=,; echo "${packages[*]}" | sed 's/,/, /g')
Section: science
Priority: optional
Description: measures a photo of a fishing rod's static deflection test
 Gaps between line and blank for each pair of guides, with their uncertainty,
 and where one more guide would go.
TEXT
    dpkg-deb --root-owner-group -Zgzip --build "$deb" "$out/deflectscan_${version}_amd64.deb" >&2
fi

cd "$out"
sha256sum -- *"$version"* | grep -v SHA256SUMS | tee SHA256SUMS
