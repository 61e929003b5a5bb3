"""Crops of straightened strips, by the batch: which lesson, which window, how it is scaled and moved, and what it then shows."""
from types import SimpleNamespace
import numpy as np
import torch
import torch.nn.functional as F
import behind
import camera
import front
import targets
import upon
from lessons import FAR, segments
from nets import AXIS_ROW, READER_HEATS, STRIP_ROWS

CROP, PICTURE = 512, "-strip.jpg"
RING, TIP, BARE, REEL = range(4)
RADIUS, LINE, HIDDEN, BLANK = range(4)                          # of truth["columns"]
FRONT_ROWS = 12                                                 # 6 mm to either side of the blank's middle
NOTED = 4                                                       # hidden stretches of a lesson that windows are laid upon


def truth(shown):
    d = shown["strip"]
    w = d["columns"]
    hidden = [h for h in d.get("hidden") or []]
    points = [(x, y, int(k)) for x, y, _, k in d["guides"]]
    blank = np.array(d.get("blank_rows") or [AXIS_ROW] * w, np.float32)
    middle = lambda x: blank[int(np.clip(round(x), 0, w - 1))]
    points += [((a + b) / 2, middle((a + b) / 2), BARE) for a, b in d["pieces"]]
    points += [(d["reel"], middle(d["reel"]), REEL)] if d["reel"] is not None else []
    line, x = np.full(w, FAR), np.arange(w)
    p = np.array(d["line"], float).reshape(-1, 2)
    if len(p) > 1:
        p = p[np.argsort(p[:, 0])]
        there = (x >= p[0, 0]) & (x <= p[-1, 0])
        line[there] = np.interp(x[there], p[:, 0], p[:, 1])
    covered = np.zeros(w)
    for a, b in hidden:
        covered[max(0, int(np.floor(a))):int(np.ceil(b)) + 1] = 1
    seen = lambda k: segments([q for q in d[k] if -60 < q[1] < 400], 12)
    at = ([(a + b) / 2 for a, b in hidden] * NOTED)[:NOTED] or [FAR] * NOTED
    return dict(points=np.array(points or [(FAR, FAR, FAR)]), columns=np.stack([d["radius_rows"], line, covered, blank]), hang=seen("hang"), cord=seen("cord"),
                hidden=np.array(at), reel=np.array(FAR if d["reel"] is None else d["reel"]), inside=np.array(float(d["inside"])), line_rows=np.array(d["line_rows"]))


def window(lessons, dice, n, plain):
    """Which lessons and what of them. Tip and reel are rare in a strip: about every seventh crop looks at each, every fifth at a ring, the rarer high ones more
    often, every tenth at something hidden."""
    index, look = dice.whole(len(lessons), n), dice.uniform(0, 1, n)
    with_hidden = getattr(lessons, "with_hidden", None)
    if with_hidden is None:
        with_hidden = lessons.with_hidden = torch.nonzero(lessons.truth["hidden"][:, 0] > FAR / 2).flatten()
    if len(with_hidden):
        index = torch.where(look > .9, with_hidden[dice.whole(len(with_hidden), n)], index)
    u = lambda a, b: dice.uniform(a, b, n)
    v = SimpleNamespace(index=index, plain=plain, fx=u(.8, 1.25), fy=u(.82, 1.22), dy=.8 * dice.normal(n))
    far = u(0, 1)                                               # a proposed axis can be some mm off: the blank is where it is seen, not in the middle
    spread = torch.where(far < .15, 6.0, torch.where(far < .4, 3.0, .6)) * (2 / 3) ** .5  # rows; three sinusoids
    v.swing, v.often, v.phase = spread[:, None] * dice.normal(n, 3), 6.2832 / dice.uniform(150, 900, n, 3), dice.uniform(0, 6.2832, n, 3)
    if plain:
        v.fx, v.fy, v.dy, v.swing = torch.ones_like(v.fx), torch.ones_like(v.fy), torch.zeros_like(v.dy), torch.zeros_like(v.swing)
    long = lessons.wide[index] * v.fx
    v.x0 = u(0, 1) * (long - CROP + 120) - 60
    v.x0 = torch.where(look < 1 / 7, long - CROP + u(-40, 60), v.x0)
    reel = lessons.truth["reel"][index]
    v.x0 = torch.where((look >= 1 / 7) & (look < 2 / 7), torch.where(reel > FAR / 2, reel * v.fx - u(20, CROP - 20), u(-60, 60)), v.x0)
    points = lessons.truth["points"][index]                     # drawn with weights, Efraimidis and Spirakis 2006 (from memory): the greatest log(u) / weight
    height = torch.where(points[..., 2].round() == RING, (points[..., 1] - AXIS_ROW).abs(), torch.zeros_like(points[..., 1]))
    drawn = (dice.uniform(1e-6, 1, *height.shape).log() / height.clamp(min=1e-6)).argmax(1, keepdim=True)
    ring = points[..., 0].gather(1, drawn).squeeze(1)
    v.x0 = torch.where((look >= 2 / 7) & (look < .49) & (height.amax(1) > 0), ring * v.fx - u(60, CROP - 60), v.x0)
    hidden = lessons.truth["hidden"][index].gather(1, dice.whole(NOTED, n, 1)).squeeze(1)
    v.x0 = torch.where((look > .9) & (hidden > FAR / 2), hidden * v.fx - u(40, CROP - 40), v.x0)
    v.x0 = v.x0.round() if plain else v.x0
    return v


