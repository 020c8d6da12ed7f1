"""Checks on chapters against the cut and the workout."""
