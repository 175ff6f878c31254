"""One verb a file, pure: what the tool does for people."""
