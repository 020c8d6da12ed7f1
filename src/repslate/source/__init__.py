"""Text to a tree with positions. Imports nothing of ours, so that every later stage can point at a line."""
