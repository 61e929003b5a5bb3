"""What is to be said, drawn on the device by cells: hills about points, the way to the nearest point of polylines."""
import torch
import torch.nn.functional as F


def cells(h, w, device, step=4):
    """Middles of h x w cells of `step` px, px: x (1, 1, 1, w), y (1, 1, h, 1)."""
    middles = lambda n: (torch.arange(n, device=device, dtype=torch.float32) + .5) * step - .5
    return middles(w).view(1, 1, 1, w), middles(h).view(1, 1, h, 1)


def peaks(points, kind, kinds, h, w):
    """points (B, K, 2) px, kind (B, K), below 0: none -> heat (B, kinds, h, w): hills of one cell; the way to the nearest point (B, 2, h, w), cells;
    how much it counts (B, h, w)."""
    x, y = cells(h, w, points.device)
    px, py = points[..., 0, None, None], points[..., 1, None, None]
    hill = torch.exp(-.5 * (((x - px) / 4) ** 2 + ((y - py) / 4) ** 2)) * (kind >= 0)[..., None, None]
    heat = torch.stack([(hill * (kind == k)[..., None, None]).amax(1) for k in range(kinds)], 1)
    weight, which = hill.max(1, keepdim=True)
    at = lambda p: p.expand(-1, -1, h, w).gather(1, which)
    off = torch.cat([(at(px) - x) / 4, (at(py) - y) / 4], 1).clamp(-3, 3)
    return heat, off, (weight * (weight > .2)).squeeze(1)


def nearest(segments, h, w, step=4):
    """segments (B, S, 2 ends, 2) px -> the way (dx, dy) from each cell's middle to the nearest point of any, px, (B, 2, h, w). The way changes smoothly
    where the distance has a crease, so that it may be enlarged (`fine`)."""
    x, y = cells(h, w, segments.device, step)
    a, d = segments[:, :, 0], segments[:, :, 1] - segments[:, :, 0]
    ax, ay, dx, dy = (v[..., None, None] for v in (a[..., 0], a[..., 1], d[..., 0], d[..., 1]))
    qx, qy = ax - x, ay - y                                     # (B, S, 1, w), (B, S, h, 1)
    t = (-(qx * dx + qy * dy) / (dx * dx + dy * dy + 1e-9)).clamp(0, 1)
    which = ((qx + t * dx) ** 2 + (qy + t * dy) ** 2).argmin(1, keepdim=True)
    t = t.gather(1, which)
    pick = lambda v: v.squeeze(3).squeeze(2).gather(1, which.flatten(1)).view(which.shape)
    return torch.cat([pick(ax) + t * pick(dx) - x, pick(ay) + t * pick(dy) - y], 1)


def fine(way, step=4):
    """Distance at every pixel of the way by cells."""
    return F.interpolate(way, scale_factor=step, mode="bilinear", align_corners=False).square().sum(1, keepdim=True).sqrt()


def band(distance, half):
    """How much of a pixel a stroke of half the width `half` covers, px."""
    return (half + .5 - distance).clamp(0, 1)
