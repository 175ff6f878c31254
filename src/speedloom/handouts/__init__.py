"""What is handed out of a programme, as bytes; the clock is read here."""
