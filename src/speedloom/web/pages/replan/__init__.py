"""Planning again: what is news, what it would change, and accepting it."""
