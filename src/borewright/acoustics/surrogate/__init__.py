"""Holes by a compact surrogate of their 3-D solutions; see docs/solved-holes.md."""
