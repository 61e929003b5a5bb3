"""Crops of strips with heavy randomisation (Tobin et al. 2017), and what is to be said of them."""
import glob
import json
import os
import cv2
import numpy as np
import surfaces
from nets import AXIS_ROW, STRIP_ROWS

CROP = 512
cv2.setNumThreads(1)


def load(folder, known, part=None):
    """Lessons not yet known; part (i, n): every n-th only."""
    out = []
    for f in sorted(glob.glob(folder + "/*.json")):
        if f in known:
            continue
        known.add(f)
        name = os.path.basename(f)[:-5]
        if part and name.isdigit() and int(name) % part[1] != part[0]:
            continue
        try:
            d = json.load(open(f))["strip"]
        except ValueError:                                      # still being written
            known.discard(f)
            continue
        jpg = np.fromfile(f[:-5] + "-strip.jpg", np.uint8)
        arrays = {k: np.array(d[k], np.float32).reshape(-1, n) for k, n in (("guides", 4), ("pieces", 2), ("line", 2), ("hang", 2), ("cord", 2))}
        out.append(dict(arrays, name=name, jpg=jpg, columns=d["columns"], inside=d["inside"], line_rows=d["line_rows"], cord_rows=d["cord_rows"],
                        radius=np.array(d["radius_rows"], np.float32), reel=d["reel"]))
    return out


def picture(lesson):
    if "image" not in lesson:
        lesson["image"] = cv2.imdecode(lesson["jpg"], 1)
    return lesson["image"]


def path_rows(points, width):
    """Row of a path at every column, nan where it does not run."""
    row = np.full(width, np.nan, np.float32)
    if len(points) > 1:
        p = points[np.argsort(points[:, 0])]
        x = np.arange(width)
        inside = (x >= p[0, 0]) & (x <= p[-1, 0])
        row[inside] = np.interp(x[inside], p[:, 0], p[:, 1])
    return row


def band(rows, row, half):
    return np.clip(half + .5 - np.abs(rows - np.nan_to_num(row, nan=-999)[None]), 0, 1).astype(np.float32)


def crop(lessons, rng, textures, hard=1.0, plain=False):
    s = lessons[rng.integers(len(lessons))]
    im = picture(s)
    w = im.shape[1]
    fx, fy, dy = (1, 1, 0) if plain else (rng.uniform(.8, 1.25), rng.uniform(.82, 1.22), rng.normal(0, .8))
    x0 = rng.uniform(-60, w * fx - CROP + 60)
    if rng.random() < .15:                                      # the tip and the reel are rare: look there more often
        x0 = w * fx - CROP + rng.uniform(-40, 60) if rng.random() < .6 else rng.uniform(-60, 60)
    m = np.array([[fx, 0, -x0], [0, fy, AXIS_ROW - fy * AXIS_ROW + dy]], np.float32)
    o = cv2.warpAffine(im, m, (CROP, STRIP_ROWS), flags=cv2.INTER_LINEAR if fx > .95 or rng.random() < .5 else cv2.INTER_AREA, borderMode=cv2.BORDER_REFLECT_101).astype(np.float32)
    moved = lambda p: np.stack([p[:, 0] * fx - x0, AXIS_ROW + dy + fy * (p[:, 1] - AXIS_ROW)], 1) if len(p) else np.zeros((0, 2))
    cols = (np.arange(CROP) + x0) / fx
    inside = (cols >= 0) & (cols < w)
    rad = np.where(inside, np.interp(cols, np.arange(w), s["radius"]) * fy, 0)
    rows = np.arange(STRIP_ROWS)[:, None]
    line = path_rows(moved(s["line"]), CROP)
    thick = max(.35, s["line_rows"] * fy)
    lm = band(rows, line, thick / 2) * min(1, thick)
    bm = np.clip(rad[None] + .5 - np.abs(rows - AXIS_ROW - dy), 0, 1).astype(np.float32)
    g, kind = moved(s["guides"][:, :2]), s["guides"][:, 3]
    if not plain:
        o = behind(lessons, rng, textures, hard, o, g, line, lm, bm, rows, dy)
        o = upon(rng, hard, o, g[:, 0], lm, bm, rad, rows, dy)
        o = surfaces.camera(rng, o, hard)
    else:
        o = o.astype(np.uint8)
    return o, *targets(s, g, kind, moved, fx, x0, dy), np.float32(s["inside"])


