"""train.py reader|finder|reel LESSONS OUT.pt SECONDS [--resume IN.pt]: trains on all lessons but every 20th number, which is held back."""
import argparse
import json
import math
import time
import torch
import torch.nn.functional as F
import photos
import reels
import strips
import surfaces
from dice import Dice
from lessons import Lessons, held_back
from nets import Finder, Reader, Reel

WARM_UP = 200                                                   # steps until the full rate

a = argparse.ArgumentParser()
a.add_argument("net", choices=("reader", "finder", "reel")), a.add_argument("lessons"), a.add_argument("out"), a.add_argument("seconds", type=float)
a.add_argument("--resume"), a.add_argument("--rate", type=float, default=3e-3), a.add_argument("--batch", type=int, default=128)
a.add_argument("--seed", type=int, default=1), a.add_argument("--hard", type=float, default=1.0), a.add_argument("--every", type=int, default=200)
a.add_argument("--compile", action="store_true", help="let PyTorch join the network's operations into fewer: faster once it runs, about a minute to begin")


def focal(logits, target, weight=1.0):
    """Cross-entropy weighed by the miss squared, summed over cells: peaks are rare."""
    p = torch.sigmoid(logits)
    return (weight * F.binary_cross_entropy_with_logits(logits, target, reduction="none") * (target - p).abs() ** 2).sum() / logits.shape[0]


def areas(logits, target):
    """Cross-entropy of what has an extent, its misses weighed more; below 0: not known, not counted."""
    loss = F.binary_cross_entropy_with_logits(logits, target.clamp(min=0), reduction="none") * (.1 + (target - torch.sigmoid(logits).detach()).abs())
    return (loss * (target >= 0)).mean() * 10


def towards(said, off, weight):
    return ((said - off).abs() * weight[:, None]).sum() / (weight.sum() + 1)


def reader_loss(net, x, heat, off, weight, lines, inside):
    h, l, s = (v.float() for v in net(x))
    k = heat.shape[1]
    return dict(heat=focal(h[:, :2], heat[:, :2]) + .4 * focal(h[:, 2:3], heat[:, 2:3]) + focal(h[:, 3:k - 1], heat[:, 3:k - 1]), off=2 * towards(h[:, k:], off, weight),
                lines=areas(l, lines), front=areas(h[:, k - 1], heat[:, k - 1]), side=.2 * F.binary_cross_entropy_with_logits(s.mean((1, 2, 3)), inside))


def finder_loss(net, x, heat, off, weight):
    h = net(x).float()
    k = heat.shape[1]
    kinds = torch.tensor([1.0, 0.3, 4.0, 4.0, 0.5], device=h.device)[None, :, None, None]
    return dict(heat=focal(h[:, :k - 1], heat[:, :k - 1], kinds) / 10, off=towards(h[:, k:], off, weight), front=areas(h[:, k - 1], heat[:, k - 1]))


def reel_loss(net, x, share):
    """Cross-entropy of the cell."""
    return dict(cell=-(share * F.log_softmax(net(x).float().flatten(1), 1)).sum(1).mean())


def resume(net, file):
    """Weights that fit are taken over; others (another number of outputs) begin anew."""
    old, new = torch.load(file, map_location="cpu"), net.state_dict()
    unfit = [k for k in new if k not in old or old[k].shape != new[k].shape]
    net.load_state_dict({k: new[k] if k in unfit else old[k] for k in new})
    print("begun anew:", unfit or "nothing", flush=True)


class Mean:
    """The weights' running mean is what is kept."""

    def __init__(self, net):
        self.state = net.state_dict()
        self.live = [v for v in self.state.values() if v.is_floating_point()]
        self.kept = [v.detach().clone() for v in self.live]

    def take(self, decay):
        torch._foreach_mul_(self.kept, decay)
        torch._foreach_add_(self.kept, self.live, alpha=1 - decay)

    def save(self, file):
        kept = iter(self.kept)
        torch.save({k: (next(kept) if v.is_floating_point() else v).cpu().clone() for k, v in self.state.items()}, file)


def main(o):
    device = "cuda" if torch.cuda.is_available() else "cpu"
    source, loss_of, kind = dict(reader=(strips, reader_loss, Reader), finder=(photos, finder_loss, Finder), reel=(reels, reel_loss, Reel))[o.net]
    torch.manual_seed(o.seed)
    torch.backends.cudnn.benchmark = True
    lessons = reels.Reels(o.lessons, device) if o.net == "reel" else Lessons(o.lessons, source, device, lambda name: not held_back(name))
    dice, bank = Dice(device, o.seed), surfaces.bank(device)
    print(len(lessons), "lessons", flush=True)
    net = kind()
    if o.resume:
        resume(net, o.resume)
    net = net.to(device).to(memory_format=torch.channels_last).train()
    optimiser, mean = torch.optim.AdamW(net.parameters(), o.rate, weight_decay=1e-3), Mean(net)
    quick = torch.compile(net) if o.compile else net            # the same weights
    start, steps, sums, last = time.time(), 0, {}, (time.time(), 0)
    while (done := (time.time() - start) / o.seconds) < 1:
        for g in optimiser.param_groups:
            g["lr"] = o.rate * min(1, (steps + 1) / WARM_UP) * (.5 + .5 * math.cos(math.pi * done)) + 1e-5
        with torch.no_grad():
            x, rest = source.crop(lessons, dice, bank, o.batch, o.hard)
            x = ((x - 127.5) / 64).to(memory_format=torch.channels_last)
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            parts = loss_of(quick, x, *rest)
        optimiser.zero_grad(set_to_none=True)
        sum(parts.values()).backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        optimiser.step()
        steps += 1
        mean.take(min(.998, steps / (steps + 20)))
        for k, v in parts.items():
            sums[k] = sums.get(k, 0) + v.detach()
        if steps % o.every == 0:
            said = {k: round(v.item() / o.every, 4) for k, v in sums.items()}
            now = time.time()
            print(steps, f"{now - start:.0f} s", f"{(steps - last[1]) * o.batch / (now - last[0]):.0f} crops/s", said, flush=True)
            sums, last = {}, (now, steps)
        if device == "cuda" and steps % 8 == 0:                 # the clock is to follow the device, not the queue of what is still to do
            torch.cuda.synchronize()
        if steps % 1000 == 0:
            mean.save(o.out)
    mean.save(o.out)
    spent = time.time() - start
    print(json.dumps(dict(net=o.net, lessons=len(lessons), steps=steps, crops=steps * o.batch, seconds=round(spent), crops_per_s=round(steps * o.batch / spent, 1),
                          batch=o.batch, rate=o.rate, seed=o.seed, device=torch.cuda.get_device_name() if device == "cuda" else "cpu")))


if __name__ == "__main__":
    main(a.parse_args())
