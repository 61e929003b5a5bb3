"""The two networks: Reader for the straightened strip beside the blank, Finder for the whole photo. Both are small U-Nets (Ronneberger et al. 2015)."""
import torch
import torch.nn as nn
import torch.nn.functional as F

STRIP_ROWS, AXIS_ROW = 256, 79.5          # 0.5 mm a row, 1 mm a column; the axis lies between rows 79 and 80; 40 mm outside, 88 mm inside
READER_HEATS = ("ring", "tip", "bare", "reel", "front")
READER_LINES = ("line", "cord", "hang", "blank")
REEL_ROWS, REEL_COLUMNS, REEL_CELLS = 256, 384, 96                 # 1 mm a px; cells of 4 columns
FINDER_HEATS = ("blank", "handle", "tip", "butt", "cord", "front")


def conv(i, o, k=3, s=1, d=1):
    p = (d * (k[0] - 1) // 2, d * (k[1] - 1) // 2) if isinstance(k, tuple) else d * (k - 1) // 2
    dilation = (1, d) if isinstance(k, tuple) else d
    return nn.Sequential(nn.Conv2d(i, o, k, s, p, dilation=dilation, bias=False), nn.BatchNorm2d(o), nn.ReLU(inplace=True))


def up(t, factor=2):
    return F.interpolate(t, scale_factor=factor, mode="nearest")


class Reader(nn.Module):
    """In: (n, 3, 256, W), B G R, (value - 127.5) / 64, W a multiple of 16; columns of 1 mm, rows of 0.5 mm, the axis between rows 79 and 80.
    Out:
    heat (n, 7, 64, W/4), by cells of 4 x 4 px (the middle of cell c is px 4 c + 1.5):
      0 to 4  log-odds of ring contact, tip-top contact, holder without a ring, the reel's front (all hills of one cell), and of the blank being hidden by
              something in front (1 over the whole stretch, 6 mm to either side of the blank's middle)
      5, 6    the way (dx, dy) from the cell's middle to the nearest of the four kinds of points, cells
    lines (n, 4, 128, W/4), by cells of 2 rows x 4 columns: log-odds of line, cord, hanging line and of the blank's body, where they are seen
    side (n, 1, 1, W/16): log-odds of the inside, to be averaged."""

    def __init__(self):
        super().__init__()
        self.stem = nn.Sequential(nn.Conv2d(3, 16, (4, 8), (2, 4), (1, 2), bias=False), nn.BatchNorm2d(16), nn.ReLU(inplace=True))
        self.e1 = conv(16, 16)
        self.d2, self.e2 = conv(16, 32, 3, (2, 1)), conv(32, 32)
        self.d3, self.e3 = conv(32, 64, 3, 2), nn.Sequential(conv(64, 64), conv(64, 64))
        self.d4, self.e4 = conv(64, 96, 3, 2), nn.Sequential(conv(96, 96), conv(96, 96))
        self.along = nn.ModuleList([conv(96, 96, (1, 5), d=d) for d in (1, 2, 4, 8)])
        self.l3, self.l2, self.l1 = nn.Conv2d(96, 64, 1), nn.Conv2d(64, 32, 1), nn.Conv2d(32, 16, 1)
        self.u3, self.u2, self.u1 = conv(64, 64), nn.Sequential(conv(32, 32), conv(32, 32)), conv(16, 16)
        self.heat = nn.Conv2d(32, len(READER_HEATS) + 2, 1)
        self.lines = nn.Conv2d(16, len(READER_LINES), 1)
        self.side = nn.Conv2d(96, 1, (STRIP_ROWS // 16, 1))
        nn.init.constant_(self.heat.bias[:len(READER_HEATS)], -4.0)
        nn.init.constant_(self.lines.bias, -3.0)

    def forward(self, x):
        a = self.e1(self.stem(x))
        b = self.e2(self.d2(a))
        c = self.e3(self.d3(b))
        d = self.e4(self.d4(c))
        for along in self.along:
            d = d + along(d)
        c = self.u3(up(self.l3(d)) + c)
        b = self.u2(up(self.l2(c)) + b)
        a = self.u1(up(self.l1(b), (2, 1)) + a)
        return self.heat(b), self.lines(a), self.side(d)


class Finder(nn.Module):
    """In: (n, 3, H, W), B G R, (value - 127.5) / 64, both multiples of 32, 3 mm a px. Out: (n, 8, H/4, W/4), by cells of 4 x 4 px:
      0 to 5  log-odds of blank (also where it is hidden), handle, tip, butt of the bare blank, cord, and of the blank being hidden by something in front
      6, 7    the way (dx, dy) from the cell's middle to the nearest point of the blank's middle, cells"""

    def __init__(self):
        super().__init__()
        self.stem = nn.Sequential(nn.Conv2d(3, 16, 4, 2, 1, bias=False), nn.BatchNorm2d(16), nn.ReLU(inplace=True))
        self.e1 = conv(16, 16)
        self.d2, self.e2 = conv(16, 32, 3, 2), conv(32, 32)
        self.d3, self.e3 = conv(32, 64, 3, 2), nn.Sequential(conv(64, 64), conv(64, 64))
        self.d4, self.e4 = conv(64, 96, 3, 2), nn.Sequential(conv(96, 96), conv(96, 96))
        self.d5 = conv(96, 96, 3, 2)
        self.wide = nn.ModuleList([conv(96, 96, 3, d=d) for d in (1, 2, 4)])
        self.l4, self.l3, self.l2 = nn.Conv2d(96, 96, 1), nn.Conv2d(96, 64, 1), nn.Conv2d(64, 32, 1)
        self.u4, self.u3, self.u2 = conv(96, 96), conv(64, 64), conv(32, 32)
        self.heat = nn.Conv2d(32, len(FINDER_HEATS) + 2, 1)
        nn.init.constant_(self.heat.bias[:len(FINDER_HEATS)], -4.0)

    def forward(self, x):
        b = self.e2(self.d2(self.e1(self.stem(x))))
        c = self.e3(self.d3(b))
        d = self.e4(self.d4(c))
        e = self.d5(d)
        for wide in self.wide:
            e = e + wide(e)
        d = self.u4(up(self.l4(e)) + d)
        c = self.u3(up(self.l3(d)) + c)
        return self.heat(self.u2(up(self.l2(c)) + b))


class Reel(nn.Module):
    """In: (n, 3, 256, 384), B G R, (value - 127.5) / 64, columns and rows of 1 mm (ReelPicture). Out: (n, 1, 1, 97): scores of the front lying in each
    cell of 4 columns and, last, of there being no reel; their softmax is a probability."""

    def __init__(self):
        super().__init__()
        self.stem = nn.Sequential(nn.Conv2d(3, 24, 4, 2, 1, bias=False), nn.BatchNorm2d(24), nn.ReLU(inplace=True))
        self.e1 = conv(24, 24)
        self.d2, self.e2 = conv(24, 40, 3, (2, 1)), conv(40, 40)
        self.d3, self.e3 = conv(40, 64, 3, 2), nn.Sequential(conv(64, 64), conv(64, 64))
        self.d4, self.e4 = conv(64, 96, 3, (2, 1)), nn.Sequential(conv(96, 96), conv(96, 96))
        self.down = nn.Sequential(nn.Conv2d(96, 96, (16, 1), bias=False), nn.BatchNorm2d(96), nn.ReLU(inplace=True))
        self.along = nn.ModuleList([conv(96, 96, (1, 5), d=d) for d in (1, 2, 4, 8, 1)])
        self.none = nn.Conv2d(96, 1, (1, REEL_CELLS))
        self.cells = nn.Conv2d(96, 1, 1)

    def forward(self, x):
        d = self.e4(self.d4(self.e3(self.d3(self.e2(self.d2(self.e1(self.stem(x))))))))
        d = self.down(d)
        for along in self.along:
            d = d + along(d)
        return torch.cat([self.cells(d), self.none(d)], 3)


if __name__ == "__main__":
    for net, shape in ((Reader(), (1, 3, STRIP_ROWS, 1024)), (Finder(), (1, 3, 640, 800)), (Reel(), (1, 3, REEL_ROWS, REEL_COLUMNS))):
        print(type(net).__name__, sum(p.numel() for p in net.parameters()), [tuple(o.shape) for o in (lambda r: r if isinstance(r, tuple) else (r,))(net.eval()(torch.zeros(shape)))])
