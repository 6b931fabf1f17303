"""Use cases of the play test."""
