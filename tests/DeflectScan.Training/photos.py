"""Crops of small whole photos, turned and changed at random, and where blank, handle, tip, butt and cord are in them."""
import glob
import json
import os
import cv2
import numpy as np
import surfaces

CROP = 576
cv2.setNumThreads(1)


def load(folder, known, part=None):
    out = []
    for f in sorted(glob.glob(folder + "/*.json")):
        if f in known:
            continue
        known.add(f)
        name = os.path.basename(f)[:-5]
        if part and name.isdigit() and int(name) % part[1] != part[0]:
            continue
        try:
            d = json.load(open(f))["photo"]
        except ValueError:
            known.discard(f)
            continue
        out.append(dict(name=name, jpg=np.fromfile(f[:-5] + "-photo.jpg", np.uint8), scale=d["mm_per_px"] / 3,
                        blank=np.array(d["blank"], np.float32), handle=np.array(d["handle"], np.float32).reshape(-1, 2), cord=np.array(d["cord"], np.float32).reshape(-1, 2)))
    return out


def crop(lessons, rng, textures, hard=1.0):
    s = lessons[rng.integers(len(lessons))]
    im = cv2.imdecode(s["jpg"], 1)
    h, w = im.shape[:2]
    turn = rng.uniform(-15, 15) + (rng.choice([90, 180, 270]) if rng.random() < .25 else 0)
    m = cv2.getRotationMatrix2D((w / 2, h / 2), turn, s["scale"] * rng.uniform(.75, 1.35))
    if rng.random() < .5:
        m = m @ np.array([[-1, 0, w - 1], [0, 1, 0], [0, 0, 1]])
    target = s["blank"][rng.integers(len(s["blank"])), :2] if rng.random() < .8 else rng.uniform(0, [w, h])
    at = m[:, :2] @ target + m[:, 2]
    m[:, 2] += CROP / 2 - at + rng.uniform(-.42, .42, 2) * CROP
    o = cv2.warpAffine(im, m.astype(np.float32), (CROP, CROP), flags=cv2.INTER_AREA if rng.random() < .5 else cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT_101 if rng.random() < .5 else cv2.BORDER_REPLICATE).astype(np.float32)
    moved = lambda p: p[:, :2] @ m[:, :2].T + m[:, 2] if len(p) else p[:, :2]
    blank, handle, cord = moved(s["blank"]), moved(s["handle"]), moved(s["cord"])
    keep = np.zeros((CROP, CROP), np.float32)
    for p, t in ((blank, 9), (handle, 30), (cord, 5)):
        if len(p) > 1:
            cv2.polylines(keep, [np.round(p * 8).astype(np.int32)], False, 1., t, cv2.LINE_AA, 3)
    keep = cv2.GaussianBlur(keep, (0, 0), 1.5)
    if rng.random() < .4 * hard:
        for _ in range(rng.integers(1, 3)):
            t = surfaces.piece(rng, textures, CROP, CROP)
            a = rng.uniform(.05, .6) * (1 - keep)
            if rng.random() < .3:
                o += a[..., None] * (surfaces.colour(rng) + t[..., None] * rng.normal(0, 40, 3).astype(np.float32) - o)
            else:
                o *= 1 + (a * np.clip(t * rng.uniform(.1, .5), -.7, .7))[..., None]
    if rng.random() < .3 * hard and len(blank) > 1:             # another colour of blank
        bm = np.zeros((CROP, CROP), np.float32)
        cv2.polylines(bm, [np.round(blank * 8).astype(np.int32)], False, 1., 2, cv2.LINE_AA, 3)
        o += (bm * rng.uniform(.2, .8))[..., None] * (surfaces.colour(rng) - o)
    if rng.random() < .35 * hard:                               # straight and bent bars and cords that are no blank, behind
        for _ in range(rng.integers(1, 5)):
            p = rng.uniform(-100, CROP + 100, (2, 2))
            q = np.zeros((CROP, CROP), np.float32)
            cv2.polylines(q, [np.round(np.array([p[0], p.mean(0) + rng.normal(0, 12, 2), p[1]]) * 8).astype(np.int32)], False, 1., int(rng.integers(1, 7)), cv2.LINE_AA, 3)
            o += (q * (1 - keep))[..., None] * (surfaces.colour(rng) - o)
    o = surfaces.camera(rng, o, hard)
    return (o, *targets(blank, handle, cord))


def targets(blank, handle, cord):
    n = CROP // 4
    heat, off = np.zeros((5, n, n), np.float32), np.zeros((2, n, n), np.float32)
    yy, xx = np.mgrid[:n, :n].astype(np.float32)
    cell = lambda p: (p + .5) / 4 - .5
    for k, p in ((0, blank), (1, handle), (4, cord)):
        if len(p) < 2:
            continue
        d = np.full((n, n), 99, np.float32)
        c = cell(p)
        fine = np.concatenate([np.linspace(a, b, max(2, int(np.hypot(*(b - a)) * 3) + 1)) for a, b in zip(c[:-1], c[1:])])
        inside = (fine > -3).all(1) & (fine < n + 3).all(1)
        for x, y in fine[inside]:
            x1, x2, y1, y2 = max(0, int(x) - 3), min(n, int(x) + 5), max(0, int(y) - 3), min(n, int(y) + 5)
            if x1 >= x2 or y1 >= y2:
                continue
            dd = np.hypot(xx[y1:y2, x1:x2] - x, yy[y1:y2, x1:x2] - y)
            closer = dd < d[y1:y2, x1:x2]
            d[y1:y2, x1:x2][closer] = dd[closer]
            if k == 0:
                off[0, y1:y2, x1:x2][closer] = (x - xx[y1:y2, x1:x2])[closer]
                off[1, y1:y2, x1:x2][closer] = (y - yy[y1:y2, x1:x2])[closer]
        heat[k] = np.exp(-.5 * d ** 2)
    for k, p in ((2, blank[-1]), (3, blank[0])):
        c = cell(p)
        heat[k] = np.exp(-.5 * ((xx - c[0]) ** 2 + (yy - c[1]) ** 2) / 1.5 ** 2)
    return heat, off, (heat[0] > .2).astype(np.float32) * heat[0]
