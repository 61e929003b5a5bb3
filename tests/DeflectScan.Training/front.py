"""Things in front of the rod: bands and blobs of any colour that hide it."""
import math
import torch
import surfaces


def thing(dice, x, y, least, most, tall):
    """A thing about (x, y), each (n, 1, 1, 1), px, `least` to `most` px wide: half of them bands without an end, the others blobs up to `tall` px high."""
    n = len(x)
    one = (n, 1, 1, 1)
    half = .5 * torch.exp(dice.uniform(math.log(least), math.log(most), *one))
    high = torch.where(dice.coin(.5, *one), torch.full(one, 1e4, device=x.device), dice.uniform(.25, 1, *one) * tall)
    lean = .35 * dice.normal(*one)
    return dict(x=x, y=y, half=half, high=high, cos=lean.cos(), sin=lean.sin(), round=dice.uniform(2, 8, *one), soft=dice.uniform(.7, 4, *one),
                wave=half * dice.uniform(0, .3, *one), often=dice.uniform(.02, .2, *one), phase=dice.uniform(0, 6.3, *one))


def cover(t, x, y):
    """How much of the places x, y (4 dimensions, n first) is hidden, and how far they are across it, -1 to 1."""
    dx, dy = x - t["x"], y - t["y"]
    u, v = dx * t["cos"] + dy * t["sin"], dy * t["cos"] - dx * t["sin"]
    u = u + t["wave"] * torch.sin(v * t["often"] + t["phase"])
    a, b = u / t["half"], v / t["high"]
    away = ((a.abs() + 1e-4) ** t["round"] + (b.abs() + 1e-4) ** t["round"]) ** (1 / t["round"]) - 1
    return (.5 - away * torch.minimum(t["half"], t["high"]) / t["soft"]).clamp(0, 1), a.clamp(-1, 1)


def paint(dice, bank, picture, t, x, y):
    """The thing painted upon the picture (n, 3, H, W); its surface shaded as a round or a flat one. A third have the colour of what stands behind."""
    n, _, h, w = picture.shape
    hidden, across = cover(t, x, y)
    own = torch.where(dice.coin(.3, n, 1, 1, 1), picture[:, :, ::8, ::8].mean((2, 3), keepdim=True), dice.colour(n))
    shade = (1 - dice.uniform(0, .8, n, 1, 1, 1) * (across - dice.uniform(-.6, .6, n, 1, 1, 1)) ** 2).clamp(min=.15)
    surface = own * shade + surfaces.piece(dice, bank, n, h, w) * dice.normal(n, 3, 1, 1) * dice.uniform(0, 35, n, 1, 1, 1)
    return torch.lerp(picture, surface.clamp(0, 255), hidden)


def hidden_points(t, points, reach):
    """Which of points (n, K, 2) are hidden by more than half, a cross of `reach` (x, y) px about each being asked."""
    x, y = points[:, None, None, :, 0], points[:, None, None, :, 1]
    steps = torch.tensor([[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]], device=points.device, dtype=points.dtype) * torch.tensor(reach, device=points.device)
    return cover(t, x + steps[:, 0].view(1, 5, 1, 1), y + steps[:, 1].view(1, 5, 1, 1))[0].mean((1, 2)) > .5
