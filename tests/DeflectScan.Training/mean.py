"""mean.py OUT.pt A.pt B.pt ...: the mean of several trainings' weights, each gone on from the one before (Wortsman et al. 2022, from memory)."""
import sys
import torch

of = [torch.load(f, map_location="cpu") for f in sys.argv[2:]]
torch.save({k: sum(w[k] for w in of) / len(of) if of[0][k].is_floating_point() else of[0][k] for k in of[0]}, sys.argv[1])
