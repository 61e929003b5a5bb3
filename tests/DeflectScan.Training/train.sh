#!/usr/bin/env bash
# Renders lessons, trains the networks, exports them: docs/reader.md says what each needs. Never run by the tests.
#   train.sh render LESSONS [FIRST] [PROCESSES] [SECONDS]   wide scenes; process k begins at seed FIRST + 1000 k (200000, all cores, 500 s)
#   train.sh reels  REELS [FIRST] [PROCESSES] [SECONDS]     the reel's pictures of smaller ones, process k from FIRST + 1000 k
#   train.sh train  LESSONS WEIGHTS [SECONDS [REELS]]       reader.pt and finder.pt, and reel.pt where REELS is given, two runs each (555 s a run; PyTorch, OpenCV, NumPy)
#   train.sh export WEIGHTS                                 into src/DeflectScan/Tracing/Reading; then docs/reader.md and the tests' hashes
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
python="${PYTHON:-python3}"

# render|reels LESSONS …
draw() {
    local kind="$1" lessons="$2" first="${3:-200000}" processes="${4:-$(nproc)}" seconds="${5:-500}"
    dotnet build "$here" -c Release -v q --nologo
    for ((k = 0; k < processes; k++)); do
        timeout "$seconds" dotnet "$here/bin/Release/net10.0/DeflectScan.Training.dll" "$kind" "$lessons" $((first + 1000 * k)) 1000 0.15 &
    done
    wait
    echo "$(find "$lessons" -name '*.json' | wc -l) lessons in $lessons"
}

train() {
    local lessons="$1" weights="$2" seconds="${3:-555}" reels="${4:-}" again of
    again=$((seconds * 470 / 555))
    mkdir -p "$weights"
    for net in reader finder reel; do
        of="$lessons"
        case "$net" in
            reader) batch=128 ;;
            finder) batch=64 ;;
            reel) batch=256 of="$reels" ;;
        esac
        [ -n "$of" ] || continue
        "$python" "$here/train.py" "$net" "$of" "$weights/$net-1.pt" "$seconds" --batch "$batch" | tee "$weights/$net-1.log"
        "$python" "$here/train.py" "$net" "$of" "$weights/$net.pt" "$again" --batch "$batch" --rate 2e-3 --seed 2 --resume "$weights/$net-1.pt" | tee "$weights/$net.log"
    done
}

export_nets() {
    local into="$here/../../src/DeflectScan/Tracing/Reading"
    for net in reader finder reel; do
        [ -f "$1/$net.pt" ] || continue
        "$python" "$here/export.py" "$net" "$1/$net.pt" "$into/$net.onnx"
    done
    sha256sum "$into"/*.onnx
}

case "${1:-}:$#" in
    render:[2-5] | reels:[2-5]) draw "$@" ;;
    train:[345]) train "${@:2}" ;;
    export:2) export_nets "$2" ;;
    *)
        sed -n '2,6s/^# *//p' "$0" >&2
        exit 2
        ;;
esac
