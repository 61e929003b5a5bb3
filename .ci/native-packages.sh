#!/usr/bin/env bash
# Installs the Debian or Ubuntu packages that OpenCV's native library links against, where they are missing. Works as root and with sudo.
# Further package names may be given: they are wanted by some tests, and no fault if they cannot be had.
set -euo pipefail

has_library() { PATH="$PATH:/sbin:/usr/sbin" ldconfig -p | grep -qF "$1"; }

missing=()
has_library libgtk-3.so.0 || missing+=(libgtk-3-0)
has_library libharfbuzz.so.0 || missing+=(libharfbuzz0b)
has_library libfreetype.so.6 || missing+=(libfreetype6)
has_library libatomic.so.1 || missing+=(libatomic1)

wanted=()
for package in "$@"; do
    dpkg -s "$package" >/dev/null 2>&1 || wanted+=("$package")
done

if [ ${#missing[@]} -eq 0 ] && [ ${#wanted[@]} -eq 0 ]; then
    exit 0
fi

as_root=()
if [ "$(id -u)" -ne 0 ]; then
    as_root=(sudo)
fi

export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get update -qq || true
if [ ${#missing[@]} -gt 0 ]; then
    echo "Installing ${missing[*]}" >&2
    "${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" >&2
fi
if [ ${#wanted[@]} -gt 0 ]; then
    "${as_root[@]}" apt-get install -y -qq --no-install-recommends "${wanted[@]}" >&2 || echo "Going on without ${wanted[*]}" >&2
fi
