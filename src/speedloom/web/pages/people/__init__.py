"""People of a squad: roles, invitations by link, access taken away."""
