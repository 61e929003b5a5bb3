#!/usr/bin/env bash
# Runs README's two commands as a newcomer does: in a minimal Debian with the .NET SDK and nothing else, built by debootstrap. By hand, as root: it
# takes many minutes and some GB.
#   bash tests/bare-root.sh [demo|tests|both] [FOLDER for the root; default: a new one among the temporary files, taken away afterwards]
# The SDK of this machine is mounted into it read-only. What the SDK itself needs is installed (https://learn.microsoft.com/dotnet/core/install/linux-debian).
# NUGET_FALLBACK=DIR: packages that were fetched before, mounted read-only, so that less is fetched.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
what="${1:-both}"
keep="${2:-}"
bare="${keep:-$(mktemp -d)}"
sdk="$(dirname "$(readlink -f "$(command -v dotnet)")")"
release="$(. /etc/os-release && echo "${VERSION_CODENAME:-bookworm}")"
mounts=()

finish() {
    for ((i = ${#mounts[@]} - 1; i >= 0; i--)); do umount "${mounts[$i]}" || true; done
    # Never through a mount that would not go away.
    if [ -z "$keep" ] && ! grep -qF " $bare/" /proc/mounts; then rm -rf --one-file-system "$bare"; fi
}
trap finish EXIT

put() { # what to mount, where, options
    mkdir -p "$bare$2"
    mount --bind "$1" "$bare$2"
    mounts+=("$bare$2")
    [ -z "${3:-}" ] || mount -o "remount,bind,$3" "$bare$2"
}

if [ ! -x "$bare/bin/bash" ]; then
    debootstrap --variant=minbase --include=ca-certificates,libicu72,libssl3,libgcc-s1,libstdc++6,zlib1g,tzdata "$release" "$bare" >&2
fi
put "$sdk" /usr/share/dotnet ro
ln -sf /usr/share/dotnet/dotnet "$bare/usr/bin/dotnet"
# The network as this machine has it: its name servers, and whom it trusts.
cp -L /etc/resolv.conf "$bare/etc/resolv.conf"
cp -L "${SSL_CERT_FILE:-/etc/ssl/certs/ca-certificates.crt}" "$bare/etc/ssl/certs/ca-certificates.crt"
fallback=""
if [ -n "${NUGET_FALLBACK:-}" ]; then
    put "$NUGET_FALLBACK" /mnt/nuget ro
    fallback=/mnt/nuget
fi
mkdir -p "$bare/proc" "$bare/dev"
mount -t proc proc "$bare/proc" && mounts+=("$bare/proc")
put /dev /dev
rm -rf "$bare/home/deflectscan"
mkdir -p "$bare/home/deflectscan"
(cd "$root" && git archive HEAD) | tar -x -C "$bare/home/deflectscan"

inside() { # no build server may stay behind: it would hold the mounts
    echo "== $* (minimal $release)" >&2
    chroot "$bare" /usr/bin/env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 TERM=dumb MSBUILDDISABLENODEREUSE=1 UseSharedCompilation=false DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 \
        ${fallback:+NUGET_FALLBACK_PACKAGES=$fallback} ${http_proxy:+http_proxy=$http_proxy} ${https_proxy:+https_proxy=$https_proxy} \
        bash -c "cd /home/deflectscan && $*"
}

code=0
if [ "$what" != tests ]; then inside "bash src/demo.sh" || code=1; fi
if [ "$what" != demo ]; then inside "bash tests/run.sh" || code=1; fi
exit "$code"
