"""Chance for whole batches, drawn on the device, so that nothing waits for the processor."""
import numpy as np
import torch


class Dice:
    def __init__(self, device, seed=1):
        self.device, self.host = torch.device(device), np.random.default_rng(seed)
        self.device_chance = torch.Generator(device=self.device)
        self.device_chance.manual_seed(seed)

    def uniform(self, low, high, *shape):
        return torch.rand(shape, device=self.device, generator=self.device_chance) * (high - low) + low

    def normal(self, *shape):
        return torch.randn(shape, device=self.device, generator=self.device_chance)

    def coin(self, chance, *shape):
        """True with a chance of its own each."""
        return torch.rand(shape, device=self.device, generator=self.device_chance) < chance

    def whole(self, high, *shape):
        return torch.randint(high, shape, device=self.device, generator=self.device_chance)

    def colour(self, n):
        return self.uniform(0, 255, n, 3, 1, 1)

    def some(self, n, share):
        """Which of n, a share of them to one more or less, so that sizes hardly change and memory is used again; never
        none, as not every operation takes an empty batch: of very small batches more are changed."""
        count = min(n, max(1, int(share * n + self.host.random())))
        return torch.from_numpy(self.host.permutation(n)[:count]).to(self.device)
