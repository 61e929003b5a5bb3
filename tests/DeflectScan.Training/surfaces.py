"""Made-up surfaces and shadows that stand behind the rod in training: clouds, dots, joints, bars, speckle."""
import cv2
import numpy as np
import torch
import torch.nn.functional as F
import targets

HEIGHT, WIDTH = 288, 700


def bank(device, count=240):
    """(count, HEIGHT, WIDTH) surfaces of mean 0 and spread 1; the same every time."""
    rng = np.random.default_rng(5)
    return torch.from_numpy(np.stack([one(rng, i % 5) for i in range(count)])).to(device)


def one(rng, kind):
    h, w = HEIGHT, WIDTH
    t = np.zeros((h, w))
    if kind == 0:                                               # cloudy noise of a random steepness and direction
        f = np.hypot(np.fft.fftfreq(h)[:, None] * rng.uniform(.3, 3), np.fft.fftfreq(w)[None] * rng.uniform(.3, 3)) + 1 / 600
        t = np.fft.ifft2(np.fft.fft2(rng.normal(size=(h, w))) / f ** rng.uniform(.2, 1.8)).real
    elif kind == 1:                                             # dots in a grid
        p, r = rng.uniform(14, 60), rng.uniform(1.5, 6)
        for y in np.arange(-h, 2 * h, p):
            for x in np.arange(-h, w + h, p):
                cv2.circle(t, (int(x), int(y)), int(r), 1, -1, cv2.LINE_AA)
    elif kind == 2:                                             # joints: planks, bricks, tiles
        p, q = rng.uniform(20, 160, 2)
        th = int(rng.integers(1, 6))
        for j, y in enumerate(np.arange(-h, 2 * h, p)):
            cv2.line(t, (-h, int(y)), (w + h, int(y)), 1, th)
            if rng.random() < .8:
                for x in np.arange(-h, w + h, q):
                    x2 = int(x + q / 2 * (j % 2))
                    cv2.line(t, (x2, int(y)), (x2, int(y + p)), 1, th)
    elif kind == 3:                                             # bars, discs, polygons
        for _ in range(rng.integers(3, 25)):
            c, p = float(rng.normal()), rng.uniform(-50, 700, 4)
            if rng.random() < .6:
                cv2.line(t, (int(p[0]), int(p[1]) % h), (int(p[2]), int(p[3]) % h), c, int(rng.integers(1, 25)), cv2.LINE_AA)
            elif rng.random() < .5:
                cv2.ellipse(t, (int(p[0]), int(p[1]) % h), (int(rng.integers(3, 60)), int(rng.integers(3, 60))), 0, 0, 360, c, int(rng.integers(-1, 4)) or 1, cv2.LINE_AA)
            else:
                cv2.fillPoly(t, [np.stack([rng.uniform(0, w, 4), rng.uniform(0, h, 4)], 1).astype(np.int32)], c)
    else:                                                       # speckle
        t = cv2.GaussianBlur(rng.normal(size=(h, w)), (0, 0), rng.uniform(.6, 4), sigmaY=rng.uniform(.6, 4))
        t = np.sign(t - t.std()) * .5 if rng.random() < .5 else t
    if rng.random() < .8:
        m = cv2.getRotationMatrix2D((w / 2, h / 2), rng.uniform(-90, 90), rng.uniform(.8, 1.6))
        t = cv2.warpAffine(t.astype(np.float32), m, (w, h), borderMode=cv2.BORDER_REFLECT)
    t = cv2.GaussianBlur(t.astype(np.float32), (0, 0), rng.uniform(.3, 2))
    t = (t - t.mean()) / (t.std() + 1e-6)
    return np.clip(t, -3, 3).astype(np.float16)


def piece(dice, bank, n, h, w):
    """Parts of surfaces turned, mirrored and scaled, (n, 1, h, w), about -3 to 3. bank: (count, HEIGHT, WIDTH) on the device."""
    t = bank[dice.whole(len(bank), n)].unsqueeze(1).float()
    size, turn = dice.uniform(.6, 1.1, n), .25 * dice.normal(n)
    sign = lambda: 1 - 2 * dice.coin(.5, n).float()
    a, b, flip = size * turn.cos(), size * turn.sin(), sign()
    at = [dice.uniform(-.5, .5, n), dice.uniform(-.5, .5, n)]
    m = torch.stack([torch.stack([a * w / WIDTH * sign(), b * h / WIDTH, at[0]], 1), torch.stack([-b * w / HEIGHT, a * h / HEIGHT * flip, at[1]], 1)], 1)
    return F.grid_sample(t, F.affine_grid(m, (n, 1, h, w), align_corners=False), padding_mode="reflection", align_corners=False)


def shadow(dice, n, h, w, axis):
    """Shadows that rods with their guides and line throw on a wall: darkness 0 to 1, (n, 1, h, w). axis: the rod's row."""
    one, several = (n, 1), (n, 5)
    side = torch.where(dice.coin(.6, *one), -1., 1.)
    y0, slope, thick = axis + side * dice.uniform(0, 90, *one), .12 * dice.normal(*one), dice.uniform(2, 10, *one)
    f = torch.where(dice.coin(.85, *one), 1., -1.)
    x = dice.uniform(-20, w + 20, *several).sort(1)[0]
    x = torch.where(dice.coin(.7, *several), x, torch.full_like(x, -1e5))
    tall = dice.uniform(12, 75, *several)
    ry = tall * dice.uniform(.12, .35, *several)
    rx = (ry * .5 * dice.uniform(.1, 1.1, *several)).clamp(min=1)
    y, wide, lean = y0 + slope * x, dice.uniform(4, 22, *several), 5 * dice.normal(*several)
    top, end = y + f * (tall - 2 * ry), y + f * tall
    line = lambda ax, ay, bx, by: torch.stack([torch.stack([ax, ay], -1), torch.stack([bx, by], -1)], -2)
    second = torch.where(dice.coin(.6, *several), wide / 2, -wide / 2)
    thin = torch.cat([line(x - wide / 2, y, x + lean, top), line(x + second, y, x + lean, top), line((x + lean)[:, :-1], end[:, :-1], (x + lean)[:, 1:], end[:, 1:])], 1)
    soft, fine_thick = dice.uniform(1, 5, n, 1, 1, 1), dice.uniform(.5, 1.2, n, 1, 1, 1)
    dark = lambda away, half: (.5 + (half - away) / soft).clamp(0, 1)
    px, py = targets.cells(h // 2, w // 2, dice.device, 2)
    out = dark(targets.nearest(thin, h // 2, w // 2, 2).square().sum(1, keepdim=True).sqrt(), fine_thick)
    p = lambda v: v.unsqueeze(-1).unsqueeze(-1)
    ring = ((((px - p(x + lean)) / p(rx)) ** 2 + ((py - p(y + f * (tall - ry))) / p(ry)) ** 2 + 1e-6).sqrt() - 1).abs() * p(torch.minimum(rx, ry))
    rod = (py - p(y0) - p(slope) * px).abs() + 1e5 * dice.coin(.2, n, 1, 1, 1)
    out = torch.maximum(torch.maximum(out, dark(ring.amin(1, keepdim=True), fine_thick)), dark(rod, p(thick) / 2))
    return F.interpolate(out, scale_factor=2, mode="bilinear", align_corners=False)