def rise(v, x):
    """How far the strip is displaced at columns x (n, m) of the crop: smooth, rows."""
    return (v.swing[..., None] * torch.sin(v.often[..., None] * x[:, None] + v.phase[..., None])).sum(1)


def moved(v, p):
    """Points (n, ..., 2) of the lessons in the crops."""
    q = p.reshape(len(p), -1, 2)
    x = q[..., 0] * v.fx[:, None] - v.x0[:, None]
    y = AXIS_ROW + v.dy[:, None] + v.fy[:, None] * (q[..., 1] - AXIS_ROW) + rise(v, x)
    return torch.stack([x, y], -1).view(p.shape)


def scene(lessons, v):
    """The crops as they are, 0 to 255, with masks and places of what they show."""
    device, n = lessons.pixels.device, len(v.index)
    column, row = torch.arange(CROP, device=device).float(), torch.arange(STRIP_ROWS, device=device).float().view(1, -1, 1)
    up = rise(v, column.expand(n, -1))
    x = ((column + v.x0[:, None]) / v.fx[:, None]).unsqueeze(1)
    y = AXIS_ROW + (row - AXIS_ROW - v.dy.view(-1, 1, 1) - up.unsqueeze(1)) / v.fy.view(-1, 1, 1)
    s = SimpleNamespace(x=lessons.sample(v.index, x.expand(-1, STRIP_ROWS, -1), y))
    t = {k: u[v.index] for k, u in lessons.truth.items()}
    wide = (lessons.wide[v.index] - 1).view(-1, 1)
    x = x.squeeze(1)
    left = torch.minimum(x.floor().clamp(min=0).long(), wide)
    there = ((x >= 0) & (x <= wide)).float()
    take = lambda at: t["columns"].gather(2, at.unsqueeze(1).expand(-1, 4, -1))
    a, b = take(left), take(torch.minimum(left + 1, wide))
    known = torch.where((a[:, LINE] > FAR / 2) & (b[:, LINE] > FAR / 2), there, torch.zeros_like(there))
    c = torch.lerp(a, b, (x - left).clamp(0, 1).unsqueeze(1))
    to_row = lambda r: (AXIS_ROW + v.dy[:, None] + up + v.fy[:, None] * (r - AXIS_ROW))[:, None, None]
    s.row, s.column = row.unsqueeze(1), column.view(1, 1, 1, -1)
    s.axis, s.radius = to_row(c[:, BLANK]), (c[:, RADIUS] * v.fy[:, None] * there)[:, None, None]
    s.body = (s.radius + .5 - (s.row - s.axis).abs()).clamp(0, 1) * (s.radius > 0)
    at = to_row(c[:, LINE])
    at = torch.where(known[:, None, None] > 0, at, torch.full_like(at, FAR))
    slope = F.pad(at[..., 2:] - at[..., :-2], (1, 1)) / 2
    slope = torch.where(slope.abs() < 5, slope, torch.zeros_like(slope))  # steeper is an end of it
    s.away = (s.row - at).abs() / (1 + slope ** 2).sqrt()       # from the line, rows
    thick = (t["line_rows"] * v.fy).clamp(min=.35).view(-1, 1, 1, 1)
    s.line = targets.band(s.away, thick / 2) * thick.clamp(max=1)
    s.kind = t["points"][..., 2].round()
    s.points = moved(v, t["points"][..., :2])
    s.hidden = (c[:, HIDDEN] * there)[:, None, None]
    s.front = torch.zeros_like(s.line)
    s.cord, s.hang = (moved(v, t[k]) for k in ("cord", "hang"))
    return s, t["inside"]


