"""Light, colour, lens, sensor and file, changed for whole batches: (n, 3, H, W) of 0 to 255, B G R, H and W multiples of 16."""
import math
import torch
import torch.nn.functional as F

LUMA = [[16, 11, 10, 16, 24, 40, 51, 61], [12, 12, 14, 19, 26, 58, 60, 55], [14, 13, 16, 24, 40, 57, 69, 56], [14, 17, 22, 29, 51, 87, 80, 62],
        [18, 22, 37, 56, 68, 109, 103, 77], [24, 35, 55, 64, 81, 104, 113, 92], [49, 64, 78, 87, 103, 121, 120, 101], [72, 92, 95, 98, 112, 100, 103, 99]]
CHROMA = [[17, 18, 24, 47], [18, 21, 26, 66], [24, 26, 56, 99], [47, 66, 99, 99]]  # ITU-T T.81, annex K; 99 elsewhere
ORDERS = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]]
# pairs to put in order so that the fifth of nine is the median (Paeth 1990, Devillard's form)
SORT = [(1, 2), (4, 5), (7, 8), (0, 1), (3, 4), (6, 7), (1, 2), (4, 5), (7, 8), (0, 3), (5, 8), (4, 7), (3, 6), (1, 4), (2, 5), (4, 7), (4, 2), (6, 4), (4, 2)]


def blur(x, sx, sy, reach=4):
    """Gaussian, each sample's own width (n, 1, 1, 1), px."""
    for s, dim in ((sx, 3), (sy, 2)):
        k = torch.exp(-.5 * (torch.arange(-reach, reach + 1, device=x.device) / s.clamp(min=.05)) ** 2)
        k = k / k.sum(3, keepdim=True)
        wide = F.pad(x, (reach, reach, 0, 0) if dim == 3 else (0, 0, reach, reach), mode="replicate")
        out = torch.zeros_like(x)
        for i in range(2 * reach + 1):
            out.addcmul_(wide.narrow(dim, i, x.shape[dim]), k[..., i:i + 1])
        x = out
    return x


def colours(dice, n, hard):
    """Each sample's 3 x 3 matrix and shift: channels changed about, grey, inverted."""
    eye = torch.eye(3, device=dice.device)
    order = torch.where(dice.coin(.15 * hard, n), dice.whole(6, n), torch.zeros(n, dtype=torch.long, device=dice.device))
    m = eye[torch.tensor(ORDERS, device=dice.device)[order]]
    keep = torch.where(dice.coin(.15, n, 1, 1), dice.uniform(0, .8, n, 1, 1), torch.ones(n, 1, 1, device=dice.device))
    m = (keep * eye + (1 - keep) / 3) @ m
    inverted = dice.coin(.08 * hard, n, 1, 1).float()
    return m * (1 - 2 * inverted), 255 * inverted.unsqueeze(-1)


def light(dice, x, hard):
    n, _, h, w = x.shape
    one = (n, 1, 1, 1)
    on = lambda chance, v, off=1.0: torch.where(dice.coin(chance, *one), v, torch.full_like(v, off))
    ramp = lambda m, low, high: dice.uniform(low, high, *one) + (dice.uniform(low, high, *one) - dice.uniform(low, high, *one)) * torch.linspace(0, 1, m, device=x.device)
    along, across = ramp(w, .5, 1.4).clamp(min=.3), ramp(h, .6, 1.3).clamp(min=.3).transpose(2, 3)
    gain = on(.8, dice.uniform(.6, 1.5, *one)) * torch.where(dice.coin(.8, *one), dice.uniform(.8, 1.25, n, 3, 1, 1), torch.ones(n, 3, 1, 1, device=x.device))
    x = x * (gain * on(.3, along)) * on(.3, across)
    m, shift = colours(dice, n, hard)
    x = torch.einsum("bij,bjhw->bihw", m, x) + shift
    x = 255 * (x.clamp(0, 255) / 255 + 1e-6) ** on(.5, dice.uniform(.6, 1.6, *one))
    contrast = dice.coin(.6, *one).float()
    return (x - 128) * (1 + contrast * (dice.uniform(.5, 1.4, *one) - 1)) + 128 + contrast * 12 * dice.normal(*one)


