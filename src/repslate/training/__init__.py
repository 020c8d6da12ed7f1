"""Episode to numbers: how long, how much, how heavy, what may hurt. Pure functions; rounding waits for view.py."""
