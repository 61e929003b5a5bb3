"""Crops of small whole photos, by the batch: turned, scaled, mirrored and changed, and where blank, handle, tip, butt and cord are in them."""
import math
import numpy as np
import torch
import torch.nn.functional as F
import camera
import front
import surfaces
import targets
from lessons import FAR, segments

CROP, PICTURE = 576, "-photo.jpg"
PIECES = dict(blank=64, handle=12, cord=8)
HIDDEN, EACH = 6, 8                                             # hidden stretches of a photo, pieces of each
FRONT_CELLS = 1.5                                               # what is said of a hidden stretch reaches so far


def truth(shown):
    d = shown["photo"]
    hidden = [segments(p, EACH) for p in (d.get("hidden_px") or [])[:HIDDEN]]
    none = [np.full((EACH, 2, 2), FAR, np.float32)]
    return dict({k: segments(d[k], count) for k, count in PIECES.items()}, scale=np.array(d["mm_per_px"] / 3), hidden=np.concatenate((hidden + none * HIDDEN)[:HIDDEN]))


def window(lessons, dice, n, plain):
    """Lessons and, for each, the 2 x 3 matrix from its pixels to the crop's. Four of five crops lie upon the blank, every seventh of these upon an end
    of it, some upon what is hidden."""
    index = dice.whole(len(lessons), n)
    u = lambda a, b: dice.uniform(a, b, n)
    turn = (u(-15, 15) + torch.where(dice.coin(.25, n), 90. * (1 + dice.whole(3, n)), torch.zeros(n, device=dice.device))) * math.pi / 180
    size = lessons.truth["scale"][index] * u(.75, 1.35)
    flip = torch.where(dice.coin(.5, n), -1., 1.)
    if plain:
        turn, size, flip = torch.zeros_like(turn), torch.ones_like(size), torch.ones_like(flip)
    m = torch.stack([torch.stack([size * turn.cos() * flip, size * turn.sin()], 1), torch.stack([-size * turn.sin() * flip, size * turn.cos()], 1)], 1)
    blank = lessons.truth["blank"][index]
    which = dice.whole(PIECES["blank"], n)
    which = torch.where(dice.coin(1 / 7, n), torch.where(dice.coin(.6, n), PIECES["blank"] - 1, 0), which)
    rows = torch.arange(n, device=dice.device)
    at = blank[rows, which, 0]
    hidden = lessons.truth["hidden"][index][rows, dice.whole(HIDDEN * EACH, n), 0]
    at = torch.where((dice.coin(.3, n) & (hidden[:, 0] > FAR / 2))[:, None], hidden, at)
    anywhere = torch.stack([u(0, 1) * lessons.wide[index], u(0, 1) * lessons.high[index]], 1)
    at = torch.where(dice.coin(.8, n)[:, None], at, anywhere)
    shift = CROP / 2 + dice.uniform(-.42, .42, n, 2) * CROP - (m @ at.unsqueeze(2)).squeeze(2)
    return index, torch.cat([m, (shift.round() if plain else shift).unsqueeze(2)], 2)


def moved(m, p):
    return (p.flatten(1, 2) @ m[:, :, :2].transpose(1, 2) + m[:, None, :, 2]).view(p.shape)


def sampled(lessons, index, m, repeat):
    back = torch.linalg.inv(m[:, :, :2])
    grid = torch.arange(CROP, device=m.device).float()
    x, y = (grid.view(1, 1, -1) - m[:, 0, 2].view(-1, 1, 1)), (grid.view(1, -1, 1) - m[:, 1, 2].view(-1, 1, 1))
    b = lambda i, j: back[:, i, j].view(-1, 1, 1)
    return lessons.sample(index, b(0, 0) * x + b(0, 1) * y, b(1, 0) * x + b(1, 1) * y, repeat)


