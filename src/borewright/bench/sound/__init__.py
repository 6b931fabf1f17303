"""The Sound view: character of every note, two instruments compared, what the bore does."""
