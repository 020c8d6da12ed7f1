"""Checks on sets, repetitions, rest and the shape of blocks."""
