"""An athlete's own page: today, what comes, targets, results, notes; nobody else's."""
