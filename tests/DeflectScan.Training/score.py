"""score.py READER.pt LESSONS [PLACES.npy] [again]: the reader on whole strips (those not learnt from): the figures of docs/reader.md, and its places for
calibrate.py. again: as SecondLook reads them in the program, the mean of three sizes."""
import glob
import json
import os
import sys
import cv2
import numpy as np
import torch
from lessons import held_back
from nets import AXIS_ROW, Reader

SIZES = (.93, 1.075)                                             # SecondLook's
NEAR_MM, TIP_MM, LEAST, BODY_ROWS, CLOSEST_MM = 12, 22, -6, 20, 22


def sigmoid(v):
    return 1 / (1 + np.exp(-v))


def peaks(heat, kind, least):
    """(log-odds, column, row), the surest first; as Peaks does in the program."""
    m, out = heat[kind], []
    for r, c in zip(*np.where(m >= least)):
        if m[r, c] < m[max(0, r - 5):r + 6, max(0, c - 3):c + 4].max():
            continue
        near = slice(max(0, r - 1), r + 2), slice(max(0, c - 1), c + 2)
        w = sigmoid(m[near])
        rows, columns = np.mgrid[near[0].start:near[0].start + w.shape[0], near[1].start:near[1].start + w.shape[1]]
        out.append((m[r, c], ((w * (columns + heat[5][near])).sum() / w.sum() + .5) * 4 - .5, ((w * (rows + heat[6][near])).sum() / w.sum() + .5) * 4 - .5))
    return sorted(out, reverse=True)


def body(lines, d):
    """By cells of 4 columns at which the blank is seen by the truth: how far the middle of what the network takes for it is off, mm, and its half width."""
    p = sigmoid(lines[3])
    rows = np.arange(len(p)) * 2 + .5
    p = np.where((abs(rows[:, None] - AXIS_ROW) < BODY_ROWS) & (p > .2), p, 0)
    mean = lambda v: np.asarray(v, float)[:p.shape[1] * 4].reshape(-1, 4).mean(1)
    hidden = np.zeros(d["columns"])
    for a, b in d["hidden"]:
        hidden[max(0, int(a)):int(b) + 1] = 1
    radius, seen = mean(d["radius_rows"]) / 2, p.sum(0)
    there = (radius > 0) & (mean(hidden) == 0) & (seen > 0)
    middle = ((p * rows[:, None]).sum(0) / np.maximum(seen, 1e-6) - mean(d["blank_rows"])) / 2
    return np.c_[middle, seen / 2 - radius, p.max(0)][there]


def read(net, picture):
    x = torch.from_numpy(np.ascontiguousarray(picture.transpose(2, 0, 1)))[None]
    with torch.no_grad():
        heat, lines, side = net((x.float() - 127.5) / 64)
    return heat[0].numpy(), lines.numpy(), side.mean().item()


def again(net, picture, heat, side):
    """The mean of what the net says of the strip as it is, smaller and larger; where in a cell a contact lies stays as first read."""
    sums, sides = heat[:5].copy(), [side]
    for z in SIZES:
        width = int(np.ceil(picture.shape[1] * z / 16)) * 16
        to = np.float32([[z, 0, (z - 1) / 2], [0, z, AXIS_ROW * (1 - z)]])
        sized = cv2.warpAffine(picture, to, (width, len(picture)), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        h, _, one = read(net, sized)
        back = np.float32([[z, 0, (z - 1) / 2], [0, z, (AXIS_ROW + .5) / 4 * (1 - z) + (z - 1) / 2]])
        for k in range(5):
            sums[k] += cv2.warpAffine(h[k], back, (heat.shape[2], heat.shape[1]), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP, borderMode=cv2.BORDER_REPLICATE)
        sides.append(one)
    return np.concatenate([sums / (1 + len(SIZES)), heat[5:]]), float(np.mean(sides))


net = Reader()
net.load_state_dict(torch.load(sys.argv[1], map_location="cpu"))
net.eval()
scenes, rings, missed, invented, sides, errors, tips, reels, places, bodies = 0, 0, 0, 0, 0, [], [], [], [], []
for file in sorted(glob.glob(sys.argv[2] + "/*.json")):
    if not held_back(os.path.basename(file)[:-5]):
        continue
    with open(file) as f:
        d = json.load(f)["strip"]
    picture = cv2.imread(file[:-5] + "-strip.jpg")
    heat, lines, side = read(net, picture)
    if "again" in sys.argv[3:]:
        heat, side = again(net, picture, heat, side)
    left, tip = [tuple(p[:2]) for p in d["guides"] if p[3] == 0], [p for p in d["guides"] if p[3] == 1]
    scenes, rings, sides = scenes + 1, rings + len(left), sides + ((side > 0) == d["inside"])
    bodies.append(body(lines[0], d))
    for odds, column, row in peaks(heat, 0, LEAST):
        if tip and column > tip[0][0] - TIP_MM:
            continue
        if any(abs(p[0] - column) < NEAR_MM for p in d["hidden_guides"]):
            continue                                            # something in front hides a guide there: neither answer is wrong
        i = next((i for i, (c, r) in enumerate(left) if abs(c - column) < NEAR_MM and abs(r - row) / 2 < NEAR_MM), None)
        if i is None and any(abs(p[0] - column) < CLOSEST_MM for p in d["guides"]):
            continue                                            # the decoder takes one place of two that are so near
        places.append((odds, i is not None))
        if i is None:
            invented += odds >= 0
            continue
        c, r = left.pop(i)
        missed += odds < 0
        if odds >= 0:
            errors.append((abs(c - column), abs(r - row) / 2))
    missed += len(left)
    if tip:
        _, column, row = peaks(heat, 1, -99)[0]
        tips.append((abs(column - tip[0][0]), abs(row - tip[0][1]) / 2))
    odds, column, _ = peaks(heat, 3, -99)[0]
    reels.append((odds, np.nan if d["reel"] is None else abs(column - d["reel"])))

errors, tips, reels, places, bodies = (np.array(v, float) for v in (errors, tips, reels, places, np.concatenate(bodies)))
has = ~np.isnan(reels[:, 1])
at = lambda v: " / ".join(f"{q:.2f}" for q in np.percentile(v, [50, 95, 99])) if len(v) else "none"
print(f"{scenes} scenes, side right {sides}; {rings} rings, missed {missed}, invented {invented}")
print("50 / 95 / 99 %, mm: station", at(errors[:, 0]), "height", at(errors[:, 1]), "tip station", at(tips[:, 0]), "tip height", at(tips[:, 1]), "reel", at(reels[has, 1]))
print("the blank's body, by cell: middle", at(abs(bodies[:, 0])), "half width", at(abs(bodies[:, 1])), f"of {len(bodies)}")
print("reel's log-odds: 1 % least with", np.percentile(reels[has, 0], 1), "most without", reels[~has, 0].max(initial=-np.inf), (~has).sum())
print(len(places), "places")
if len(sys.argv) > 3:
    np.save(sys.argv[3], places)                                # for calibrate.py
