"""The API: the same store, the same permissions, JSON in and out; its page, and the keys to it."""
