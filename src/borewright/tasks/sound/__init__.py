"""Use cases that blow a design and let it be heard."""
