"""One acoustic element a file: open ends, side holes, pads, reed and mouthpiece."""