def median(x):
    """Of 3 x 3, by channel."""
    wide, (h, w) = F.pad(x, (1, 1, 1, 1), mode="replicate"), x.shape[2:]
    v = [wide[:, :, i:i + h, j:j + w] for i in range(3) for j in range(3)]
    for a, b in SORT:
        v[a], v[b] = torch.minimum(v[a], v[b]), torch.maximum(v[a], v[b])
    return v[4]


def smeared(dice, x):
    """Bilateral filter of 5 x 5."""
    wide, (h, w) = F.pad(x, (2, 2, 2, 2), mode="replicate"), x.shape[2:]
    spread = 2 * dice.uniform(10, 40, len(x), 1, 1, 1) ** 2
    total, weights = torch.zeros_like(x), torch.zeros_like(x[:, :1])
    for i in range(5):
        for j in range(5):
            v = wide[:, :, i:i + h, j:j + w]
            k = torch.exp(-((v - x) ** 2).sum(1, keepdim=True) / spread - ((i - 2) ** 2 + (j - 2) ** 2) / 8)
            total.addcmul_(v, k)
            weights += k
    return total / weights


def jpeg(dice, x, low=35, high=92):
    """Blocks of 8 x 8, colour at half the resolution, a quality of its own each (ITU-T T.81; scaled as the common library does)."""
    n, _, h, w = x.shape
    q = dice.uniform(low, high, n, 1, 1).floor()
    scale = torch.where(q < 50, 5000 / q, 200 - 2 * q) / 100
    k = torch.arange(8, device=x.device, dtype=torch.float32)
    d = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) / 2
    d[0] /= math.sqrt(2)
    b, g, r = x.unbind(1)
    y = .114 * b + .587 * g + .299 * r
    colour = F.avg_pool2d(torch.stack([.564 * (b - y), .713 * (r - y)], 1), 2)
    chroma = torch.full((8, 8), 99.0, device=x.device)
    chroma[:4, :4] = torch.tensor(CHROMA, device=x.device, dtype=torch.float32)

    def coded(v, table):
        t = (table * scale).floor().clamp(1, 255).view(n, 1, 1, 1, 8, 8)
        c = v.shape[1]
        blocks = v.reshape(n, c, v.shape[2] // 8, 8, v.shape[3] // 8, 8).transpose(3, 4)
        blocks = d.t() @ (((d @ blocks @ d.t()) / t).round() * t) @ d
        return blocks.transpose(3, 4).reshape(v.shape)

    y = coded((y - 128).unsqueeze(1), torch.tensor(LUMA, device=x.device, dtype=torch.float32)) + 128
    u, v = F.interpolate(coded(colour, chroma), scale_factor=2, mode="bilinear", align_corners=False).split(1, 1)
    b, r = y + u / .564, y + v / .713
    return torch.cat([b, (y - .114 * b - .299 * r) / .587, r], 1)


def camera(dice, x, hard=1.0):
    n, _, h, w = x.shape
    x = light(dice, x, hard)
    one = lambda i: (len(i), 1, 1, 1)
    i = dice.some(n, .5)
    x[i] = blur(x[i], dice.uniform(.2, .9, *one(i)), dice.uniform(.2, 1.5, *one(i)))
    i = dice.some(n, .3)
    soft = torch.full(one(i), 1.2, device=x.device)
    x[i] = x[i] + dice.uniform(.2, 1, *one(i)) * (x[i] - blur(x[i], soft, soft, 3))
    i = dice.some(n, .3)
    x[i] = x[i] + dice.uniform(1, 9, *one(i)) * dice.normal(len(i), 3, h, w)
    i = dice.some(n, .3)
    grain = torch.full(one(i), .7, device=x.device)
    x[i] = x[i] + 1.6 * dice.uniform(1, 9, *one(i)) * blur(dice.normal(len(i), 3, h, w), grain, grain, 2)
    x = x.clamp(0, 255)
    i = dice.some(n, .06)
    x[i] = median(x[i])
    i = dice.some(n, .06)
    x[i] = smeared(dice, x[i])
    i = dice.some(n, .4)
    x[i] = jpeg(dice, x[i])
    return x.clamp(0, 255).round()
