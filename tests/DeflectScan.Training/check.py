"""check.py LESSONS [SHEETS]: checks crops and targets on the processor; with SHEETS draws contact sheets of changed crops with their truth into that folder."""
import sys
import time
import cv2
import numpy as np
import torch
import photos
import strips
import surfaces
from dice import Dice
from lessons import FAR, Lessons
from nets import STRIP_ROWS

COLOURS = [(0, 0, 255), (255, 0, 255), (0, 160, 255), (255, 160, 0), (0, 255, 255), (0, 255, 0)]


def plain_strips(lessons, dice, n=6):
    """A crop that is not changed is the lesson's own pixels, and the hills' tops are the rings."""
    v = strips.window(lessons, dice, n, True)
    s, _ = strips.scene(lessons, v)
    heat, off, weight, lines = strips.said(s)
    rings = 0
    for k in range(n):
        picture = lessons.picture(int(v.index[k])).numpy().astype(np.float32)
        h, x0 = picture.shape[0], int(v.x0[k])
        a, b = max(0, -x0), min(strips.CROP, picture.shape[1] - x0)
        assert np.abs(s.x[k].permute(1, 2, 0).numpy()[:h, a:b] - picture[:, x0 + a:x0 + b]).max() < .1
        points = lessons.truth["points"][v.index[k]].numpy()
        for x, y, kind in points:
            c, r = int((x - x0 + .5) // 4), int((y + .5) // 4)
            if kind < 0 or not (2 <= c < strips.CROP // 4 - 2 and 2 <= r < STRIP_ROWS // 4 - 2):
                continue
            if (np.hypot(points[:, 0] - x, points[:, 1] - y) < 24).sum() > 1:  # a neighbour's hill may be the higher one nearby
                continue
            # the axis lies between two rows of cells: both are then as high
            near = heat[k, int(kind), r - 2:r + 3, c - 2:c + 3]
            assert near.max() > .77 and near.max() - near[2, 2] < 1e-4, (lessons.names[int(v.index[k])], x, y, kind)
            assert abs((c + off[k, 0, r, c].item() + .5) * 4 - .5 + x0 - x) < .01 and abs((r + off[k, 1, r, c].item() + .5) * 4 - .5 - y) < .01
            rings += 1
    assert rings > 0
    print(f"{n} plain strips are the lessons' pixels; {rings} tops of hills are at their points")


def plain_photos(lessons, dice, n=4):
    index, m = photos.window(lessons, dice, n, True)
    m[:, :, :2] = torch.eye(2)
    m[:, :, 2] = m[:, :, 2].round()
    x = photos.sampled(lessons, index, m, dice.coin(.5, n))
    for k in range(n):
        picture = lessons.picture(int(index[k])).numpy().astype(np.float32)
        dx, dy = (int(v) for v in m[k, :, 2])
        a, b, c, d = max(0, dx), min(photos.CROP, picture.shape[1] + dx), max(0, dy), min(photos.CROP, picture.shape[0] + dy)
        if a < b and c < d:
            assert np.abs(x[k].permute(1, 2, 0).numpy()[c:d, a:b] - picture[c - dy:d - dy, a - dx:b - dx]).max() < .1
    print(n, "plain photos are the lessons' pixels")


def changed(source, lessons, dice, bank, n, rounds):
    spent, seen = 0.0, 0.0
    for _ in range(rounds):
        start = time.time()
        x, rest = source.crop(lessons, dice, bank, n)
        spent += time.time() - start
        assert x.shape == (n, 3, STRIP_ROWS if source is strips else photos.CROP, source.CROP) and torch.isfinite(x).all() and x.min() >= 0 and x.max() <= 255
        assert all(torch.isfinite(t).all() for t in rest) and rest[0].min() >= 0 and rest[0].max() <= 1
        seen += rest[0][:, -1].max().item()
    assert seen > 0, "nothing was put in front in any crop"
    print(f"{rounds * n} changed crops of {source.__name__}: 0 to 255, no NaN; {1000 * spent / rounds / n:.0f} ms a crop here")
    return x, rest


def sheet(x, heat, lines=None):
    out = []
    for k in range(len(x)):
        picture = np.ascontiguousarray(x[k].permute(1, 2, 0).numpy().astype(np.uint8))
        drawn = picture.copy().astype(np.float32)
        for i, c in enumerate(COLOURS[:heat.shape[1]]):
            m = cv2.resize(heat[k, i].numpy(), picture.shape[1::-1], interpolation=cv2.INTER_NEAREST)[..., None]
            drawn += .6 * m * (np.array(c, np.float32) - drawn)
        if lines is not None:
            for i, c in enumerate(((0, 255, 0), (255, 0, 0), (255, 255, 0), (255, 255, 255))):
                m = cv2.resize(lines[k, i].clamp(min=0).numpy(), picture.shape[1::-1], interpolation=cv2.INTER_NEAREST)[..., None]
                drawn += .5 * m * (np.array(c, np.float32) - drawn)
        out.append(np.concatenate([picture, drawn.astype(np.uint8)], 1))
    return np.concatenate(out)


if __name__ == "__main__":
    torch.set_grad_enabled(False)
    dice = Dice("cpu", 3)
    bank = surfaces.bank("cpu", 25)
    for source, plain in ((strips, plain_strips), (photos, plain_photos)):
        lessons = Lessons(sys.argv[1], source, "cpu")
        plain(lessons, dice)
        x, rest = changed(source, lessons, dice, bank, 6, 4)
        if len(sys.argv) > 2:
            cv2.imwrite(f"{sys.argv[2]}/{source.__name__}.png", sheet(x, rest[0], rest[3] if source is strips else None))
