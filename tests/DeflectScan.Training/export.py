"""export.py reader|finder IN.pt OUT.onnx: batch normalisation folded in. OpenCV does not load a net of free width: a nominal one runs any that fits."""
import sys
import torch
from nets import STRIP_ROWS, Finder, Reader

kind, weights, out = sys.argv[1:4]
net = Reader() if kind == "reader" else Finder()
net.load_state_dict(torch.load(weights, map_location="cpu"))
net.eval()
shape = (1, 3, STRIP_ROWS, 1024) if kind == "reader" else (1, 3, 640, 800)
more = {} if tuple(int(v) for v in torch.__version__.split(".")[:2]) < (2, 5) else {"dynamo": False}  # the newer exporter writes a form that OpenCV cannot read
torch.onnx.export(net, torch.zeros(shape), out, opset_version=12, input_names=["picture"],
                  output_names=["heat", "lines", "side"] if kind == "reader" else ["heat"], **more)
