"""The session on the field: written live, typed in from paper, or sent later from a phone's queue."""
