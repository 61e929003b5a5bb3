#!/usr/bin/env bash
# Installs the Debian or Ubuntu packages that the native libraries in a folder need, where they are missing: what they need is read from the
# libraries themselves (ldd), which package has it from src/DeflectScan.Cli/NativePackages.txt. Works as root and with sudo.
#   bash .ci/native-packages.sh FOLDER [--dry-run] [further packages, wanted by some tests and no fault if they cannot be had]
# --dry-run only prints the names of the packages, in one line.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
folder="$1"
shift
dry=""
if [ "${1:-}" = --dry-run ]; then
    dry=yes
    shift
fi

# The libraries for this kind of machine: beside a published program, or below runtimes/linux-x64 of a built one.
libraries=()
while IFS= read -r file; do libraries+=("$file"); done < <(find "$folder" -name '*.so' \( -path '*/runtimes/linux-x64/*' -o ! -path '*/runtimes/*' \) | sort)
if [ ${#libraries[@]} -eq 0 ]; then
    echo "There are no native libraries in $folder: build the program first." >&2
    exit 1
fi

lacking=()
while IFS= read -r name; do lacking+=("$name"); done < <(for file in "${libraries[@]}"; do LC_ALL=C ldd "$file" 2>/dev/null; done | awk '/=> not found/ { print $1 }' | sort -u)

# A library's package: from the table, else by the naming rule of Debian's policy (8.1: libfoo.so.3 is in libfoo3, libfoo-2.so.3 in libfoo-2-3).
table="$root/src/DeflectScan.Cli/NativePackages.txt"
names=()
along=()
for name in ${lacking[@]+"${lacking[@]}"}; do
    line="$(awk -v name="$name" '$1 == name' "$table")"
    if [ -z "$line" ]; then
        stem="${name%%.so*}"
        number="${name##*.so.}"
        [[ "$stem" =~ [0-9]$ ]] && stem="$stem-"
        line="$name $(printf '%s%s' "$stem" "$number" | tr '[:upper:]_' '[:lower:]-')"
        echo "$name is in no package that is known here; taken to be ${line#* }. If there is no such package, apt-file search $name finds it." >&2
    fi
    read -r _ package brought <<< "$line"
    names+=("$package")
    along+=("${brought:-}")
done

missing=()
for i in "${!names[@]}"; do
    seen=" ${missing[*]-} "
    [[ "$seen" == *" ${names[$i]} "* ]] && continue
    if [ -n "${along[$i]}" ] && [[ " ${names[*]} " == *" ${along[$i]} "* ]]; then
        continue
    fi
    missing+=("${names[$i]}")
done

if [ -n "$dry" ]; then
    echo "${missing[*]-}"
    exit 0
fi

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
