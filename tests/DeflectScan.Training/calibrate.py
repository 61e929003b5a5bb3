"""calibrate.py PLACES.npy OUT.png: from score.py's places (log-odds, ring or not; in the order of the scenes) the curve of one half tried on the other, the
tables of docs/reader.md and its figure."""
import sys
import cv2
import numpy as np

SCALE, WIDE, HIGH, LEFT, BELOW, SIDE = 3, 720, 560, 90, 480, 400
OWN, FITTED, GREY = (30, 110, 220), (150, 90, 20), (60, 60, 60)


def sigmoid(v):
    return 1 / (1 + np.exp(-np.clip(v, -40, 40)))


def curve(x, y):
    """Logistic fit (a, b) of a + b x; Firth's penalty (1993, from memory) keeps it finite."""
    f, w = np.c_[np.ones(len(x)), x], np.zeros(2)
    for _ in range(200):
        p = sigmoid(f @ w)
        v = f * (p * (1 - p))[:, None]
        inverse = np.linalg.inv(v.T @ f + 1e-6 * np.eye(2))
        w += np.clip(inverse @ f.T @ (y - p + np.einsum("ij,jk,ik->i", v, inverse, f) * (.5 - p)), -1, 1)
    return w


def wilson(share, n, t=1.96):
    middle, half = (share + t * t / 2 / n) / (1 + t * t / n), t * np.sqrt(share * (1 - share) / n + t * t / 4 / n / n) / (1 + t * t / n)
    return max(0, middle - half), min(1, middle + half)


def bins(p, y, edges):
    for a, b in zip(edges[:-1], edges[1:]):
        q = (p >= a) & (p < b)
        if q.any():
            yield a, b, int(q.sum()), int(y[q].sum()), p[q].mean()


def figure(series, y, file):
    im = np.full((HIGH * SCALE, WIDE * SCALE, 3), 255, np.uint8)
    at = lambda u, v: (int((LEFT + u * SIDE) * SCALE), int((BELOW - v * SIDE) * SCALE))
    text = lambda s, u, v, size=.5: cv2.putText(im, s, (int(u * SCALE), int(v * SCALE)), cv2.FONT_HERSHEY_DUPLEX, size * SCALE, GREY, 1, cv2.LINE_AA)
    for v in np.arange(0, 1.01, .2):
        cv2.line(im, at(v, 0), at(v, 1), (225, 225, 225), SCALE), cv2.line(im, at(0, v), at(1, v), (225, 225, 225), SCALE)
        text(f"{v:.1f}", LEFT + v * SIDE - 12, BELOW + 22), text(f"{v:.1f}", LEFT - 36, BELOW - v * SIDE + 6)
    cv2.rectangle(im, at(0, 1), at(1, 0), (120, 120, 120), SCALE), cv2.line(im, at(0, 0), at(1, 1), (150, 150, 150), SCALE, cv2.LINE_AA)
    for k, (p, edges, colour, name) in enumerate(series):
        for _, _, n, rings, mean in bins(p, y, edges):
            low, high = wilson(rings / n, n)
            x = at(mean, 0)[0] + (2 * k - 1) * 3 * SCALE
            cv2.line(im, (x, at(0, low)[1]), (x, at(0, high)[1]), colour, 2 * SCALE, cv2.LINE_AA), cv2.circle(im, (x, at(0, rings / n)[1]), 5 * SCALE, colour, -1, cv2.LINE_AA)
        cv2.circle(im, ((LEFT + 440) * SCALE, (325 + 60 * k) * SCALE), 5 * SCALE, colour, -1, cv2.LINE_AA)
        for j, words in enumerate(name):
            text(words, LEFT + 455, 330 + 60 * k + 20 * j, .42)
    text("probability said for a place", LEFT + 90, BELOW + 52), text("share of places that are a ring", LEFT - 40, 50), text("bars: 95 % (Wilson)", LEFT + 435, 450, .42)
    cv2.imwrite(file, cv2.resize(im, (WIDE, HIGH), interpolation=cv2.INTER_AREA))


places = np.load(sys.argv[1])
x, y, half = places[:, 0], places[:, 1], len(places) // 2
print("curve: log-odds = %.2f + %.2f x; of the halves" % tuple(curve(x, y)), curve(x[:half], y[:half]).round(2), curve(x[half:], y[half:]).round(2))
said = np.empty(len(x))
for fit, test in ((slice(0, half), slice(half, None)), (slice(half, None), slice(0, half))):
    a, b = curve(x[fit], y[fit])
    said[test] = sigmoid(a + b * x[test])
print("own log-odds, places, rings, said at the middle of them:")
for a, b, n, rings, mean in bins(x, y, [-6, -2, -1, 0, .25, .5, 1, 1.5, 99]):
    print(f"  {a} to {b}: {n}, {rings}, {sigmoid(np.array([1, mean]) @ curve(x, y)):.5f}")
print("said by the other half's curve, places, rings, mean:")
for a, b, n, rings, mean in bins(said, y, [0, .02, .5, .98, 1.001]):
    print(f"  {a} to {b}: {n}, {rings}, {mean:.4f}")
figure([(sigmoid(x), [0, .02, .1, .3, .5, .7, .9, 1.001], OWN, ["the network's own"]), (said, [0, .02, .5, .98, 1.001], FITTED, ["after a logistic fit", "to the other half"])], y, sys.argv[2])
