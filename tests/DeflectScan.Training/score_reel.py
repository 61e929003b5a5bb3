"""score_reel.py REEL.pt|REEL.onnx LESSONS [all]: what the reel's network says of held-back pictures (or of all): errors against the spread that it gives itself."""
import sys
import cv2
import numpy as np
import reels
from lessons import Lessons, held_back


def said(forward, picture):
    """-> chance of none, mean and standard deviation of the front's column, px."""
    front, none = forward(((picture.astype(np.float32) - 127.5) / 64).transpose(2, 0, 1)[None])
    v = np.concatenate([front.ravel(), none.ravel()]).astype(np.float64)
    p = np.exp(v - v.max())
    p /= p.sum()
    there = p[:-1] / max(p[:-1].sum(), 1e-12)
    at = 2 * np.arange(len(there)) + .5
    mean = (there * at).sum()
    return p[-1], mean, np.sqrt((there * (at - mean) ** 2).sum())


def network(file):
    if file.endswith(".onnx"):
        net = cv2.dnn.readNetFromONNX(file)

        def forward(x):
            net.setInput(x)
            return net.forward(["front", "none"])
        return forward
    import torch
    from nets import Reel
    net = Reel()
    net.load_state_dict(torch.load(file, map_location="cpu"))
    net.eval()
    return lambda x: [v.detach().numpy() for v in net(torch.from_numpy(x))]


def main(file, folder, which=""):
    forward = network(file)
    lessons = Lessons(folder, reels, "cpu", (lambda name: True) if which == "all" else held_back)
    rows = [(lessons.names[k], float(lessons.truth["reel"][k]), *said(forward, lessons.picture(k).numpy())) for k in range(len(lessons))]
    with_reel = [r for r in rows if r[1] > 0]
    without = [r for r in rows if r[1] <= 0]
    seen = [r for r in with_reel if r[2] < .5]
    error = np.abs([r[3] - r[1] for r in seen])
    sd = np.array([r[4] for r in seen])
    print(f"{len(with_reel)} with a reel, {len(with_reel) - len(seen)} not seen; {len(without)} without, {sum(r[2] < .5 for r in without)} seen")
    print("error, mm, 50 / 90 / 95 / 99 %:", np.percentile(error, [50, 90, 95, 99]).round(2), "largest", error.max().round(1))
    for low, high in ((0, 1.5), (1.5, 2.5), (2.5, 5), (5, 10), (10, 1e3)):
        of = (sd >= low) & (sd < high)
        if of.any():
            print(f"own spread {low} to {high} mm: {of.sum()}, error 50 / 95 %: {np.percentile(error[of], [50, 95]).round(2)}, within two: {(error[of] <= 2 * sd[of]).mean():.3f}")
    for r in sorted(seen, key=lambda r: -abs(r[3] - r[1]))[:12]:
        print(*r[:1], *(round(v, 2) for v in r[1:]))


if __name__ == "__main__":
    main(*sys.argv[1:])
