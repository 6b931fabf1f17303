"""Holes by a compact surrogate of their 3-D solutions; see docs/solved-holes.md.

``ranges`` says whether it covers a hole, ``level`` gives the factors of those that it covers.
"""
