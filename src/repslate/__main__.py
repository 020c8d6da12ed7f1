"""`python -m repslate`, for those whose shell does not find the command."""

from __future__ import annotations

from repslate.cli import main

if __name__ == "__main__":
    main()
