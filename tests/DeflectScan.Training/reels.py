"""Pictures of the handle, by the batch: how each is turned, moved and scaled, and in which column the reel's front then lies."""
import glob
import json
import os
from concurrent.futures import ThreadPoolExecutor
import cv2
import numpy as np
import torch
import torch.nn.functional as F
import camera
import front
from lessons import held_back
from nets import REEL_CELLS, REEL_COLUMNS, REEL_ROWS

SLOPE_ROWS, GREY_PER_SLOPE = 16, 250.0
EDGE = 12                                                       # px: a front nearer to the picture's ends is not drawn


class Reels:
    """pictures (n, 256, 384, 3) bytes; column of the front, -1 where there is no reel; how far the view leans."""

    def __init__(self, folder, device, wanted=lambda name: not held_back(name)):
        files = [f[:-5] for f in sorted(glob.glob(folder + "/*.json")) if os.path.exists(f[:-5] + "-reel.jpg") and wanted(os.path.basename(f)[:-5])]
        with ThreadPoolExecutor() as pool:
            read = [r for r in pool.map(self.one, files) if r]
        if not read:
            raise SystemExit(f"No reels in {folder}: render some first (train.sh reels).")
        self.names = [r[0] for r in read]
        self.pictures = torch.from_numpy(np.stack([r[1] for r in read])).to(device)
        self.column = torch.tensor([r[2] for r in read], device=device)
        self.slope = torch.tensor([r[3] for r in read], device=device)

    def __len__(self):
        return len(self.names)

    @staticmethod
    def one(file):
        try:
            with open(file + ".json") as f:
                shown = json.load(f)
        except ValueError:                                      # still being written
            return None
        picture = cv2.imread(file + "-reel.jpg")
        reel = shown["reel"]
        if picture is None or reel is not None and not EDGE < reel < REEL_COLUMNS - EDGE:
            return None
        return os.path.basename(file), picture, -1.0 if reel is None else reel, shown["slope"]


def leaning(x, slope):
    """The picture (n, 3, H, W) with its uppermost rows grey as the view leans."""
    x[:, :, :SLOPE_ROWS] = (127.5 + GREY_PER_SLOPE * slope).clamp(0, 255).round().view(-1, 1, 1, 1)
    return x


def placed(pictures, zoom_x, zoom_y, turn, dx, dy):
    """Scaled and turned about the middle, then moved, px."""
    n = len(pictures)
    cos, sin = turn.cos(), turn.sin()
    half = (REEL_COLUMNS / 2, REEL_ROWS / 2)
    # affine_grid asks where a place of the new picture lies in the old one, both from -1 to 1
    back = torch.zeros(n, 2, 3, device=pictures.device)
    back[:, 0, 0], back[:, 0, 1] = cos / zoom_x, sin / zoom_x * half[1] / half[0]
    back[:, 1, 0], back[:, 1, 1] = -sin / zoom_y * half[0] / half[1], cos / zoom_y
    back[:, 0, 2] = -(back[:, 0, 0] * dx / half[0] + back[:, 0, 1] * dy / half[1])
    back[:, 1, 2] = -(back[:, 1, 0] * dx / half[0] + back[:, 1, 1] * dy / half[1])
    grid = F.affine_grid(back, (n, 3, REEL_ROWS, REEL_COLUMNS), align_corners=False)
    return F.grid_sample(pictures, grid, mode="bilinear", padding_mode="border", align_corners=False)


def target(column):
    """Columns px (n), below 0: no reel -> shares of the cells and, last, of there being none (n, 97): between two cells' middles by how near."""
    there = column >= 0
    at = ((column + .5) / (REEL_COLUMNS / REEL_CELLS) - .5).clamp(0, REEL_CELLS - 1.001)
    left = at.floor().long()
    share = torch.zeros(len(column), REEL_CELLS + 1, device=column.device)
    share.scatter_(1, left[:, None], (1 - (at - left))[:, None])
    share.scatter_(1, (left + 1)[:, None], (at - left)[:, None])
    none = torch.zeros_like(share)
    none[:, -1] = 1
    return torch.where(there[:, None], share, none)


def crop(reels, dice, bank, n, hard=1.0):
    """-> picture (n, 3, 256, 384), 0 to 255, and (shares of the cells and of none,)."""
    index = dice.whole(len(reels), n)
    column, slope = reels.column[index], reels.slope[index]
    u = lambda a, b: dice.uniform(a, b, n)
    zoom_x, zoom_y, turn = u(.82, 1.22), u(.85, 1.18), .03 * dice.normal(n)
    dy = 5 * dice.normal(n)
    there = column >= 0
    middle = REEL_COLUMNS / 2
    # the front lies on the axis, whose row is turned and moved, too
    axis = 99.5 - REEL_ROWS / 2 + .5
    scaled = lambda dx: middle - .5 + (column + .5 - middle) * zoom_x * turn.cos() - axis * zoom_x * turn.sin() + dx
    dx = u(-45, 45)
    fits = there & (scaled(dx) > EDGE) & (scaled(dx) < REEL_COLUMNS - EDGE) | ~there
    dx = torch.where(fits, dx, torch.zeros_like(dx))
    moved = scaled(dx)
    keep = there & (moved > EDGE) & (moved < REEL_COLUMNS - EDGE)
    # what would leave the picture stays as it is
    stay = there & ~keep
    one, zero = torch.ones_like(dx), torch.zeros_like(dx)
    zoom_x, zoom_y, turn, dx, dy = (torch.where(stay, b, a) for a, b in ((zoom_x, one), (zoom_y, one), (turn, zero), (dx, zero), (dy, zero)))
    moved = torch.where(there, torch.where(stay, column, moved), torch.full_like(moved, -1))
    x = placed(reels.pictures[index].permute(0, 3, 1, 2).float(), zoom_x, zoom_y, turn, dx, dy)
    some = dice.some(n, .12 * hard)
    rows, columns = torch.arange(REEL_ROWS, device=x.device).float().view(1, 1, -1, 1), torch.arange(REEL_COLUMNS, device=x.device).float().view(1, 1, 1, -1)
    at = dice.uniform(0, REEL_COLUMNS, len(some), 1, 1, 1)
    thing = front.thing(dice, at, dice.uniform(0, REEL_ROWS, len(some), 1, 1, 1), 4, 60, 80)
    x[some] = front.paint(dice, bank, x[some], thing, columns, rows)
    x = camera.camera(dice, x, hard)
    return leaning(x, slope), (target(moved),)
