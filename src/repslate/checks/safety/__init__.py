"""Checks on cautions, the safety notice and what else keeps people whole."""
