"""Outlines of parts in longitudinal section, for doors that draw by themselves."""

from borewright.documents._profile import cork_line, inner_line, outer_line

__all__ = ["cork_line", "inner_line", "outer_line"]
