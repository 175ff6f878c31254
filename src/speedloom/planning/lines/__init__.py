"""The lines of a session, one topic a file: what each method asks for on this day."""
