"""Facts to bytes: every figure is worded in view.py, every output rendered from the view."""
