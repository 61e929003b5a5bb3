"""What stands behind the rod in a strip: other surfaces, another rod's faint picture, shadows."""
import math
import torch
import camera
import surfaces


def boxes(dice, s, i):
    """Soft boxes from the blank to each ring, and some where none is, so that a box tells nothing: 1 inside, (n, 1, H, W)."""
    p, kind = s.points[i], s.kind[i]
    n, k = kind.shape
    high, wide = s.x.shape[2:]
    px = p[..., 0].clamp(0, wide - 1)
    axis = s.axis[i][:, 0, 0].gather(1, px.long())
    ring = ((kind == 0) | (kind == 1)).float()
    x = torch.cat([p[..., 0], dice.uniform(0, wide, n, 3)], 1)
    other = axis[:, :1] + dice.uniform(-30, 110, n, 3)
    y, ay = torch.cat([p[..., 1], other], 1), torch.cat([axis, axis[:, :1].expand(-1, 3)], 1)
    on = torch.cat([ring, dice.coin(.5, n, 3).float()], 1)
    soft = dice.uniform(2, 6, n, 1, 1)
    m = x.shape[1]
    edge = lambda v, a, b: torch.sigmoid((v - a.unsqueeze(-1)) / soft) * torch.sigmoid((b.unsqueeze(-1) - v) / soft)
    column, row = s.column.view(1, 1, -1), s.row.view(1, 1, -1)
    along = edge(column, x - dice.uniform(22, 40, n, m), x + dice.uniform(22, 40, n, m)) * on.unsqueeze(-1)
    across = edge(row, torch.minimum(y, ay) - dice.uniform(6, 14, n, m), torch.maximum(y, ay) + dice.uniform(6, 14, n, m))
    return torch.bmm(across.transpose(1, 2), along).clamp(max=1).unsqueeze(1)


def behind(lessons, dice, bank, s, hard):
    n, _, high, wide = s.x.shape
    for share in (.65, .43, .22):                               # one to three surfaces
        i = dice.some(n, share * hard)
        m, one = len(i), (len(i), 1, 1, 1)
        t = surfaces.piece(dice, bank, m, high, wide)
        full = dice.coin(.35, *one)
        keep = torch.maximum(s.body[i], (2.2 - s.away[i]).clamp(0, 1))
        mask = torch.where(full, dice.uniform(.15, 1, *one), dice.uniform(.05, .5, *one)) * (1 - keep) * (1 - boxes(dice, s, i) * (1 - dice.uniform(0, .4, *one)))
        x = s.x[i]
        new = dice.colour(m) + t * 40 * dice.normal(m, 3, 1, 1)
        s.x[i] = torch.where(full, torch.lerp(x, new, mask), x * (1 + mask * (t * dice.uniform(.1, .5, *one)).clamp(-.7, .7)))
    i = dice.some(n, .2 * hard)
    s.x[i] *= 1 - (1 - s.body[i]) * other_rod(lessons, dice, len(i), high, wide)
    i = dice.some(n, .3)
    axis = s.axis[i][:, 0, 0].mean(1, keepdim=True)
    dark = dice.uniform(.12, .6, len(i), 1, 1, 1) * surfaces.shadow(dice, len(i), high, wide, axis)
    s.x[i] *= 1 - dark * (1 - torch.maximum(s.body[i], s.line[i]))


def other_rod(lessons, dice, n, high, wide):
    """Another lesson's strip, turned, grey and blurred, off the axis: darkness 0 to 0.5."""
    index = dice.whole(len(lessons), n)
    u = lambda a, b: dice.uniform(a, b, n, 1, 1)
    turn, size = u(-35, 35) * math.pi / 180, u(.7, 1.5)
    column = torch.arange(wide, device=dice.device).view(1, 1, -1) - u(0, wide)
    row = torch.arange(high, device=dice.device).view(1, -1, 1) - 90 - torch.where(dice.coin(.5, n, 1, 1), -1., 1.) * u(40, 140)
    x = (turn.cos() * column + turn.sin() * row) / size + u(0, 1) * lessons.wide[index].view(-1, 1, 1)
    y = 90 + (turn.cos() * row - turn.sin() * column) / size
    grey = lessons.sample(index, x, y).mean(1, keepdim=True)
    soft = u(.5, 3).unsqueeze(1)
    grey = camera.blur(grey, soft, soft, 5)
    return u(.1, .5).unsqueeze(1) * (1 - grey / (grey.amax((2, 3), keepdim=True) + 1))
