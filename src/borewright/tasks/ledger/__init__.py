"""Use cases of the workshop's ledger: opening it, keeping files, costing, printing papers."""
