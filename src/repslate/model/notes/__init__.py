"""A plan as coaches type it: lines, headings and whole notes, each word either read as a figure or carried as typed.

Nothing here refuses a line. What is read is read for certain; of two readings none is taken, and the words stay.
"""
