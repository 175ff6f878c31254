"""The rules a programme can break, one module a topic; each check gives the findings of one rule."""
