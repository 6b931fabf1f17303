"""Use cases with many instruments at once: what a batch will be like."""