def behind(lessons, rng, textures, hard, o, g, line, lm, bm, rows, dy):
    ay = AXIS_ROW + dy
    if rng.random() < .65 * hard:
        keep = np.maximum(bm, np.clip(2.2 - np.abs(rows - np.nan_to_num(line, nan=-99)[None]), 0, 1).astype(np.float32))
        # soft boxes about the guides, and some where none is, so that a box tells nothing
        boxes = [(x, y) for x, y in g] + [(rng.uniform(0, CROP), ay + rng.uniform(-30, 110)) for _ in range(rng.integers(0, 4))]
        box = np.zeros((STRIP_ROWS, CROP), np.float32)
        for x, y in boxes:
            if -60 < x < CROP + 60:
                a, b = sorted((ay, y))
                cv2.rectangle(box, (int(x - rng.uniform(22, 40)), int(a - rng.uniform(6, 14))), (int(x + rng.uniform(22, 40)), int(b + rng.uniform(6, 14))), 1, -1)
        box = cv2.GaussianBlur(box, (0, 0), rng.uniform(3, 8))
        for _ in range(rng.integers(1, 4)):
            t = surfaces.piece(rng, textures, STRIP_ROWS, CROP)
            full = rng.random() < .35
            m = (rng.uniform(.15, 1) if full else rng.uniform(.05, .5)) * (1 - keep) * (1 - box * (1 - rng.uniform(0, .4)))
            if full:
                o += m[..., None] * (surfaces.colour(rng) + t[..., None] * rng.normal(0, 40, 3).astype(np.float32) - o)
            else:
                o *= 1 + (m * np.clip(t * rng.uniform(.1, .5), -.7, .7))[..., None]
    if rng.random() < .2 * hard:                                # another rod's faint picture
        q = picture(lessons[rng.integers(len(lessons))])
        m2 = cv2.getRotationMatrix2D((rng.uniform(0, q.shape[1]), 90), rng.uniform(-35, 35), rng.uniform(.7, 1.5))
        m2[:, 2] += (rng.uniform(-200, 200), rng.choice([-1, 1]) * rng.uniform(40, 140))
        t = cv2.warpAffine(q, m2, (CROP, STRIP_ROWS), borderMode=cv2.BORDER_REFLECT).astype(np.float32).mean(2)
        t = cv2.GaussianBlur(t, (0, 0), rng.uniform(.5, 3))
        o *= (1 - (1 - bm) * rng.uniform(.1, .5) * (1 - t / (t.max() + 1)))[..., None]
    if rng.random() < .3:
        o *= (1 - rng.uniform(.12, .6) * surfaces.shadow(rng, STRIP_ROWS, CROP, ay) * (1 - np.maximum(bm, lm)))[..., None]
    return o


def upon(rng, hard, o, gx, lm, bm, rad, rows, dy):
    """Other colours of blank and line, a line that is not seen, holders without a guide, bars that cross."""
    if rng.random() < .35 * hard:
        c = surfaces.colour(rng)
        if rng.random() < .4:
            o += (bm * rng.uniform(.2, .7))[..., None] * (c - o)
        else:
            o += bm[..., None] * (np.clip(o * rng.uniform(.3, 1.8, 3).astype(np.float32) + rng.normal(0, 25, 3), 0, 255).astype(np.float32) - o)
    if rng.random() < .3 * hard:
        o += (lm * rng.uniform(.2, 1))[..., None] * (surfaces.colour(rng) - o)
    elif rng.random() < .2 * hard:                              # the line fades into what is behind it
        flanks = .5 * (np.roll(o, 4, 0) + np.roll(o, -4, 0))
        o += (np.clip(1.6 * cv2.GaussianBlur(lm, (0, 0), .8), 0, 1) * rng.uniform(.5, 1))[..., None] * (flanks - o)
    if rng.random() < .12 * hard:
        for _ in range(rng.integers(1, 4)):
            x = rng.uniform(0, CROP)
            if len(gx) and np.abs(gx - x).min() < 30:
                continue
            k = np.clip(rng.uniform(3, 14) / 2 + .5 - np.abs(np.arange(CROP) - x), 0, 1)[None] * np.clip(rad[None] * rng.uniform(1.05, 1.4) + .5 - np.abs(rows - AXIS_ROW - dy), 0, 1)
            o += k[..., None].astype(np.float32) * (surfaces.colour(rng) - o)
    for _ in range(rng.integers(0, 3) if rng.random() < .35 * hard else 0):
        x, slope, wide = rng.uniform(-40, CROP + 40), rng.normal(0, 1), rng.uniform(1, 14)
        front = rng.random() < .1
        if front and len(gx) and np.abs(gx - x).min() < 30 + 60 * abs(slope):
            continue
        k = np.clip(wide / 2 + .5 - np.abs(np.arange(CROP)[None] - x - slope * (rows - AXIS_ROW) * .5) / np.hypot(1, slope * .5), 0, 1)
        k = k if front else k * (1 - bm) * (1 - lm)
        if not front and len(gx) and np.abs(gx - x).min() < 25 + 30 * abs(slope):
            continue
        o += (k * rng.uniform(.4, 1))[..., None].astype(np.float32) * (surfaces.colour(rng) - o)
    return o


def targets(s, g, kind, moved, fx, x0, dy):
    hh, hw = STRIP_ROWS // 4, CROP // 4
    heat, off, weight = np.zeros((4, hh, hw), np.float32), np.zeros((2, hh, hw), np.float32), np.zeros((hh, hw), np.float32)
    yy, xx = np.mgrid[:hh, :hw].astype(np.float32)
    points = [(x, y, int(k)) for (x, y), k in zip(g, kind)]
    points += [((a + b) / 2 * fx - x0, AXIS_ROW + dy, 2) for a, b in s["pieces"]]
    if s["reel"] is not None:
        points.append((s["reel"] * fx - x0, AXIS_ROW + dy, 3))
    for x, y, k in points:
        cx, cy = (x + .5) / 4 - .5, (y + .5) / 4 - .5
        if not (-3 < cx < hw + 3 and cy < hh + 2):
            continue
        q = np.exp(-.5 * ((xx - cx) ** 2 + (yy - cy) ** 2))
        heat[k] = np.maximum(heat[k], q)
        near = (q > .2) & (q > weight)
        off[0][near], off[1][near] = (cx - xx)[near], (cy - yy)[near]
        weight[near] = q[near]
    lines = []
    for points in ("line", "cord", "hang"):
        p = moved(s[points])
        m = np.zeros((STRIP_ROWS, CROP), np.float32)
        if len(p) > 1:
            cv2.polylines(m, [np.round(p * 8).astype(np.int32)], False, 1., 2, cv2.LINE_AA, 3)
        lines.append(cv2.resize(m, (hw, STRIP_ROWS // 2), interpolation=cv2.INTER_AREA))
    return heat, off, weight, np.clip(np.stack(lines) * 1.6, 0, 1)
