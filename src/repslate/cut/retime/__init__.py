"""Chapters of an old cut found again in a new one, by the words said or by the sound."""
