"""`python -m plangen` does what the `plangen` command does."""

from plangen.cli.main import run

if __name__ == "__main__":
    run()