def said(s):
    """Targets: heat (n, 5, 64, 128), off (n, 2, 64, 128), weight (n, 64, 128), lines (n, 4, 128, 128) below 0 where nothing is known."""
    h, w = STRIP_ROWS // 4, CROP // 4
    heat, off, weight = targets.peaks(s.points, s.kind, len(READER_HEATS) - 1, h, w)
    at = lambda v: v[..., 1::4].clone().add_(v[..., 2::4]).mul_(.5)
    stretch = torch.maximum(F.avg_pool2d(s.hidden, (1, 4)), F.avg_pool2d(on_axis(s), (1, 4))) > .5
    y = targets.cells(h, w, s.x.device)[1]
    heat = torch.cat([heat, (stretch & ((y - at(s.axis)).abs() <= FRONT_ROWS)).float()], 1)
    strokes = [targets.band(d, 1.) for d in (s.away, *(targets.fine(targets.nearest(p, h, w)) for p in (s.cord, s.hang)))]
    lines = F.avg_pool2d(torch.cat([k * (1 - s.front) for k in strokes], 1), (2, 4)) * 1.6
    body = F.avg_pool2d(s.body * (1 - torch.maximum(s.front, s.hidden)), (2, 4))
    unknown = F.avg_pool2d(s.hidden, (1, 4)).expand(-1, 3, STRIP_ROWS // 2, -1) > 0
    lines = torch.where(unknown, torch.full_like(lines, -1), lines.clamp(0, 1))
    return heat, off, weight, torch.cat([lines, body], 1)


def on_axis(s):
    """How much the blank's middle is hidden by what was put in front, by columns."""
    rows = s.axis.round().long().clamp(0, STRIP_ROWS - 1)
    return s.front.gather(2, rows)


def put_in_front(dice, bank, s, i, before=None):
    """Something that hides 8 to 200 mm of the blank; what it covers by more than half is not said."""
    n = len(i)
    x = dice.uniform(0, CROP, n, 1, 1, 1)
    axis = s.axis[i].gather(3, x.long())
    t = front.thing(dice, x, axis + 10 * dice.normal(n, 1, 1, 1), 8, 200, 90)
    hidden = front.cover(t, s.column, s.row)[0]
    s.x[i] = front.paint(dice, bank, s.x[i], t, s.column, s.row)
    s.front[i] = torch.maximum(s.front[i], hidden)
    gone = front.hidden_points(t, s.points[i], (3., 5.))
    s.kind[i] = torch.where(gone, torch.full_like(s.kind[i], FAR), s.kind[i])


def crop(lessons, dice, bank, n, hard=1.0, plain=False):
    """-> picture (n, 3, 256, 512), 0 to 255, and (heat, off, weight, lines, inside)."""
    v = window(lessons, dice, n, plain)
    s, inside = scene(lessons, v)
    if not plain:
        behind.behind(lessons, dice, bank, s, hard)
        upon.upon(dice, s, hard)
        for share in (.25, .08):
            put_in_front(dice, bank, s, dice.some(n, share * hard))
        s.x = camera.camera(dice, s.x, hard)
    return s.x, (*said(s), inside)
