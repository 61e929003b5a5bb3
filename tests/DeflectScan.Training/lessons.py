"""Lessons of either network: pictures decoded once, kept as bytes on the device, sampled by the batch; beside them what they show, padded to one shape."""
import glob
import json
import os
from concurrent.futures import ThreadPoolExecutor
import cv2
import numpy as np
import torch

FAR = -1e6                                                      # where points stand that there are none of


def held_back(name):
    """Every 20th number is never learnt from."""
    return name.isdigit() and int(name) % 20 == 0


def segments(points, count):
    """A polyline as `count` equally long pieces (count, 2 ends, 2); FAR away where there is none."""
    p = np.asarray(points, np.float64).reshape(len(points), -1)[:, :2] if len(points) else np.zeros((0, 2))
    along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(p, axis=0).T))]) if len(p) > 1 else [0]
    if along[-1] <= 0:
        return np.full((count, 2, 2), FAR, np.float32)
    at = np.linspace(0, along[-1], count + 1)
    q = np.stack([np.interp(at, along, p[:, i]) for i in (0, 1)], 1)
    return np.stack([q[:-1], q[1:]], 1).astype(np.float32)


class Lessons:
    """source: module strips or photos, with PICTURE, truth(json) -> arrays by name. Pixels are held in one row, B G R each: a picture of h x w px
    begins at `start`. truth: tensors of one shape for all lessons, by name; names: the lessons' names."""

    def __init__(self, folder, source, device, wanted=lambda name: True):
        files = [f[:-5] for f in sorted(glob.glob(folder + "/*.json"))]
        with ThreadPoolExecutor() as pool:
            read = [r for r in pool.map(lambda f: self.one(f, source), [f for f in files if wanted(os.path.basename(f))]) if r]
        if not read:
            raise SystemExit(f"No lessons in {folder}: render some first (train.sh render).")
        self.names = [r[0] for r in read]
        size = np.array([r[1].shape[:2] for r in read])
        start = np.concatenate([[0], np.cumsum(size.prod(1))])
        self.pixels = torch.empty((int(start[-1]), 3), dtype=torch.uint8, device=device)
        for k, (_, picture, _) in enumerate(read):
            self.pixels[int(start[k]):int(start[k + 1])] = torch.from_numpy(picture.reshape(-1, 3)).to(device)
        self.start = torch.from_numpy(start[:-1]).to(device)
        self.high, self.wide = (torch.from_numpy(np.ascontiguousarray(size[:, i])).to(device) for i in (0, 1))
        self.truth = {k: torch.from_numpy(padded([r[2][k] for r in read])).to(device) for k in read[0][2]}

    def __len__(self):
        return len(self.names)

    @staticmethod
    def one(file, source):
        try:
            with open(file + ".json") as f:
                shown = json.load(f)
        except ValueError:                                      # still being written
            return None
        picture = cv2.imread(file + source.PICTURE)
        return None if picture is None else (os.path.basename(file), picture, source.truth(shown))

    def picture(self, k):
        """(h, w, 3) bytes."""
        h, w, s = int(self.high[k]), int(self.wide[k]), int(self.start[k])
        return self.pixels[s:s + h * w].view(h, w, 3)

    def sample(self, index, x, y, repeat=None):
        """Between pixels, linearly: index (B), x and y (B, H, W), px -> (B, 3, H, W), 0 to 255. Beyond the border the picture is mirrored, or where
        `repeat` (B) holds its border goes on."""
        w, h, start = (v[index].view(-1, 1, 1) for v in (self.wide, self.high, self.start))
        repeat = torch.zeros_like(start, dtype=torch.bool) if repeat is None else repeat.view(-1, 1, 1)
        x, y = border(x, w, repeat), border(y, h, repeat)
        left, top = torch.minimum(x.floor().long(), w - 2), torch.minimum(y.floor().long(), h - 2)
        dx, dy = (x - left).unsqueeze(-1), (y - top).unsqueeze(-1)
        at = start + top * w + left
        above = torch.lerp(self.pixels[at].float(), self.pixels[at + 1].float(), dx)
        at += w
        below = torch.lerp(self.pixels[at].float(), self.pixels[at + 1].float(), dx)
        return torch.lerp(above, below, dy).permute(0, 3, 1, 2).contiguous()


def border(v, size, repeat):
    last = (size - 1).float()
    around = v.remainder(2 * last)
    return torch.where(repeat, torch.minimum(v.clamp(min=0), last), torch.minimum(around, 2 * last - around))


def padded(arrays):
    arrays = [np.asarray(a, np.float32) for a in arrays]
    out = np.full((len(arrays), *np.max([a.shape for a in arrays], 0)), FAR, np.float32) if arrays[0].ndim else np.zeros(len(arrays), np.float32)
    for k, a in enumerate(arrays):
        out[(k, *(slice(n) for n in a.shape))] = a
    return out
