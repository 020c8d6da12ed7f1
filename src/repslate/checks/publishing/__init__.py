"""Checks on what readers get: pictures, disclosure, lengths."""
