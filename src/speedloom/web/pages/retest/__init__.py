"""The retest: what changed between two tests, for the squad and for each athlete."""
