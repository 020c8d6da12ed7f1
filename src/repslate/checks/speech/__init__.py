"""Checks on what is said in the cut against the workout."""
