"""The Fit view: what may move, how far, and what came of it."""
