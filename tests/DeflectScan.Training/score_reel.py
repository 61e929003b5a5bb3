"""score_reel.py REEL.pt FOLDER [all]: how far the front that the network says lies from where it is, in pictures held back (all: every one), and how surely."""
import sys
import numpy as np
import torch
from nets import REEL_CELLS, Reel
from reels import Reels, leaning
from lessons import held_back


def read(net, pictures, slope):
    """-> columns (mean of the cells about the likeliest one), their standard deviations, probability of a reel."""
    x = leaning(pictures.permute(0, 3, 1, 2).float().clone(), slope)
    p = torch.softmax(net((x - 127.5) / 64).float().flatten(1), 1).cpu().numpy()
    column, sd, there = [], [], 1 - p[:, -1]
    at = 4 * (np.arange(REEL_CELLS) + .5) - .5
    for row in p[:, :-1]:
        w = row / row.sum()
        m = (w * at).sum()
        column.append(m), sd.append(np.sqrt((w * (at - m) ** 2).sum()))
    return np.array(column), np.array(sd), there


if __name__ == "__main__":
    net = Reel()
    net.load_state_dict(torch.load(sys.argv[1], map_location="cpu"))
    net.eval()
    lessons = Reels(sys.argv[2], "cpu", (lambda n: True) if "all" in sys.argv else held_back)
    with torch.no_grad():
        said = [read(net, lessons.pictures[i:i + 64], lessons.slope[i:i + 64]) for i in range(0, len(lessons), 64)]
    column, sd, there = (np.concatenate(v) for v in zip(*said))
    truth = lessons.column.numpy()
    reel = truth >= 0
    seen = reel & (there > .99)
    off = np.abs(column - truth)[seen]
    print(len(lessons), "pictures,", reel.sum(), "with a reel; said of these", seen.sum(), "; of those without", (~reel & (there > .99)).sum())
    print("off, mm, 50 / 90 / 95 / 99 %:", np.percentile(off, [50, 90, 95, 99]).round(1), "mean towards the tip", (column - truth)[seen].mean().round(2))
    for k in (1, 1.5, 2, 2.5):
        print(f"within {k} sd: {(off < k * np.hypot(sd[seen], .5)).mean():.3f}", end="  ")
    print("\nsd 50 / 95 %:", np.percentile(sd[seen], [50, 95]).round(1))
    if "each" in sys.argv:
        for i in np.argsort(-np.abs(column - truth) * reel):
            print(lessons.names[i], "true", truth[i].round(1), "said", column[i].round(1), "sd", sd[i].round(1), "there", there[i].round(3), "slope", lessons.slope[i].item())
