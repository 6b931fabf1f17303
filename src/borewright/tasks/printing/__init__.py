"""Use cases of the bench with the printer."""
