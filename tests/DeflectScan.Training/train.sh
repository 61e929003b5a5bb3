#!/usr/bin/env bash
# Renders lessons, trains the networks, exports them: docs/reader.md says what each needs. Never run by the tests.
#   train.sh render LESSONS [FIRST] [PROCESSES] [SECONDS]   wide scenes; process k begins at seed FIRST + 1000 k (200000, all cores, 500 s)
#   train.sh train  LESSONS WEIGHTS [SECONDS]               reader.pt and finder.pt, two runs each (555 s a run; PyTorch, OpenCV, NumPy)
#   train.sh export WEIGHTS                                 into src/DeflectScan/Tracing/Reading; then docs/reader.md and the tests' hashes
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
python="${PYTHON:-python3}"

render() {
    local lessons="$1" first="${2:-200000}" processes="${3:-$(nproc)}" seconds="${4:-500}"
    dotnet build "$here" -c Release -v q --nologo
    for ((k = 0; k < processes; k++)); do
        timeout "$seconds" dotnet "$here/bin/Release/net10.0/DeflectScan.Training.dll" render "$lessons" $((first + 1000 * k)) 1000 0.15 &
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

export_nets() {
    local into="$here/../../src/DeflectScan/Tracing/Reading"
    for net in reader finder; do
        "$python" "$here/export.py" "$net" "$1/$net.pt" "$into/$net.onnx"
    done
    sha256sum "$into"/*.onnx
}

case "${1:-}:$#" in
    render:[2-5]) render "${@:2}" ;;
    train:[34]) train "${@:2}" ;;
    export:2) export_nets "$2" ;;
    *)
        sed -n '2,5s/^# *//p' "$0" >&2
        exit 2
        ;;
esac
