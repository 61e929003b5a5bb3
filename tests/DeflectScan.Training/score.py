"""score.py READER.pt LESSONS: the reader on whole strips (those not learnt from): the figures of docs/reader.md, and the curve from its log-odds to probability."""
import sys
import cv2
import numpy as np
import torch
import strips
from nets import Reader

NEAR_MM, TIP_MM, LEAST = 12, 22, -6


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
        out.append((m[r, c], ((w * (columns + heat[4][near])).sum() / w.sum() + .5) * 4 - .5, ((w * (rows + heat[5][near])).sum() / w.sum() + .5) * 4 - .5))
    return sorted(out, reverse=True)


def curve(x, y):
    """Logistic fit: (a, b) of a + b x."""
    f, w = np.c_[np.ones(len(x)), x], np.zeros(2)
    for _ in range(60):
        p = sigmoid(f @ w)
        w -= np.linalg.solve((f * (p * (1 - p))[:, None]).T @ f + 1e-3 * np.eye(2), f.T @ (p - y) + 1e-3 * w)
    return w


net = Reader()
net.load_state_dict(torch.load(sys.argv[1], map_location="cpu"))
net.eval()
scenes, rings, missed, invented, sides, errors, tips, reels, places = 0, 0, 0, 0, 0, [], [], [], []
for s in strips.load(sys.argv[2], set()):
    x = torch.from_numpy(np.ascontiguousarray(cv2.imdecode(s["jpg"], 1).transpose(2, 0, 1)))[None]
    with torch.no_grad():
        heat, _, side = net((x.float() - 127.5) / 64)
    heat, g = heat[0].numpy(), s["guides"]
    left, tip = [tuple(p[:2]) for p in g if p[3] == 0], [p for p in g if p[3] == 1][0]
    scenes, rings, sides = scenes + 1, rings + len(left), sides + ((side.mean().item() > 0) == s["inside"])
    for odds, column, row in peaks(heat, 0, LEAST):
        if column > tip[0] - TIP_MM:
            continue
        i = next((i for i, (c, r) in enumerate(left) if abs(c - column) < NEAR_MM and abs(r - row) / 2 < NEAR_MM), None)
        places.append((odds, i is not None))
        if i is None:
            invented += odds >= 0
            continue
        c, r = left.pop(i)
        missed += odds < 0
        if odds >= 0:
            errors.append((abs(c - column), abs(r - row) / 2))
    missed += len(left)
    _, column, row = peaks(heat, 1, -99)[0]
    tips.append((abs(column - tip[0]), abs(row - tip[1]) / 2))
    odds, column, _ = peaks(heat, 3, -99)[0]
    reels.append((odds, np.nan if s["reel"] is None else abs(column - s["reel"])))

errors, tips, reels, places = (np.array(v, float) for v in (errors, tips, reels, places))
has = ~np.isnan(reels[:, 1])
at = lambda v: " / ".join(f"{q:.2f}" for q in np.percentile(v, [50, 95, 99])) if len(v) else "none"
print(f"{scenes} scenes, side right {sides}; {rings} rings, missed {missed}, invented {invented}")
print("50 / 95 / 99 %, mm: station", at(errors[:, 0]), "height", at(errors[:, 1]), "tip station", at(tips[:, 0]), "tip height", at(tips[:, 1]), "reel", at(reels[has, 1]))
print("reel's log-odds: least with", reels[has, 0].min(initial=np.inf), "most without", reels[~has, 0].max(initial=-np.inf))
print("log-odds of a place = %.2f + %.2f x" % tuple(curve(places[:, 0], places[:, 1])))
