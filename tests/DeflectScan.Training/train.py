"""train.py reader|finder LESSONS OUT.pt SECONDS [--resume IN.pt]: trains on all lessons but every 20th number, which is held back."""
import argparse
import json
import os
import time
import numpy as np
import torch
import torch.nn.functional as F
import photos
import strips
import surfaces
from nets import Finder, Reader

a = argparse.ArgumentParser()
a.add_argument("net"), a.add_argument("lessons"), a.add_argument("out"), a.add_argument("seconds", type=float)
a.add_argument("--resume"), a.add_argument("--rate", type=float, default=3e-3), a.add_argument("--batch", type=int, default=64)
a.add_argument("--workers", type=int, default=8), a.add_argument("--seed", type=int, default=1), a.add_argument("--hard", type=float, default=1.0)
o = a.parse_args()
reader = o.net == "reader"
source = strips if reader else photos
known = set()
lessons = [x for x in source.load(o.lessons, known) if not (x["name"].isdigit() and int(x["name"]) % 20 == 0)]
textures = surfaces.bank(np.random.default_rng(5))
print(len(lessons), "lessons", flush=True)


class Crops(torch.utils.data.IterableDataset):
    def __iter__(self):
        i = torch.utils.data.get_worker_info()
        rng = np.random.default_rng([o.seed, i.id if i else 0])
        while True:
            picture, *rest = source.crop(lessons, rng, textures, o.hard)
            yield torch.from_numpy(np.ascontiguousarray(picture.transpose(2, 0, 1))), *rest


loader = torch.utils.data.DataLoader(Crops(), o.batch, num_workers=o.workers, prefetch_factor=4, worker_init_fn=lambda i: torch.set_num_threads(1), pin_memory=torch.cuda.is_available())
device = "cuda" if torch.cuda.is_available() else "cpu"
torch.manual_seed(o.seed)
net = (Reader() if reader else Finder()).to(device).to(memory_format=torch.channels_last)
if o.resume:
    net.load_state_dict(torch.load(o.resume, map_location=device))
optimiser = torch.optim.AdamW(net.parameters(), o.rate, weight_decay=1e-3)
mean = {k: v.clone().float() for k, v in net.state_dict().items()}  # the weights' running mean is what is kept


def focal(logits, target, weight=1.0):
    """Cross-entropy weighed by the miss squared, summed over cells: peaks are rare."""
    p = torch.sigmoid(logits)
    return (weight * F.binary_cross_entropy_with_logits(logits, target, reduction="none") * (target - p).abs() ** 2).sum() / logits.shape[0]


def reader_loss(batch):
    x, heat, off, weight, lines, side = batch
    h, l, s = net(x)
    h, l, s = h.float(), l.float(), s.float()
    k = heat.shape[1]
    kinds = torch.tensor([1.0, 1.0, 0.4, 1.0], device=h.device)[None, :, None, None]
    parts = dict(heat=focal(h[:, :k], heat, kinds), off=((h[:, k:] - off).abs() * weight[:, None]).sum() / (weight.sum() + 1) * 2)
    pl = torch.sigmoid(l)
    parts["lines"] = (F.binary_cross_entropy_with_logits(l, lines, reduction="none") * (.1 + (lines - pl).abs())).mean() * 10
    parts["side"] = .2 * F.binary_cross_entropy_with_logits(s.mean((1, 2, 3)), side)
    return parts


def finder_loss(batch):
    x, heat, off, weight = batch
    h = net(x).float()
    k = heat.shape[1]
    kinds = torch.tensor([1.0, 0.3, 4.0, 4.0, 0.5], device=h.device)[None, :, None, None]
    return dict(heat=focal(h[:, :k], heat, kinds) / 10, off=((h[:, k:] - off).abs() * weight[:, None]).sum() / (weight.sum() + 1))


start, steps, sums = time.time(), 0, {}
net.train()
for x, *rest in loader:
    done = (time.time() - start) / o.seconds
    if done >= 1:
        break
    for g in optimiser.param_groups:
        g["lr"] = o.rate * min(1, (steps + 1) / 200) * (.5 + .5 * np.cos(np.pi * done)) + 1e-5
    x = (x.to(device, non_blocking=True).float().to(memory_format=torch.channels_last) - 127.5) / 64
    rest = [t.to(device, non_blocking=True) for t in rest]
    with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
        parts = (reader_loss if reader else finder_loss)([x, *rest])
    loss = sum(parts.values())
    optimiser.zero_grad(set_to_none=True)
    loss.backward()
    torch.nn.utils.clip_grad_norm_(net.parameters(), 5.0)
    optimiser.step()
    steps += 1
    decay = min(.998, steps / (steps + 20))
    for k, v in net.state_dict().items():
        mean[k].mul_(decay).add_(v.float(), alpha=1 - decay)
    for k, v in parts.items():
        sums[k] = sums.get(k, 0) + v.item()
    if steps % 200 == 0:
        print(steps, f"{time.time() - start:.0f} s", {k: round(v / 200, 4) for k, v in sums.items()}, flush=True)
        sums = {}
        if steps % 1000 == 0:
            torch.save({k: v.to(net.state_dict()[k].dtype).cpu() for k, v in mean.items()}, o.out)
torch.save({k: v.to(net.state_dict()[k].dtype).cpu() for k, v in mean.items()}, o.out)
print(json.dumps(dict(net=o.net, lessons=len(lessons), steps=steps, crops=steps * o.batch, seconds=round(time.time() - start), device=torch.cuda.get_device_name() if device == "cuda" else "cpu")))
