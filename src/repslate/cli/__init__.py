"""Thin commands over the pipeline."""


def main() -> None:
    """Run the command line."""
