"""export.py reader|finder|reel IN.pt OUT.onnx: batch normalisation folded in. OpenCV does not load a net of free width: a nominal one runs any that fits."""
import sys
import torch
from nets import REEL_COLUMNS, REEL_ROWS, STRIP_ROWS, Finder, Reader, Reel

kind, weights, out = sys.argv[1:4]
net = dict(reader=Reader, finder=Finder, reel=Reel)[kind]()
net.load_state_dict(torch.load(weights, map_location="cpu"))
net.eval()
shape = (1, 3, *dict(reader=(STRIP_ROWS, 1024), finder=(640, 800), reel=(REEL_ROWS, REEL_COLUMNS))[kind])
more = {} if tuple(int(v) for v in torch.__version__.split(".")[:2]) < (2, 5) else {"dynamo": False}  # the newer exporter writes a form that OpenCV cannot read
torch.onnx.export(net, torch.zeros(shape), out, opset_version=12, input_names=["picture"],
                  output_names=dict(reader=["heat", "lines", "side"], finder=["heat"], reel=["front"])[kind], **more)