def change(dice, bank, x, keep, blank, hard):
    """Other surfaces behind, another colour of blank, bars and cords that are no blank."""
    n = len(x)
    for share in (.4, .2):
        i = dice.some(n, share * hard)
        m, one = len(i), (len(i), 1, 1, 1)
        t = surfaces.piece(dice, bank, m, CROP, CROP)
        mask, y = dice.uniform(.05, .6, *one) * (1 - keep[i]), x[i]
        new = dice.colour(m) + t * 40 * dice.normal(m, 3, 1, 1)
        x[i] = torch.where(dice.coin(.3, *one), torch.lerp(y, new, mask), y * (1 + mask * (t * dice.uniform(.1, .5, *one)).clamp(-.7, .7)))
    i = dice.some(n, .3 * hard)
    x[i] = torch.lerp(x[i], dice.colour(len(i)), targets.band(blank[i], 1.) * dice.uniform(.2, .8, len(i), 1, 1, 1))
    for share in (.35, .26, .18, .09):
        i = dice.some(n, share * hard)
        m = len(i)
        ends = dice.uniform(-100, CROP + 100, m, 2, 2)
        bow = 15 * dice.normal(m, 1, 2)                         # a parabola of four pieces
        t = torch.linspace(0, 1, 5, device=x.device).view(1, 5, 1)
        p = ends[:, :1] * (1 - t) + ends[:, 1:] * t + 4 * bow * t * (1 - t)
        away = targets.fine(targets.nearest(torch.stack([p[:, :-1], p[:, 1:]], 2), CROP // 4, CROP // 4))
        x[i] = torch.lerp(x[i], dice.colour(m), targets.band(away, dice.uniform(.5, 3.5, m, 1, 1, 1)) * (1 - keep[i]))
    return x


def put_in_front(dice, bank, x, hidden, parts, gone, i):
    """Something that hides 12 to 300 mm of the blank; tip and butt that it covers are not said."""
    rows = torch.arange(len(i), device=x.device)
    at = parts["blank"][i][rows, dice.whole(PIECES["blank"], len(i)), 0] + 3 * dice.normal(len(i), 2)
    t = front.thing(dice, at[:, 0].view(-1, 1, 1, 1), at[:, 1].view(-1, 1, 1, 1), 4, 100, 60)
    column = torch.arange(CROP, device=x.device).float()
    t["cos"], t["sin"] = (lambda a: (a.cos(), a.sin()))(dice.uniform(0, 2 * math.pi, len(i), 1, 1, 1))
    x[i] = front.paint(dice, bank, x[i], t, column.view(1, 1, 1, -1), column.view(1, 1, -1, 1))
    hidden[i] = torch.maximum(hidden[i], front.cover(t, column.view(1, 1, 1, -1), column.view(1, 1, -1, 1))[0])
    gone[i] |= front.hidden_points(t, ends(parts["blank"][i]), (2., 2.))


def ends(blank):
    """Tip and butt, (n, 2, 2): the blank runs from the butt to the tip."""
    return torch.stack([blank[:, -1, 1], blank[:, 0, 0]], 1)


def said(parts, ways, hidden, gone):
    """Targets: heat (n, 6, 144, 144), off (n, 2, 144, 144), weight (n, 144, 144)."""
    n = CROP // 4
    length = lambda v: v.square().sum(1, keepdim=True).sqrt() / 4
    hill = lambda k: torch.exp(-.5 * length(ways[k]) ** 2)
    x, y = targets.cells(n, n, hidden.device)
    p = ends(parts["blank"])[..., None, None]
    tops = torch.exp(-.5 * (((x - p[:, :, 0]) / 4) ** 2 + ((y - p[:, :, 1]) / 4) ** 2) / 1.5 ** 2) * ~gone[..., None, None]
    blank = hill("blank")
    lying = (length(ways["blank"]) < FRONT_CELLS) & (F.avg_pool2d(hidden, 4) > .5)
    marked = length(targets.nearest(parts["hidden"], n, n)) < FRONT_CELLS
    heat = torch.cat([blank, hill("handle"), tops, hill("cord"), (lying | marked).float()], 1)
    return heat, (ways["blank"] / 4).clamp(-3, 3), (blank * (blank > .2)).squeeze(1)


def crop(lessons, dice, bank, n, hard=1.0, plain=False):
    """-> picture (n, 3, 576, 576), 0 to 255, and (heat, off, weight)."""
    index, m = window(lessons, dice, n, plain)
    x = sampled(lessons, index, m, dice.coin(.5, n))
    parts = {k: moved(m, lessons.truth[k][index]) for k in (*PIECES, "hidden")}
    ways = {k: targets.nearest(parts[k], CROP // 4, CROP // 4) for k in PIECES}
    hidden, gone = torch.zeros_like(x[:, :1]), torch.zeros(n, 2, dtype=torch.bool, device=x.device)
    if not plain:
        away = {k: targets.fine(ways[k]) for k in PIECES}
        keep = torch.stack([((half + 1.5 - away[k]) / 3).clamp(0, 1) for k, half in (("blank", 4.5), ("handle", 15), ("cord", 2.5))]).amax(0)
        x = change(dice, bank, x, keep, away["blank"], hard)
        for share in (.3, .15):
            put_in_front(dice, bank, x, hidden, parts, gone, dice.some(n, share * hard))
        x = camera.camera(dice, x, hard)
    return x, said(parts, ways, hidden, gone)
