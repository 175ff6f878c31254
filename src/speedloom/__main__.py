"""Let `python -m speedloom` do what the command `speedloom` does."""

from speedloom.cli import main

if __name__ == "__main__":
    main()
