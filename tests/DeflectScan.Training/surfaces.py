"""Made-up surfaces and shadows that stand behind the rod in training: clouds, dots, joints, bars, speckle."""
import cv2
import numpy as np

HEIGHT, WIDTH = 288, 700


def bank(rng, count=240):
    return [one(rng, i % 5) for i in range(count)]


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


def piece(rng, textures, h, w):
    t = textures[rng.integers(len(textures))].astype(np.float32)
    if rng.random() < .5:
        t = t[::-1]
    if rng.random() < .5:
        t = t[:, ::-1]
    if h > t.shape[0] or w > t.shape[1]:
        t = cv2.resize(t, (max(w, t.shape[1]), max(h, t.shape[0])))
    y, x = rng.integers(t.shape[0] - h + 1), rng.integers(t.shape[1] - w + 1)
    return t[y:y + h, x:x + w]


def colour(rng):
    return rng.uniform(0, 255, 3).astype(np.float32)


def shadow(rng, h, w, axis):
    """The shadow that a rod with its guides and line throws on a wall: darkness 0 to 1."""
    m = np.zeros((h, w), np.float32)
    slope, thick = rng.normal(0, .12), rng.uniform(2, 10)
    y0 = axis + rng.choice([-1, 1], p=[.6, .4]) * rng.uniform(0, 90)
    f = rng.choice([1, -1], p=[.85, .15])
    line = lambda x: y0 + slope * x
    if rng.random() < .8:
        cv2.line(m, (-20, int(line(-20))), (w + 20, int(line(w + 20))), 1., int(max(1, thick)), cv2.LINE_AA)
    last = None
    for x in np.sort(rng.uniform(-20, w + 20, rng.integers(1, 6))):
        g = rng.uniform(12, 75)
        ry = g * rng.uniform(.12, .35)
        rx = max(1, ry * .5 * rng.uniform(.1, 1.1))
        y, wide, lean, t = line(x), rng.uniform(4, 22), rng.normal(0, 5), int(rng.integers(1, 3))
        top = y + f * (g - 2 * ry)
        cv2.line(m, (int(x - wide / 2), int(y)), (int(x + lean), int(top)), 1., t, cv2.LINE_AA)
        if rng.random() < .6:
            cv2.line(m, (int(x + wide / 2), int(y)), (int(x + lean), int(top)), 1., t, cv2.LINE_AA)
        cv2.ellipse(m, (int(x + lean), int(y + f * (g - ry))), (int(rx), int(ry)), rng.normal(0, 12), 0, 360, 1., t, cv2.LINE_AA)
        if rng.random() < .5:
            cv2.line(m, (int(x - wide / 2 - 6), int(y)), (int(x - wide / 2 + 2), int(y)), 1., int(thick * 1.3) + 1)
        end = (int(x + lean), int(y + f * g))
        if last and rng.random() < .7:
            cv2.line(m, last, end, .6, 1, cv2.LINE_AA)
        last = end
    return cv2.GaussianBlur(m, (0, 0), rng.uniform(.4, 2.2))


def camera(rng, o, hard):
    """Light, colour, lens, sensor and file."""
    h, w = o.shape[:2]
    if rng.random() < .8:
        o = o * rng.uniform(.6, 1.5) * rng.uniform(.8, 1.25, 3).astype(np.float32)
    if rng.random() < .3:
        o = o * np.linspace(rng.uniform(.5, 1.4), rng.uniform(.5, 1.4), w, dtype=np.float32)[None, :, None]
    if rng.random() < .3:
        o = o * np.linspace(rng.uniform(.6, 1.3), rng.uniform(.6, 1.3), h, dtype=np.float32)[:, None, None]
    if rng.random() < .15 * hard:
        o = o[..., rng.permutation(3)]
    if rng.random() < .15:
        g = o.mean(2, keepdims=True)
        o = g + rng.uniform(0, .8) * (o - g)
    if rng.random() < .08 * hard:
        o = 255 - o
    if rng.random() < .5:
        o = 255 * (np.clip(o, 0, 255) / 255) ** rng.uniform(.6, 1.6)
    if rng.random() < .6:
        o = (o - 128) * rng.uniform(.5, 1.4) + 128 + rng.normal(0, 12)
    if rng.random() < .5:
        o = cv2.GaussianBlur(o, (0, 0), rng.uniform(.2, .9), sigmaY=rng.uniform(.2, 1.5))
    if rng.random() < .3:
        b = cv2.GaussianBlur(o, (0, 0), 1.2)
        o = o + rng.uniform(.2, 1) * (o - b)
    if rng.random() < .6:
        n = rng.normal(0, rng.uniform(1, 9), (h, w, 3)).astype(np.float32)
        o = o + (cv2.GaussianBlur(n, (0, 0), .7) * 1.6 if rng.random() < .5 else n)
    o = np.clip(o, 0, 255).astype(np.uint8)
    if rng.random() < .12:                                      # a phone that takes noise away
        o = cv2.medianBlur(o, 3) if rng.random() < .5 else cv2.bilateralFilter(o, 5, float(rng.uniform(10, 40)), 2.)
    if rng.random() < .4:
        o = cv2.imdecode(cv2.imencode(".jpg", o, [cv2.IMWRITE_JPEG_QUALITY, int(rng.integers(35, 92))])[1], 1)
    return o
