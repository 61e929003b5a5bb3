#!/usr/bin/env bash
# Renders lessons, trains the networks, exports them: docs/reader.md says what each needs. Never run by the tests.
#   train.sh render LESSONS [FIRST] [PROCESSES] [SECONDS]   wide scenes; process k begins at seed FIRST + 1000 k (200000, all cores, 500 s)
#   train.sh reels  LESSONS [FIRST] [PROCESSES] [SECONDS]   the same of handles with their reels (1200000, process k at FIRST + 2000 k, 270 s)
#   train.sh train  LESSONS WEIGHTS [SECONDS]               reader.pt and finder.pt, two runs each (555 s a run; PyTorch, OpenCV, NumPy)
#   train.sh reel   LESSONS WEIGHTS [SECONDS]               reel.pt, one run (430 s)
#   train.sh export WEIGHTS                                 into src/DeflectScan/Tracing/Reading/Weights; then docs/reader.md and the tests' hashes
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
python="${PYTHON:-python3}"

# What, how many seeds a process, least difficulty; then as the commands say.
draw() {
    local what="$1" seeds="$2" least="$3" lessons="$4" first="$5" processes="${6:-$(nproc)}" seconds="$7"
    dotnet build "$here" -c Release -v q --nologo
    for ((k = 0; k < processes; k++)); do
        timeout "$seconds" dotnet "$here/bin/Release/net10.0/DeflectScan.Training.dll" "$what" "$lessons" $((first + seeds * k)) "$seeds" "$least" &
    done
    wait
    echo "$(find "$lessons" -name '*.json' | wc -l) lessons in $lessons"
}

train() {
    local lessons="$1" weights="$2" seconds="${3:-555}" again
    again=$((seconds * 470 / 555))
    mkdir -p "$weights"
    for net in reader finder; do
        batch=128
        [ "$net" = reader ] || batch=64
        "$python" "$here/train.py" "$net" "$lessons" "$weights/$net-1.pt" "$seconds" --batch "$batch" | tee "$weights/$net-1.log"
        "$python" "$here/train.py" "$net" "$lessons" "$weights/$net.pt" "$again" --batch "$batch" --rate 2e-3 --seed 2 --resume "$weights/$net-1.pt" | tee "$weights/$net.log"
    done
}

reel() {
    mkdir -p "$2"
    "$python" "$here/train.py" reel "$1" "$2/reel.pt" "${3:-430}" --batch 256 | tee "$2/reel.log"
}

export_nets() {
    local into="$here/../../src/DeflectScan/Tracing/Reading/Weights"
    for net in reader finder reel; do
        [ ! -e "$1/$net.pt" ] || "$python" "$here/export.py" "$net" "$1/$net.pt" "$into/$net.onnx"
    done
    sha256sum "$into"/*.onnx
}

case "${1:-}:$#" in
    render:[2-5]) draw render 1000 0.15 "$2" "${3:-200000}" "${4:-}" "${5:-500}" ;;
    reels:[2-5]) draw reels 2000 0.05 "$2" "${3:-1200000}" "${4:-}" "${5:-270}" ;;
    train:[34]) train "${@:2}" ;;
    reel:[34]) reel "${@:2}" ;;
    export:2) export_nets "$2" ;;
    *)
        sed -n '2,7s/^# *//p' "$0" >&2
        exit 2
        ;;
esac
