"""The rod in a strip changed: other colours of blank and line, a line that is hardly seen, holders without a guide, bars that cross behind or are thin."""
import torch
import camera


def gap(s, i, x):
    """How far columns x (n, 1, 1, 1) are from the nearest ring."""
    ring = (s.kind[i] == 0) | (s.kind[i] == 1)
    away = (s.points[i][..., 0] - x.view(-1, 1)).abs()
    return torch.where(ring, away, torch.full_like(away, 1e4)).amin(1).view(-1, 1, 1, 1)


def upon(dice, s, hard):
    n, _, high, wide = s.x.shape
    recolour_blank(dice, s, dice.some(n, .35 * hard))
    i = dice.some(n, .3 * hard)
    s.x[i] = torch.lerp(s.x[i], dice.colour(len(i)), s.line[i] * dice.uniform(.2, 1, len(i), 1, 1, 1))
    fade_line(dice, s, dice.some(n, .14 * hard))
    for share in (.12, .08, .04):
        bare_holder(dice, s, dice.some(n, share * hard))
    for share in (.24, .12):
        bar(dice, s, dice.some(n, share * hard))


def recolour_blank(dice, s, i):
    x, m = s.x[i], len(i)
    one = (m, 1, 1, 1)
    other = (x * dice.uniform(.3, 1.8, m, 3, 1, 1) + 25 * dice.normal(m, 3, 1, 1)).clamp(0, 255)
    tinted = torch.lerp(x, dice.colour(m), dice.uniform(.2, .7, *one))
    s.x[i] = torch.lerp(x, torch.where(dice.coin(.4, *one), tinted, other), s.body[i])


def fade_line(dice, s, i):
    """The line takes the colours of what is above and below it."""
    x, line = s.x[i], s.line[i]
    soft = torch.full((len(i), 1, 1, 1), .8, device=x.device)
    mask = (1.6 * camera.blur(line, soft, soft, 3)).clamp(0, 1) * dice.uniform(.5, 1, len(i), 1, 1, 1)
    s.x[i] = torch.lerp(x, .5 * (x.roll(4, 2) + x.roll(-4, 2)), mask)


def bare_holder(dice, s, i):
    """A band about the blank that holds no guide, off the guides; it is not said either: what holds nothing need not be found."""
    m = len(i)
    one = (m, 1, 1, 1)
    x = dice.uniform(0, s.x.shape[3], *one)
    mask = (dice.uniform(1.5, 7, *one) + .5 - (s.column - x).abs()).clamp(0, 1) * (s.radius[i] * dice.uniform(1.05, 1.4, *one) + .5 - (s.row - s.axis[i]).abs()).clamp(0, 1)
    s.x[i] = torch.lerp(s.x[i], dice.colour(m), mask * (s.radius[i] > 0) * (gap(s, i, x) > 30))


def bar(dice, s, i):
    """A bar across, behind the rod; every tenth in front, then no wider than 6 mm: such hides nothing."""
    m = len(i)
    one = (m, 1, 1, 1)
    x, slope, wide = dice.uniform(-40, s.x.shape[3] + 40, *one), .5 * dice.normal(*one), dice.uniform(1, 14, *one)
    ahead = dice.coin(.1, *one)
    free = gap(s, i, x) > torch.where(ahead, 30 + 120 * slope.abs(), 25 + 60 * slope.abs())
    away = (s.column - x - slope * (s.row - s.axis[i].mean(3, keepdim=True))).abs() / (1 + slope ** 2).sqrt()
    mask = (torch.where(ahead, wide.clamp(max=6), wide) / 2 + .5 - away).clamp(0, 1)
    mask = torch.where(ahead, mask, mask * (1 - s.body[i]) * (1 - s.line[i]))
    s.x[i] = torch.lerp(s.x[i], dice.colour(m), mask * free * dice.uniform(.4, 1, *one))
