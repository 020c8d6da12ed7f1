"""Facts to findings: one check, one file, one docstring page."""
