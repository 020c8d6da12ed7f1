"""What the presenter says: words to figures, whom each belongs to, and a first write-up from talk alone."""
