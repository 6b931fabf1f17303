"""Use cases about bores, barrels and bells."""
