"""``python -m coper``."""

from coper.cli.main import run

if __name__ == "__main__":
    run()
