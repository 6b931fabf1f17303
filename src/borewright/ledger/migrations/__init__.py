"""Migrations of the ledger's schema, one file a revision; Alembic runs them."""
