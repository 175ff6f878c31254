"""The store: a Django app, the only database. Its rows never leave it; documents and cards do."""
