"""Pictures of the reel, by the batch: which lesson, how it is scaled and moved, what is put before and behind it, and where its front then lies."""
import numpy as np
import torch
import camera
import front
import surfaces
from lessons import FAR
from nets import REEL_COLUMNS, REEL_ROWS

PICTURE = "-reel.jpg"
AXIS = 99.5
FREE = 30                                                       # px about the front that nothing is put upon


def truth(shown):
    return dict(reel=np.array(FAR if shown["reel"] is None else shown["reel"]))


def crop(lessons, dice, bank, n, hard=1.0, plain=False):
    """-> picture (n, 3, 256, 384), 0 to 255, and the front's column (n), FAR where there is no reel or it lies outside."""
    index = dice.whole(len(lessons), n)
    u = lambda a, b: dice.uniform(a, b, n)
    size, x0, y0 = torch.exp(u(-.22, .22)), u(-70, 70), 5 * dice.normal(n)
    squeeze = torch.exp(.05 * dice.normal(n))
    turned = torch.where(dice.coin(.25 * hard, n), -1., 1.)     # a reel on the other side of the rod is as likely a reel
    if plain:
        size, x0, y0, squeeze, turned = torch.ones_like(size), 0 * x0, 0 * y0, torch.ones_like(size), torch.ones_like(size)
    column, row = torch.arange(REEL_COLUMNS, device=dice.device).float(), torch.arange(REEL_ROWS, device=dice.device).float()
    v = lambda t: t.view(-1, 1, 1)
    middle = (REEL_COLUMNS - 1) / 2
    x = (column.view(1, 1, -1) - middle - v(x0)) / v(size) + middle
    y = AXIS + v(turned) * (row.view(1, -1, 1) - AXIS - v(y0)) / v(size * squeeze)
    picture = lessons.sample(index, x.expand(-1, REEL_ROWS, -1), y.expand(-1, -1, REEL_COLUMNS))
    reel = lessons.truth["reel"][index]
    at = torch.where(reel > FAR / 2, (reel - middle) * size + middle + x0, torch.full_like(reel, FAR))
    at = torch.where((at >= 0) & (at <= REEL_COLUMNS - 1), at, torch.full_like(at, FAR))
    if not plain:
        for share in (.3, .15):
            picture = put_upon(dice, bank, picture, at, dice.some(n, share * hard))
        i = dice.some(n, .3 * hard)
        haze = surfaces.piece(dice, bank, len(i), REEL_ROWS, REEL_COLUMNS) * dice.normal(len(i), 3, 1, 1) * dice.uniform(0, 30, len(i), 1, 1, 1)
        picture[i] = (picture[i] + haze).clamp(0, 255)
        picture = camera.camera(dice, picture, hard)
    return picture, (at,)


def put_upon(dice, bank, picture, at, i):
    """A bar or a blob before the rod, anywhere but about the front."""
    n = len(i)
    x = dice.uniform(0, REEL_COLUMNS, n, 1, 1, 1)
    t = front.thing(dice, x, AXIS + 60 * dice.normal(n, 1, 1, 1), 4, 90, 90)
    columns = torch.arange(REEL_COLUMNS, device=dice.device).float().view(1, 1, 1, -1)
    rows = torch.arange(REEL_ROWS, device=dice.device).float().view(1, 1, -1, 1)
    hidden = front.cover(t, columns, rows)[0]
    near = ((columns - at[i].view(-1, 1, 1, 1)).abs() < FREE).float()
    free = ((hidden * near).amax((1, 2, 3)) <= 0).nonzero().flatten()
    if len(free) == 0:
        return picture
    painted = front.paint(dice, bank, picture[i], t, columns, rows)
    picture[i[free]] = painted[free]
    return picture
