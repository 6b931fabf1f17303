"""How Alembic runs the migrations: on the connection and transaction it is handed."""

from alembic import context

context.configure(
    connection=context.config.attributes["connection"],
    # SQLite can undo changes of tables too, now that transactions are opened by us.
    transactional_ddl=True,
)
context.run_migrations()
