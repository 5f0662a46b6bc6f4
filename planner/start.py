"""Where the command begins, before anything is loaded."""

from planner.stopping import AtOnce


def main() -> None:
    """Load the command line and run it."""
    with AtOnce():
        from planner.cli import main as command
    command()
