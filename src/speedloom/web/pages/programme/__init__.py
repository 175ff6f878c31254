"""A programme: weave, progression table, week, check, why, changes by hand, revisions, what is handed out."""
