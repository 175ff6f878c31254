"""Getting in and out: sign-in, one-time links, invitations, the own account; and the health check."""
